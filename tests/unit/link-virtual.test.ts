// The virtual bench: its bytes are real bench lines, its turner finds the true bore and brings the spigot to its target.
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import type { LineEvent } from '../../src/core/bench/event.ts';
import { addReading, startCapture } from '../../src/core/measure/capture.ts';
import { defaultSettings } from '../../src/core/measure/capture-settings.ts';
import { verdictOf } from '../../src/core/measure/verdict.ts';
import { millis, mm } from '../../src/core/units.ts';
import { VirtualBench, type VirtualSettings } from '../../src/link/virtual/bench.ts';
import type { Activity } from '../../src/link/virtual/hand.ts';
import { createVirtualLink } from '../../src/link/virtual-link.ts';
import { Watch } from '../../src/wire/watch.ts';

/** A bench read through decoding and watch, as a real one is. */
function heardBench(settings: VirtualSettings) {
  const bench = new VirtualBench(settings);
  const watch = new Watch();
  let followed: Activity | undefined;
  const during = (activity: Activity, seconds: number): LineEvent[] => {
    const events: LineEvent[] = [];
    if (activity !== followed) bench.follow(activity);
    followed = activity;
    for (const sent of bench.advance(seconds * 1000))
      watch.push(sent.line, sent.at, (event) => events.push(event));
    return events;
  };
  return { bench, during };
}

const readings = (events: readonly LineEvent[]): number[] =>
  events.flatMap((event) => (event.kind === 'reading-received' ? [event.reading.value] : []));
const totals = (events: readonly LineEvent[]): number[] =>
  events.flatMap((event) => (event.kind === 'feed-counted' ? [event.total] : []));
const kinds = (events: readonly LineEvent[]): string[] => events.map((event) => event.kind);

/** What a capture makes of fifteen seconds of rocking in the bore, over its true size; far off where it isn't steady. */
function missBy({ bench, during }: ReturnType<typeof heardBench>): number {
  let capture = startCapture(defaultSettings('bore'));
  for (const event of during({ doing: 'rock-bore' }, 15))
    if (event.kind === 'reading-received') capture = addReading(capture, event.reading);
  const verdict = verdictOf(capture);
  return verdict.state === 'steady' ? verdict.diameter - bench.truth().bore : Number.NaN;
}

test('the same seed, activities and time give the same lines, however the time is split; another seed does not', () => {
  const bytes = (seed: number, cut: number): string => {
    const bench = new VirtualBench({ seed });
    bench.follow({ doing: 'rock-bore' });
    const sent = Array.from({ length: 12_000 / cut }, () => bench.advance(cut)).flat();
    return sent.map(({ at, line }) => `${at} ${line}`).join('\n');
  };
  expect(bytes(7, 1)).toBe(bytes(7, 12_000));
  expect(bytes(7, 25)).toBe(bytes(7, 12_000));
  expect(bytes(8, 25)).not.toBe(bytes(7, 25));
});

test('it introduces itself, and sends eight readings and one feed total a second', () => {
  const { during } = heardBench({ seed: 1, noise: false });
  const events = during({ doing: 'rest' }, 10);
  expect(events.find((event) => event.kind === 'board-found')).toMatchObject({
    facts: { board: 'virtual-1', parts: ['caliper', 'feed', 'button'] },
  });
  expect(readings(events).length).toBeGreaterThanOrEqual(78);
  expect(readings(events).length).toBeLessThanOrEqual(82);
  expect(totals(events)).toEqual(Array.from({ length: 10 }, () => 0));
});

test('some lines are damaged or lost, and counted; without noise all arrive', () => {
  const noisy = kinds(heardBench({ seed: 3 }).during({ doing: 'rest' }, 600));
  const damaged = noisy.filter((kind) => kind === 'line-discarded').length;
  const lost = noisy.filter((kind) => kind === 'lines-lost').length;
  expect(damaged).toBeGreaterThan(5);
  expect(lost).toBeGreaterThanOrEqual(damaged);
  const clean = kinds(heardBench({ seed: 3, noise: false }).during({ doing: 'rest' }, 600));
  expect(clean).not.toContain('line-discarded');
  expect(clean).not.toContain('lines-lost');
});

test('closed jaws show the zero error, give or take one step', () => {
  const { bench, during } = heardBench({ seed: 4, zeroError: mm(0.02) });
  during({ doing: 'close-jaws' }, 2);
  const heard = readings(during({ doing: 'close-jaws' }, 4));
  expect(heard.length).toBeGreaterThan(10);
  for (const value of heard) expect(Math.abs(value - 0.02)).toBeLessThan(0.0101);
  expect(bench.truth().zeroError).toBe(0.02);
});

describe('rocking', () => {
  test.each([11, 12, 13, 14, 15, 16, 17, 18])('seed %i: the capture agrees on the true bore', (seed) => {
    expect(Math.abs(missBy(heardBench({ seed, zeroError: mm(0) })))).toBeLessThan(0.03);
  });

  test('the hollow is wider at its mouth', () => {
    const { during } = heardBench({ seed: 5, noise: false, zeroError: mm(0) });
    const mouth = Math.max(...readings(during({ doing: 'measure-hollow', where: 'mouth' }, 12)));
    const depth = Math.max(...readings(during({ doing: 'measure-hollow', where: 'depth' }, 12)));
    expect(mouth).toBeGreaterThan(depth);
  });
});

describe('cutting a spigot', () => {
  test.each([21, 22, 23, 24, 25, 26])('seed %i: comes down in passes and stops at the target', (seed) => {
    const { bench, during } = heardBench({ seed });
    const sizes: number[] = [];
    const cutting: Activity = { doing: 'cut-spigot', target: mm(43.4) };
    for (let second = 0; second < 90; second++) {
      during(cutting, 1);
      const now = bench.truth().spigot;
      if (now !== null && now !== sizes.at(-1)) sizes.push(now);
    }
    expect(sizes.length).toBeGreaterThanOrEqual(3);
    expect(sizes).toEqual([...sizes].sort((a, b) => b - a));
    expect(sizes.at(-1)).toBeGreaterThanOrEqual(43.4);
    expect(sizes.at(-1)).toBeLessThanOrEqual(43.43);
    const settled = readings(during(cutting, 6));
    const smallest = Math.min(...settled) - bench.truth().zeroError;
    expect(Math.abs(smallest - (sizes.at(-1) ?? 0))).toBeLessThan(0.02);
  });
});

test('the feed wheel goes in by the detents asked for, and back by as many', () => {
  const { during } = heardBench({ seed: 6 });
  const touched = totals(during({ doing: 'touch-off', part: 'female' }, 12)).at(-1) ?? 0;
  expect(touched).toBeGreaterThanOrEqual(5);
  expect(totals(during({ doing: 'feed-in', part: 'female', detents: 4 }, 10)).at(-1)).toBe(touched + 4);
  expect(totals(during({ doing: 'feed-in', part: 'female', detents: -4 }, 10)).at(-1)).toBe(touched);
});

test('an activity that ends while the wheel turns leaves the wheel where it is', () => {
  const { during } = heardBench({ seed: 6 });
  during({ doing: 'feed-in', part: 'female', detents: 100 }, 5);
  const left = totals(during({ doing: 'rest' }, 5));
  expect(new Set(left).size).toBe(1);
});

test('a button goes down and up; a question is answered', () => {
  const { bench, during } = heardBench({ seed: 6 });
  during({ doing: 'rest' }, 1);
  bench.press(2);
  bench.ask();
  const events = during({ doing: 'rest' }, 1);
  const edges = events.filter((event) => event.kind === 'button-changed');
  expect(edges).toMatchObject([
    { button: 2, down: true },
    { button: 2, down: false },
  ]);
  expect(kinds(events)).toContain('board-found');
});

test('the wood follows from the seed alone, however long the turner waits for it', () => {
  const boreAfter = (milliseconds: number): number => {
    const bench = new VirtualBench({ seed: 7 });
    bench.advance(milliseconds);
    bench.newBlank();
    return bench.truth().bore;
  };
  expect(boreAfter(60_000)).toBe(boreAfter(0));
});

test('a groove is as deep as its detents, but for the error of its touch-off; feeding without one cuts nothing', () => {
  for (const seed of [31, 32, 33, 34]) {
    const { bench, during } = heardBench({ seed });
    during({ doing: 'touch-off', part: 'male' }, 12);
    during({ doing: 'feed-in', part: 'male', detents: 5 }, 12);
    const { depth } = bench.truth();
    expect(Math.abs(depth.male - 1)).toBeLessThanOrEqual(0.03);
    expect(depth.male).not.toBe(1);
    expect(depth.female).toBe(0);
    during({ doing: 'feed-in', part: 'female', detents: 5 }, 12);
    expect(bench.truth().depth.female).toBe(0);
  }
});

describe('made to go wrong', () => {
  test('a chip under a jaw makes a steady bore read small, until the turner does something else', () => {
    const clean = { seed: 12, zeroError: mm(0), noise: false };
    const chipped = heardBench(clean);
    chipped.bench.catchChip();
    expect(missBy(chipped)).toBeCloseTo(-0.2, 1);
    const wiped = heardBench(clean);
    wiped.bench.catchChip();
    wiped.bench.follow({ doing: 'rest' });
    expect(Math.abs(missBy(wiped))).toBeLessThan(0.02);
  });

  test('damaged lines fail their checksum, and the line recovers', () => {
    const { bench, during } = heardBench({ seed: 12, noise: false });
    during({ doing: 'rest' }, 1);
    bench.damageLines();
    const heard = kinds(during({ doing: 'rest' }, 5)).filter((kind) => kind !== 'feed-counted');
    const damaged = heard.filter((kind) => kind === 'line-discarded');
    expect(damaged).toHaveLength(12);
    expect(heard.slice(heard.lastIndexOf('line-discarded') + 1)).toContain('reading-received');
  });

  test('a whipped handle overruns the count', () => {
    const { bench, during } = heardBench({ seed: 12 });
    during({ doing: 'rest' }, 1);
    bench.loseCount();
    expect(kinds(during({ doing: 'rest' }, 1))).toContain('feed-overran');
  });

  test('a swollen spigot is larger; wood that is not there does not swell', () => {
    const { bench, during } = heardBench({ seed: 12 });
    bench.swell(mm(0.1));
    expect(bench.truth().spigot).toBeNull();
    during({ doing: 'cut-spigot', target: mm(43.4) }, 90);
    const before = bench.truth().spigot ?? 0;
    bench.swell(mm(0.1));
    expect((bench.truth().spigot ?? 0) - before).toBeCloseTo(0.1, 9);
  });
});

test('who tries a pair presses the second button, and stops when they do something else', () => {
  const { during } = heardBench({ seed: 6 });
  const pressed = (events: readonly LineEvent[]): number[] =>
    events.flatMap((event) => (event.kind === 'button-changed' && event.down ? [event.button] : []));
  expect(pressed(during({ doing: 'trial', presses: 3 }, 12))).toEqual([2, 2, 2]);
  const left = heardBench({ seed: 6 });
  left.during({ doing: 'trial', presses: 3 }, 3);
  expect(pressed(left.during({ doing: 'rest' }, 12))).toEqual([]);
});

describe('jaws sent by key', () => {
  const byKey: Activity = { doing: 'rock-by-key' };
  const rockedByKey = () => {
    const { bench, during } = heardBench({ seed: 12, zeroError: mm(0), noise: false });
    const nudges = (way: 1 | -1): void => {
      for (let press = 0; press < 12; press++) bench.nudge(way);
    };
    return { nudges, shownIn: (seconds: number) => readings(during(byKey, seconds)), ...bench.truth() };
  };

  test('read the bore as they pass its widest place, and never more', () => {
    const { nudges, shownIn, bore } = rockedByKey();
    shownIn(2);
    const shown = ([1, -1, 1, -1] as const).flatMap((way) => {
      nudges(way);
      return shownIn(3);
    });
    expect(Math.abs(Math.max(...shown) - bore)).toBeLessThan(0.015);
    expect(shown.at(-1)).toBeLessThan(bore - 0.2);
  });

  test('are sent past the widest place of another ring that they are still being put into', () => {
    const { nudges, shownIn, bore } = rockedByKey();
    shownIn(0);
    nudges(1);
    shownIn(0.8);
    const shown = shownIn(5);
    expect(Math.max(...shown)).toBeGreaterThan(bore - 0.03);
    expect(shown.at(-1)).toBeLessThan(bore - 0.2);
  });
});

describe('as a link', () => {
  /** A link on a clock that the test turns, with the times of the lines it sent. */
  function linked() {
    const times: number[] = [];
    const link = createVirtualLink({ seed: 1, noise: false }, () => millis(Date.now()));
    link.open({ line: (_, at) => times.push(at), event: () => undefined });
    return { link, times };
  }
  beforeEach(() => void vi.useFakeTimers({ now: 1000 }));
  afterEach(() => void vi.useRealTimers());

  test('its time can be stopped, slowed and hurried, and no line is lost or doubled by it', async () => {
    const { link, times } = linked();
    const sentIn = (milliseconds: number, pace: number): number => {
      link.setPace(pace);
      const before = times.length;
      vi.advanceTimersByTime(milliseconds);
      return times.length - before;
    };
    expect(sentIn(4000, 1)).toBeGreaterThan(30);
    expect(sentIn(4000, 0)).toBe(0);
    expect(link.now()).toBe(5000);
    const slow = sentIn(8000, 0.5);
    const fast = sentIn(1000, 4);
    expect(Math.abs(slow - fast)).toBeLessThanOrEqual(2);
    expect(link.now()).toBe(13_000);
    await link.close();

    const straight = linked();
    vi.advanceTimersByTime(12_000);
    const from = straight.times[0] ?? 0;
    expect(straight.times.map((at) => at - from)).toEqual(times.map((at) => at - (times[0] ?? 0)));
    await straight.link.close();
  });
});

test('inches are shown in steps of half a thousandth', () => {
  const { during } = heardBench({ seed: 9, unit: 'in', bore: mm(42.3), noise: false });
  const events = during({ doing: 'rock-bore' }, 6);
  const shown = events.flatMap((event) => (event.kind === 'reading-received' ? [event.reading.text] : []));
  expect(shown.length).toBeGreaterThan(40);
  for (const text of shown) expect(text).toMatch(/^\d\.\d{3}[05]$/);
});

test('a target for a larger box, or a new blank, starts a new spigot', () => {
  const { bench, during } = heardBench({ seed: 27 });
  during({ doing: 'cut-spigot', target: mm(43.4) }, 90);
  during({ doing: 'cut-spigot', target: mm(50) }, 90);
  expect(bench.truth().spigot).toBeGreaterThanOrEqual(50);
  const { bore } = bench.truth();
  bench.newBlank();
  expect(bench.truth().spigot).toBeNull();
  expect(bench.truth().bore).not.toBe(bore);
});
