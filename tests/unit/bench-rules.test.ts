// Small rules of the bench by tables: odd sizes, typed lengths, threads in words, woods and their seasons, out of true, when readings are waited for, what counts as time.
import { describe, expect, test } from 'vitest';
import type { Job, Thread } from '../../src/core/bench/job.ts';
import { wantsReadings } from '../../src/core/bench/line.ts';
import { asksAcross, fitsLike, outOfTrue } from '../../src/core/bench/out-of-true.ts';
import { MADE, ovalPerPercent, seasonLoss, seasonsOf, woodOf } from '../../src/core/bench/seasons.ts';
import { oddBore, oddShape, oddSpigot } from '../../src/core/bench/stages/readings.ts';
import { onlyTimePassed } from '../../src/core/bench/state.ts';
import {
  chasedDepth,
  chasedText,
  isUnmeasured,
  leftToCut,
  limitOnceCut,
  pairOf,
  wantsDiameter,
} from '../../src/core/bench/threads.ts';
import { typedLength, typedSize } from '../../src/core/bench/typed-quantity.ts';
import { humidityPercent, mm } from '../../src/core/units.ts';
import { leastGapOver } from '../../src/core/wood/season.ts';
import { findWood } from '../../src/core/wood/woods.ts';
import { Table, threaded } from '../support/bench.ts';
import { ofKind } from '../support/of-kind.ts';

const jobIn = ({ bench: { job } }: Table): Job => {
  if (!job) throw new Error('no job');
  return job;
};

describe('a size that can hardly be meant', () => {
  test.each([
    [8, null, false],
    [7.99, null, true],
    [150, null, false],
    [150.01, null, true],
    [55, 50, false],
    [55.01, 50, true],
    [44.99, 50, true],
    [23, 20, false],
    [16.99, 20, true],
  ])('a bore of %d mm where %j is expected: %j', (value, expected, odd) => {
    expect(oddBore(mm(value), expected === null ? null : mm(expected)) !== null).toBe(odd);
  });
  test.each([
    [150, null, false],
    [150.01, null, true],
    [5, null, false],
    [45, 50, false],
    [44.99, 50, true],
    [80, 50, false],
    [17, 20, false],
    [16.99, 20, true],
  ])('a spigot of %d mm for a target of %j: %j', (value, target, odd) => {
    expect(oddSpigot(mm(value), target === null ? null : mm(target)) !== null).toBe(odd);
  });
  test.each([
    [42, 43, false],
    [42, 43.01, true],
    [100, 102, false],
    [100, 97.99, true],
  ])('%d mm elsewhere on the part %d mm: %j', (known, value, odd) => {
    expect(oddShape(mm(value), mm(known)) !== null).toBe(odd);
  });
});

describe('a typed length', () => {
  test.each([
    ['42,3', 'mm', 42.3],
    [' 42.3 ', 'mm', 42.3],
    ['1,5in', 'mm', 38.1],
    ['1/2', 'in', 12.7],
    ['1 1/2', 'in', 38.1],
    ['1-1/2', 'in', 38.1],
    ['12 11/16', 'in', 12.6875 * 25.4],
    ['42.3mm', 'in', 42.3],
  ] as const)('of %j on a bench in %s is %d mm', (text, unit, millimetres) => {
    const parsed = typedLength(text, unit);
    expect(parsed.ok && parsed.value).toBeCloseTo(millimetres, 9);
  });
  test.each([
    ['1/2', 'mm'],
    ['x1/2', 'in'],
    ['1/2x', 'in'],
    ['1,234.5', 'mm'],
    ['1.234,5', 'mm'],
    [' wide ', 'mm'],
  ] as const)('%j on a bench in %s is none', (text, unit) => {
    expect(typedLength(text, unit)).toMatchObject({ ok: false, found: text.trim() });
  });
  test('of nothing is no size', () => {
    expect(typedSize(' 0 ', 'mm')).toMatchObject({ ok: false, found: '0', accepted: 'a length above zero' });
    expect(typedSize('0.01', 'mm')).toEqual({ ok: true, value: 0.01 });
  });
});

describe('a thread chased by hand', () => {
  const chased = {
    kind: 'thread-chased',
    part: 'female',
    how: 'flat',
    strokes: 3,
    depth: mm(1),
    within: mm(0.05),
    flat: mm(0.2),
  } as const;
  const { flat, ...byCrests } = chased;
  const thread = (change: Partial<Thread>): Thread => ({
    ...jobIn(new Table()).threads.female,
    strokes: 3,
    chased,
    ...change,
  });

  test.each([
    [chased, '1.00 ± 0.05 mm deep, by a flat of 0.20 mm, 3 strokes'],
    [{ ...chased, strokes: 0 }, '1.00 ± 0.05 mm deep, by a flat of 0.20 mm'],
    [{ ...byCrests, strokes: 1 }, '1.00 ± 0.05 mm deep, by flat, 1 stroke'],
    [{ ...chased, how: 'trial', depth: null }, 'by trial, depth not measured, 3 strokes'],
    [{ ...chased, how: 'trial', within: null, strokes: 0 }, 'by trial, depth not measured'],
  ] as const)('%j says how deep it is', (kept, said) => {
    expect(chasedText(kept, 'mm')).toBe(said);
  });

  test('is known only as long as no stroke followed, and both figures are', () => {
    expect(chasedDepth(thread({}))).toEqual({ depth: 1, within: 0.05 });
    const unknown: readonly Partial<Thread>[] = [
      { strokes: 4 },
      { chased: null },
      { chased: { ...chased, depth: null } },
      { chased: { ...chased, within: null } },
    ];
    for (const change of unknown) expect(chasedDepth(thread(change))).toBeNull();
  });

  test('that came to a point wants its diameter again, one with a flat does not', () => {
    const pointed = { ...chased, flat: mm(0) };
    expect(wantsDiameter(thread({}))).toBe(false);
    expect(wantsDiameter(thread({ chased: pointed }))).toBe(true);
    expect(wantsDiameter(thread({ chased: pointed, crestsAt: 2 }))).toBe(true);
    expect(wantsDiameter(thread({ chased: pointed, crestsAt: 3 }))).toBe(false);
    expect(wantsDiameter(thread({ chased: pointed, strokes: 4 }))).toBe(false);
    expect(wantsDiameter(thread({ chased: byCrests }))).toBe(false);
  });

  test('leaves the fit unmeasured until both threads are, and only where a lid has one', () => {
    const job = jobIn(new Table());
    const both = { female: thread({}), male: thread({}) };
    const byHand = { ...job, setup: { ...job.setup, byHand: true as const }, threads: both };
    expect(isUnmeasured(byHand)).toBe(false);
    expect(isUnmeasured({ ...byHand, threads: { ...both, male: thread({ strokes: 9 }) } })).toBe(true);
    expect(isUnmeasured({ ...byHand, threads: { ...both, female: thread({ chased: null }) } })).toBe(true);
    expect(isUnmeasured({ ...byHand, threads: job.threads, setup: { ...byHand.setup, fit: 'plain' } })).toBe(
      false,
    );
    expect(isUnmeasured({ ...byHand, threads: job.threads, setup: job.setup })).toBe(false);
  });

  test('is not widened as a rotating cutter widens it', () => {
    const setup = { ...threaded, cutter: { ...threaded.cutter, diameter: mm(30) } };
    const job = { ...jobIn(new Table(setup)), setup };
    expect(pairOf(job, mm(42)).female.widening).toBeGreaterThan(0);
    expect(pairOf({ ...job, setup: { ...setup, byHand: true } }, mm(42)).female.widening).toBe(0);
    expect(pairOf(jobIn(new Table()), mm(42)).female.widening).toBe(0);
  });
});

test('what is left to cut is told from 0.005 mm on, either way', () => {
  const left = (depth: number) => leftToCut(jobIn(new Table()), 'male', mm(depth));
  expect([left(0.9), left(1.1), left(0.996), left(1.004)]).toEqual([
    ...[expect.closeTo(0.1, 9), expect.closeTo(-0.1, 9), 0, 0],
  ]);
});

test('the limit once a thread is cut is the planned one, or that of a deeper groove', () => {
  const job = jobIn(new Table());
  // sharp 60 degree threads of 16 TPI, 1 mm deep each: 4 x 1 mm less 2 H; a tenth deeper adds two
  const planned = 4 - 2 * (25.4 / 16) * (Math.sqrt(3) / 2);
  expect(limitOnceCut(job, mm(42), 'male', mm(0.5))).toBeCloseTo(planned, 9);
  expect(limitOnceCut(job, mm(42), 'male', mm(1.1))).toBeCloseTo(planned + 0.2, 9);
  expect(limitOnceCut(job, mm(42), 'male', mm(1.5))).toBeNull();
});

describe('the woods of a pair', () => {
  test('bore and spigot are of lid and body, whichever is bored', () => {
    const two = { wood: 'pear', lidWood: 'yew' };
    const parts = (of: Parameters<typeof woodOf>[0]) => [woodOf(of, 'female'), woodOf(of, 'male')];
    expect(parts({ ...two, bored: 'lid' })).toEqual(['yew', 'pear']);
    expect(parts({ ...two, bored: 'body' })).toEqual(['pear', 'yew']);
    expect(parts({ wood: 'pear', bored: 'lid' })).toEqual(['pear', 'pear']);
  });

  const figuresOf = (name: string) => ofKind('found', findWood(name)).wood.figures;

  test('what a percent of moisture does to a ring is by the source that says most', () => {
    const each = figuresOf('pear').map(
      ({ radial, tangential }) => 50 * (tangential.coefficient - radial.coefficient),
    );
    expect(each.length).toBeGreaterThan(1);
    expect(ovalPerPercent('pear', mm(50))).toBeCloseTo(Math.max(...each), 12);
    expect(ovalPerPercent(undefined, mm(50))).toBeNull();
    expect(ovalPerPercent('no such wood', mm(50))).toBeNull();
  });

  const seasons = (wood: string, lidWood?: string) =>
    seasonsOf({ wood, ...(lidWood && { lidWood }), bored: 'lid' }, mm(52), mm(0.4), mm(0.08)) ?? [];
  const dampest = (season: ReturnType<typeof seasons>[number] | undefined) => {
    if (!season) throw new Error('no season');
    return ofKind('runs', season.season).to.humidity;
  };

  test.each(['pear', 'elm, european', 'walnut, european'])(
    'sources that differ about %s give the season of both ends, the one that takes less first',
    (wood) => {
      const both = seasons(wood);
      expect(both.map(({ by }) => by)).toEqual(['handbook', 'handbook', 'newer', 'newer']);
      expect(new Set(both.map(({ source }) => source)).size).toBe(2);
      expect(dampest(both[0])).toBeGreaterThan(dampest(both[1]));
      expect(seasons(wood, wood)).toEqual(both);
      expect(both.every(({ source }) => !source?.includes(';'))).toBe(true);
    },
  );

  test('two woods give the season of each with each, and name the sources of both', () => {
    const two = seasons('pear', 'elm, european');
    expect(two).toHaveLength(4);
    expect(two.map(({ source }) => source)).not.toContain(null);
    expect(two.some(({ source }) => source?.includes('; '))).toBe(true);
    expect(seasons('pear', 'no such wood')).toEqual([]);
  });

  test('sources that differ by less than a fifth say the same', () => {
    expect(seasons('teak').map(({ source }) => source)).toEqual([null, null]);
  });

  test('one source gives one season by each equation, and no source is named', () => {
    const maple = seasons('maple, sugar');
    expect(maple.map(({ by, source }) => [by, source])).toEqual([
      ['handbook', null],
      ['newer', null],
    ]);
    expect(seasonsOf({ wood: 'no such wood', bored: 'lid' }, mm(52), mm(0.4), mm(0.08))).toBeNull();
  });

  test('what a range of humidity takes is the most that any source and equation says', () => {
    const range = { from: humidityPercent(30), to: humidityPercent(65) };
    const losses = figuresOf('pear').flatMap((of) => {
      const ring = { first: of.tangential, second: of.radial };
      const pair = {
        diameter: mm(52),
        clearance: mm(0),
        bore: { ring, made: MADE },
        spigot: { ring, made: MADE },
      };
      return (['handbook', 'newer'] as const).map(
        (by) => -ofKind('least', leastGapOver(pair, { by, temperature: MADE.temperature }, range)).gap,
      );
    });
    expect(seasonLoss({ wood: 'pear', bored: 'lid' }, mm(52), range)).toBeCloseTo(Math.max(...losses), 12);
    expect(seasonLoss({ wood: 'no such wood', bored: 'lid' }, mm(52), range)).toBeNull();
  });
});

describe('parts out of true', () => {
  const job = { ...jobIn(new Table().measured('42.30')), mouth: null, depth: null };
  const at = (diameter: number) => ({ diameter: mm(diameter), how: 'typed' }) as const;
  const tapered = { ...job, mouth: at(42.3), depth: at(42.2) };
  const spigot = { diameter: mm(43.4), end: mm(43.6) };
  const names = (of: Job, size: typeof spigot | null) => outOfTrue(of, size).doubts.map(({ name }) => name);

  test('a doubt names which of them is tapered', () => {
    expect(names(tapered, null)).toEqual(['taper of the bore']);
    expect(names(job, spigot)).toEqual(['taper of the spigot']);
    expect(names(tapered, spigot)).toEqual(['taper of the bore and spigot']);
    expect(names(job, null)).toEqual([]);
  });

  test('a spigot fits as a true one that is larger by what its shape takes', () => {
    // 0.1 mm by the bore alone, 0.3 mm by both
    expect(outOfTrue(tapered, spigot).loss).toBeCloseTo(0.3, 9);
    expect(fitsLike(tapered, spigot)).toBeCloseTo(43.4 + 0.2, 9);
    expect(outOfTrue({ ...job, mouth: at(42.2), depth: at(42.3) }, null)).toMatchObject({
      loss: 0,
      spread: expect.closeTo(0.1, 9),
    });
  });

  test('a quarter turn is asked for from 60 mm on where nothing is known of the wood, or where it is wet', () => {
    const asks = (wood: string, diameter: number, hardened = false) => {
      const bore = job.bore && { ...job.bore, diameter: mm(diameter) };
      const female = { ...job.threads.female, hardened };
      return asksAcross(
        { ...job, bore, setup: { ...job.setup, wood }, threads: { ...job.threads, female } },
        'female',
      );
    };
    expect([asks('plastic', 60), asks('plastic', 59.9), asks('green plastic', 20)]).toEqual([
      true,
      false,
      true,
    ]);
    expect([asks('plastic', 60, true), asks('evergreen', 20)]).toEqual([false, false]);
    expect(asksAcross({ ...job, bore: null }, 'female')).toBe(false);
  });
});

test('readings are waited for at the stages that measure, and in practice', () => {
  const { mode, job } = new Table().bench;
  const open = job && { ...job, closed: null };
  expect(wantsReadings({ mode, job: open })).toBe(true);
  expect(wantsReadings({ mode, job: open && { ...open, closed: { how: 'runs', at: 1 } } })).toBe(false);
  expect(wantsReadings({ mode, job: open && { ...open, stage: 'trial' } })).toBe(false);
  expect(wantsReadings({ mode, job: null })).toBe(false);
  expect(wantsReadings({ mode: { kind: 'note', text: '' }, job: open })).toBe(false);
  const { bench: practising } = new Table().do({ kind: 'practice-opened', measuring: undefined });
  expect(wantsReadings({ ...practising, job: null })).toBe(true);
});

test('only time passed where the clock went on and the feed stood', () => {
  const table = new Table().board(5);
  const before = table.bench;
  expect(onlyTimePassed(before, table.pass(100).bench)).toBe(true);
  expect(onlyTimePassed(before, table.feed(5).bench)).toBe(true);
  expect(onlyTimePassed(before, table.feed(6).bench)).toBe(false);
  expect(onlyTimePassed(table.bench, table.typing('4').bench)).toBe(false);
  expect(onlyTimePassed(before, { ...before, feed: null })).toBe(false);
  expect(onlyTimePassed({ ...before, feed: null }, { ...before, feed: null })).toBe(true);
});
