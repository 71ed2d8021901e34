// Small rules of the bench by tables: odd sizes, jaws held still, typed quantities, threads in words, woods and their seasons, out of true, what is waited for.
import { describe, expect, test } from 'vitest';
import type { KeptReading } from '../../src/core/bench/entry.ts';
import type { Job, Thread } from '../../src/core/bench/job.ts';
import { wantsReadings } from '../../src/core/bench/line.ts';
import { asksAcross, fitsLike, outOfTrue } from '../../src/core/bench/out-of-true.ts';
import { MADE, ovalPerPercent, seasonLoss, seasonsOf, woodOf } from '../../src/core/bench/seasons.ts';
import { oddBore, oddShape, oddSpigot, steadyOf } from '../../src/core/bench/stages/readings.ts';
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
import {
  lengthText,
  pitchText,
  seasonIn,
  typedReading,
  typedSize,
} from '../../src/core/bench/typed-quantity.ts';
import { humidityPercent, inches, millis, mm, tpi } from '../../src/core/units.ts';
import { leastGapOver } from '../../src/core/wood/season.ts';
import { findWood } from '../../src/core/wood/woods.ts';
import { played, threaded } from '../support/bench.ts';
import { ofKind } from '../support/of-kind.ts';
import { near } from '../support/story.ts';

const { job: begun } = played('');

describe('a size that can hardly be meant', () => {
  const orNull = (value: number | null) => (value === null ? null : mm(value));
  test.each([
    [oddBore, 8, null, false],
    [oddBore, 7.99, null, true],
    [oddBore, 150, null, false],
    [oddBore, 150.01, null, true],
    [oddBore, 55, 50, false],
    [oddBore, 55.01, 50, true],
    [oddBore, 44.99, 50, true],
    [oddBore, 23, 20, false],
    [oddBore, 16.99, 20, true],
    [oddSpigot, 150, null, false],
    [oddSpigot, 150.01, null, true],
    [oddSpigot, 5, null, false],
    [oddSpigot, 45, 50, false],
    [oddSpigot, 44.99, 50, true],
    [oddSpigot, 80, 50, false],
    [oddSpigot, 17, 20, false],
    [oddSpigot, 16.99, 20, true],
  ])('by %o: %d mm where %j is expected: %j', (odd, value, expected, isOdd) => {
    expect(odd(mm(value), orNull(expected)) !== null).toBe(isOdd);
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

describe('jaws held still', () => {
  /** Readings of a caliper, this many milliseconds apart; those after `=` are typed. */
  const heard = (every: number, ...shown: readonly (number | string)[]): readonly KeptReading[] =>
    shown.map((one, place) => {
      const value = mm(Number(String(one).replace('=', '')));
      const raw = typeof one === 'string' ? '' : `DI,${one}`;
      return { value, unit: 'mm', step: mm(0.01), text: `${value}`, at: millis(1000 + place * every), raw };
    });

  test.each<[number, readonly (number | string)[], number | undefined]>([
    [100, [], undefined],
    // Three readings over two tenths of a second; not two, nor a shorter while.
    [100, [43.4, 43.4, 43.4], 43.4],
    [99, [43.4, 43.4, 43.4], undefined],
    [200, [43.4, 43.4], undefined],
    // Two steps apart are near, three are not.
    [100, [43.42, 43.42, 43.4], 43.42],
    [100, [43.38, 43.38, 43.4], 43.38],
    [100, [43.43, 43.4, 43.4], undefined],
    [100, [43.37, 43.4, 43.4], undefined],
    // The middle one, or between the two in the middle.
    [100, [43.42, 43.4, 43.41], 43.41],
    [100, [43.42, 43.4, 43.41, 43.41, 43.42, 43.4], 43.41],
    [100, [43.4, 43.4, 43.42, 43.42], 43.41],
    // A typed value is held at once, and holds nothing after it.
    [100, [43.4, 43.4, '=44'], 44],
    [150, ['=43.4', 43.4, 43.4], undefined],
  ])('%d ms apart, %j are held at %d', (every, shown, value) => {
    const held = steadyOf(heard(every, ...shown))?.value;
    expect(held).toEqual(value === undefined ? undefined : near(value));
  });

  test('leave earlier readings out', () => {
    const readings = heard(100, 45, 43.4, 43.4, 43.4);
    expect(steadyOf(readings)?.readings).toEqual(readings.slice(1));
    expect(steadyOf(heard(100, 43.4, '=44'))?.readings).toHaveLength(1);
  });
});

describe('quantities as text', () => {
  test('of nothing is no size', () => {
    expect(typedSize(' 0 ', 'mm')).toMatchObject({ ok: false, found: '0', accepted: 'a length above zero' });
    expect(typedSize('0.01', 'mm')).toEqual({ ok: true, value: 0.01 });
  });

  test.each([
    [lengthText(mm(0.15), 'mm'), '0.15mm'],
    [lengthText(inches(0.1235), 'in'), '0.1235in'],
    [pitchText({ length: tpi(16), given: { kind: 'tpi', threads: 16 } }), '16tpi'],
    [pitchText({ length: mm(1.5), given: { kind: 'metric' } }), '1.5mm'],
  ])('%s', (text, expected) => expect(text).toBe(expected));

  test.each(['30%', '30%-', '-65%', '30-65%', '30%-65', '65%-30%', '50%-50%', '30%-40%-65%', ''])(
    'a season is two humidities, the drier first: %j is none',
    (text) => {
      expect(seasonIn(text)).toBeNull();
      expect(seasonIn('30%-65%')).toEqual({ from: 0.3, to: 0.65 });
    },
  );

  test.each([
    [' 42.30 mm ', '42.30', 42.3],
    ['42.3MM', '42.3', 42.3],
    ['2.05 inches', '2.05', 2.05 * 25.4],
    ['2.0500"', '2.0500', 2.05 * 25.4],
    ['1.7in', '1.7', 1.7 * 25.4],
  ])('a typed %j is known by its digits, and is as fine as the caliper', (text, digits, value) => {
    const reading = { text: digits, raw: '', step: 0.01, value: near(value) };
    expect(typedReading(played('').ready, text)).toMatchObject({ ok: true, value: reading });
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
    ...begun.threads.female,
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
    const unknown = [{ depth: null }, { within: null }].map((none) => ({ chased: { ...chased, ...none } }));
    for (const change of [{ strokes: 4 }, { chased: null }, ...unknown])
      expect(chasedDepth(thread(change))).toBeNull();
  });

  const pointed = { ...chased, flat: mm(0) };
  test.each<[Partial<Thread>, boolean]>([
    [{}, false],
    [{ chased: pointed }, true],
    [{ chased: pointed, crestsAt: 2 }, true],
    [{ chased: pointed, crestsAt: 3 }, false],
    [{ chased: pointed, strokes: 4 }, false],
    [{ chased: byCrests }, false],
  ])('that came to a point wants its diameter again, one with a flat does not: %j', (change, wants) => {
    expect(wantsDiameter(thread(change))).toBe(wants);
  });

  const both = { female: thread({}), male: thread({}) };
  test.each<[object, Job['threads'], boolean]>([
    [{ byHand: true }, both, false],
    [{ byHand: true }, { ...both, male: thread({ strokes: 9 }) }, true],
    [{ byHand: true }, { ...both, female: thread({ chased: null }) }, true],
    [{ byHand: true, fit: 'plain' }, begun.threads, false],
    [{}, begun.threads, false],
  ])(
    'leaves the fit unmeasured until both threads are, and only where a lid has one',
    (change, threads, is) => {
      expect(isUnmeasured({ ...begun, setup: { ...begun.setup, ...change }, threads })).toBe(is);
    },
  );

  test('is not widened as a rotating cutter widens it', () => {
    const setup = { ...threaded, cutter: { ...threaded.cutter, diameter: mm(30) } };
    const job = { ...played('', setup).job, setup };
    expect(pairOf(job, mm(42)).female.widening).toBeGreaterThan(0);
    expect(pairOf({ ...job, setup: { ...setup, byHand: true } }, mm(42)).female.widening).toBe(0);
    expect(pairOf(begun, mm(42)).female.widening).toBe(0);
  });
});

test.each([
  [0.9, 0.1],
  [1.1, -0.1],
  [0.996, 0],
  [1.004, 0],
])('what is left to cut is told from 0.005 mm on, either way: at %d mm %d mm', (depth, left) => {
  expect(leftToCut(begun, 'male', mm(depth))).toBeCloseTo(left, 9);
});

test('the limit once a thread is cut is the planned one, or that of a deeper groove', () => {
  const job = begun;
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
  const job = { ...played('=42.30 keep').job, mouth: null, depth: null };
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
  const { mode } = played('').bench;
  const practising = played('').do({ kind: 'practice-opened', measuring: undefined }).bench.mode;
  for (const [at, job, waits] of [
    [mode, begun, true],
    [mode, { ...begun, closed: { how: 'runs', at: 1 } }, false],
    [mode, { ...begun, stage: 'trial' }, false],
    [mode, null, false],
    [{ kind: 'note', text: '' }, begun, false],
    [practising, null, true],
  ] as const)
    expect(wantsReadings({ mode: at, job })).toBe(waits);
});

test('only time passed where the clock went on and the feed stood', () => {
  const table = played('board feed:5');
  const before = table.bench;
  const isTime = (script: string, since = before) => onlyTimePassed(since, table.play(script).bench);
  expect([isTime('wait:100'), isTime('feed:5')]).toEqual([true, true]);
  expect([isTime('feed:6'), isTime('~4', table.bench)]).toEqual([false, false]);
  const none = { ...before, feed: null };
  expect([onlyTimePassed(before, none), onlyTimePassed(none, { ...none })]).toEqual([false, true]);
});
