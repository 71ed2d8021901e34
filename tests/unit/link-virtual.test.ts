// The virtual bench: its bytes are real bench lines, its turner finds the true bore and brings the spigot to its target.
import { describe, expect, test } from 'vitest';
import type { LineEvent } from '../../src/core/bench/event.ts';
import { addReading, startCapture } from '../../src/core/measure/capture.ts';
import { defaultSettings } from '../../src/core/measure/capture-settings.ts';
import { verdictOf } from '../../src/core/measure/verdict.ts';
import { millis, mm } from '../../src/core/units.ts';
import { createVirtualBench, type VirtualSettings } from '../../src/link/virtual/bench.ts';
import type { Activity } from '../../src/link/virtual/hand.ts';
import { createWatch } from '../../src/wire/watch.ts';

/** A bench read through decoding and watch, as a real one is. */
function heardBench(settings: VirtualSettings) {
  const bench = createVirtualBench(settings);
  const watch = createWatch();
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

test('the same seed, activities and time give the same lines, however the time is split; another seed does not', () => {
  const bytes = (seed: number, cut: number): string => {
    const bench = createVirtualBench({ seed });
    bench.follow({ doing: 'rock-bore' });
    let all = '';
    for (let passed = 0; passed < 12_000; passed += cut)
      all += bench
        .advance(cut)
        .map(({ at, line }) => `${at} ${line}\n`)
        .join('');
    return all;
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
  for (const value of readings(during({ doing: 'close-jaws' }, 4)))
    expect(Math.abs(value - 0.02)).toBeLessThan(0.0101);
  expect(bench.truth().zeroError).toBe(0.02);
});

describe('rocking', () => {
  test.each([11, 12, 13, 14, 15, 16, 17, 18])('seed %i: the capture agrees on the true bore', (seed) => {
    const { bench, during } = heardBench({ seed, zeroError: mm(0) });
    let capture = startCapture(defaultSettings('bore'));
    for (const event of during({ doing: 'rock-bore' }, 15))
      if (event.kind === 'reading-received') capture = addReading(capture, event.reading);
    const verdict = verdictOf(capture);
    expect(verdict.state).toBe('steady');
    if (verdict.state === 'steady')
      expect(Math.abs(verdict.diameter - bench.truth().bore)).toBeLessThan(0.03);
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
      if (now !== undefined && now !== sizes.at(-1)) sizes.push(now);
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
  const touched = totals(during({ doing: 'touch-off' }, 12)).at(-1) ?? 0;
  expect(touched).toBeGreaterThanOrEqual(5);
  expect(totals(during({ doing: 'feed-in', detents: 4 }, 10)).at(-1)).toBe(touched + 4);
  expect(totals(during({ doing: 'feed-in', detents: -4 }, 10)).at(-1)).toBe(touched);
});

test('an activity that ends while the wheel turns leaves the wheel where it is', () => {
  const { during } = heardBench({ seed: 6 });
  during({ doing: 'feed-in', detents: 100 }, 5);
  const left = totals(during({ doing: 'rest' }, 5));
  expect(new Set(left).size).toBe(1);
});

test('a button goes down and up; a question is answered', () => {
  const { bench, during } = heardBench({ seed: 6 });
  during({ doing: 'rest' }, 1);
  bench.press(2);
  bench.ask();
  const events = during({ doing: 'rest' }, 1);
  const edges = events.flatMap((event) =>
    event.kind === 'button-changed' ? [[event.button, event.down]] : [],
  );
  expect(edges).toEqual([
    [2, true],
    [2, false],
  ]);
  expect(kinds(events)).toContain('board-found');
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
  expect(bench.truth().spigot).toBeUndefined();
  expect(bench.truth().bore).not.toBe(bore);
});

test('time may stand still', () => {
  const bench = createVirtualBench({ seed: 1 });
  expect(bench.advance(0)).toEqual([]);
  expect(bench.advance(3).map((sent) => sent.at)).toEqual([millis(3)]);
});
