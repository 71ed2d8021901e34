// From a turn to a top: which readings are its crown, when it is a tremble or unrest, and what two tops of one rock become.
import { describe, expect, test } from 'vitest';
import type { Reading } from '../../src/core/measure/reading.ts';
import { thrownOut, topsOf } from '../../src/core/measure/rocking.ts';
import type { Agreement } from '../../src/core/measure/rocking-agreement.ts';
import { addReading, type Capture, startCapture } from '../../src/core/measure/rocking-capture.ts';
import { type Course, type Found, findTop, nothingFound } from '../../src/core/measure/rocking-found.ts';
import { verdictOf } from '../../src/core/measure/rocking-judgement.ts';
import { defaultSettings } from '../../src/core/measure/rocking-settings.ts';
import type { Top } from '../../src/core/measure/rocking-top.ts';
import { startTurns } from '../../src/core/measure/rocking-turns.ts';
import { between, type Series } from '../../src/core/measure/series.ts';
import { type LengthUnit, millis, mm } from '../../src/core/units.ts';

const series = <T>(shared: readonly T[]): Series<T> => ({ length: shared.length, shared });
const readingOf = (value: number, at: number, unit: LengthUnit = 'mm'): Reading => ({
  value: mm(value),
  unit,
  step: mm(0.01),
  text: '',
  at: millis(at),
});

interface Given {
  readonly values: readonly number[];
  readonly place: number;
  readonly rise?: number;
  readonly fall?: number;
  readonly start?: number;
  readonly swings?: readonly number[];
  readonly side?: 'bore' | 'outside';
  readonly every?: number;
  readonly found?: Found;
}

/** What a turn at this place makes of what was found before. */
function find(given: Given): Found {
  const { values, place, rise = 1, fall = 1, start = 0, swings = [1, 1], side = 'bore', every = 125 } = given;
  const readings = values.map((value, i) => readingOf(value, every * i));
  const believed = series(readings.map((reading, i) => ({ place: i, reading, sameUnit: true })));
  const turns = { ...startTurns(0, 0), swings: { first: false, last: swings, usual: 0 } };
  const height = (side === 'bore' ? 1 : -1) * (values[place] ?? 0);
  const course: Course = { believed, start, turns };
  const turn = { place, height, rise, fall };
  return findTop(given.found ?? nothingFound, course, turn, series(readings), defaultSettings(side));
}
const topsIn = (found: Found) => between(found.tops, 0);
/** The places of the readings that the last top was found from. */
function crown(given: Given): readonly [number, number] | null {
  const top = topsIn(find(given)).at(-1);
  const places = top ? [...top.from, ...top.thrown] : [];
  return top ? [Math.min(...places), Math.max(...places)] : null;
}
/** A rock that falls off with the square of the distance from its middle. */
const parabola = (falls: number, count = 21, middle = Math.floor(count / 2), sign = -1) =>
  Array.from({ length: count }, (_, i) => 42.3 + sign * falls * (i - middle) ** 2);

describe('the crown of a top', () => {
  test('goes to the first reading a quarter of the rock below it, on either side', () => {
    // 0.25 mm below a rock of 1 mm: five readings off is at the bound, the sixth is past it.
    expect(crown({ values: parabola(0.01), place: 10 })).toEqual([4, 16]);
    expect(crown({ values: parabola(0.0102), place: 10 })).toEqual([5, 15]);
    expect(crown({ values: parabola(0.01, 21, 10, 1), place: 10, side: 'outside' })).toEqual([4, 16]);
  });

  test('is of the higher side, where the lower is half of that at least', () => {
    expect(crown({ values: parabola(0.01), place: 10, rise: 0.4, fall: 0.5 })).toEqual([6, 14]);
    expect(crown({ values: parabola(0.01), place: 10, rise: 2, fall: 0.4 })).toEqual([5, 15]);
  });

  test('makes a top as high as the lower of its sides', () => {
    for (const of of [
      { rise: 1, fall: 0.5 },
      { rise: 0.5, fall: 1 },
    ])
      expect(topsIn(find({ values: parabola(0.01), place: 10, ...of }))[0]?.height).toBe(0.5);
  });

  test('has its neighbours however steep it is, and one low reading does not end it there', () => {
    expect(crown({ values: parabola(0.1), place: 10, rise: 0.3, fall: 0.3 })).toEqual([9, 11]);
    const damaged = parabola(0.01).map((value, i) => (i === 11 ? 41.9 : value));
    expect(crown({ values: damaged, place: 10 })).toEqual([4, 16]);
    const later = parabola(0.01).map((value, i) => (i === 12 ? 41.9 : value));
    expect(crown({ values: later, place: 10 })).toEqual([4, 12]);
  });

  test('ends before a higher reading, at the course’s beginning, and after forty readings', () => {
    const higher = parabola(0.01).map((value, i) => (i === 13 ? 42.31 : value));
    expect(crown({ values: higher, place: 10 })).toEqual([4, 12]);
    const alike = parabola(0.01).map((value, i) => (i === 13 ? 42.3 : value));
    expect(crown({ values: alike, place: 10 })).toEqual([4, 16]);
    expect(crown({ values: parabola(0.01), place: 10, start: 8 })).toEqual([8, 16]);
    expect(crown({ values: parabola(0.0001, 101), place: 50, every: 20 })).toEqual([10, 90]);
  });

  test('throws out a neighbour that stands far above it, and says so', () => {
    const spiked = parabola(0.01).map((value, i) => (i === 11 ? 42.7 : value));
    const found = find({ values: spiked, place: 10 });
    expect(between(found.thrown, 0)).toEqual([11]);
    expect(topsIn(found)[0]?.value).toBeCloseTo(42.3, 2);
  });
});

describe('a turn that is no top', () => {
  const values = parabola(0.01);
  const told = (of: Omit<Given, 'values' | 'place'>) => topsIn(find({ values, place: 10, ...of })).length;

  test('is a tremble beside the largest swing of the jaws on the work', () => {
    expect(told({ swings: [0.5, 1, 1], rise: 0.029 })).toBe(0);
    expect(told({ swings: [0.5, 1, 1], fall: 0.029 })).toBe(0);
    expect(told({ swings: [0.5, 1, 1], rise: 0.031 })).toBe(1);
    // Nearly two millimetres on 42 is the jaws coming or going.
    expect(told({ swings: [1, 5, 1], rise: 0.031 })).toBe(1);
  });

  /** Parabola before a history whose third differences are all so large, that many readings before it. */
  const uneasy = (third: number, apart = 0): Given => {
    const history = Array.from({ length: 22 }, (_, i) => 42 + (third * (i * (i - 1) * (i - 2))) / 6);
    const between = Array.from({ length: apart }, () => 42.2);
    const rock = parabola(0.004, 9);
    const all = [...history, ...between, ...rock];
    return { values: all, place: all.length - 5, rise: 0.06, fall: 0.06, swings: [] };
  };

  test('is unrest where the readings’ own third differences make it likely', () => {
    // 5 sigma, sigma from the quarter of the third differences: 0.06 = 5 q / 0.3186 / sqrt(20) at q = 0.0171.
    expect(topsIn(find(uneasy(0.0165)))).toHaveLength(1);
    expect(topsIn(find(uneasy(0.0177)))).toHaveLength(0);
    expect(topsIn(find({ ...uneasy(0.0177), rise: 0.3 }))).toHaveLength(0);
    expect(topsIn(find({ ...uneasy(0.0177), fall: 0.3 }))).toHaveLength(0);
  });

  test('is told by the smallest quarter, in whatever order they come', () => {
    const values: number[] = [42, 42, 42];
    for (let i = 0; values.length < 22; i++) {
      const [a = 0, b = 0, c = 0] = values.slice(-3);
      values.push((i % 2 ? 0.05 : 0.0165) * (i % 4 < 2 ? 1 : -1) + 3 * c - 3 * b + a);
    }
    const { values: rock } = uneasy(0);
    const given = { ...uneasy(0), values: [...values, ...rock.slice(-9)] };
    expect(topsIn(find(given))).toHaveLength(1);
    expect(
      topsIn(find({ ...given, values: [...values.map((v) => v * 1.2), ...rock.slice(-9)] })),
    ).toHaveLength(0);
  });

  test('is heard over the last thirty-two readings of its course alone', () => {
    expect(topsIn(find(uneasy(0.0177, 26)))).toHaveLength(1);
    expect(topsIn(find({ ...uneasy(0.0177), start: 22 }))).toHaveLength(1);
  });

  test('is a top for all that where it is high enough, or two swings were rocks', () => {
    expect(topsIn(find({ ...uneasy(0.05), rise: 0.08, fall: 0.08 }))).toHaveLength(1);
    const met = (swings: readonly number[]) => topsIn(find({ ...uneasy(0.05), swings })).length;
    expect([met([0.08, 0.08]), met([0.08]), met([0.08, 0.07]), met([0.08, 3])]).toEqual([1, 0, 0, 0]);
  });
});

describe('two tops of one rock', () => {
  const held = (of: Partial<Top>): Found => {
    const top = { at: millis(0), value: mm(42.2), standard: 0.02, halfSpan: 100, height: 1, ...of } as Top;
    const whole = {
      ...top,
      reached: top.value,
      sharedRounding: 0.001,
      misfit: 0,
      freedom: 4,
      from: [1],
      thrown: [],
    };
    return { ...nothingFound, tops: series([whole]) };
  };
  /** Its middle is at 1250 ms, and its readings reach 750 ms to either side. */
  const joinedTo = (of: Partial<Top>, every = 125) =>
    topsIn(find({ values: parabola(0.01), place: 10, every, found: held(of) })).map(({ value }) =>
      Number(value.toFixed(1)),
    );

  test('are one within half of either’s span, and a quarter of a second at the least', () => {
    expect(joinedTo({ at: millis(876) })).toEqual([42.3]);
    expect(joinedTo({ at: millis(874) })).toEqual([42.2, 42.3]);
    expect(joinedTo({ at: millis(251), halfSpan: 2000 })).toEqual([42.3]);
    expect(joinedTo({ at: millis(249), halfSpan: 2000 })).toEqual([42.2, 42.3]);
    expect(joinedTo({ at: millis(449) }, 20)).toEqual([42.3]);
    expect(joinedTo({ at: millis(451) }, 20)).toHaveLength(2);
  });

  test('become the better placed one, and what was found before stays as it was', () => {
    expect(joinedTo({ at: millis(1200), standard: 0.0001 })).toEqual([42.2]);
    expect(joinedTo({ at: millis(1200), standard: 0.5 })).toEqual([42.3]);
    const found = held({ at: millis(1200), standard: 0.5 });
    find({ values: parabola(0.01), place: 10, found });
    expect(topsIn(found)[0]?.value).toBe(42.2);
  });
});

describe('what a capture says of itself', () => {
  const started = startCapture(defaultSettings('bore'));
  const top = (value: number) => ({ value: mm(value) }) as Top;
  const ended = (agreement: Partial<Agreement> | null, of: Partial<Capture> = {}) =>
    verdictOf({
      ...started,
      finished: true,
      readings: series([readingOf(42, 0)]),
      found: { ...nothingFound, agreement: agreement as Agreement | null },
      ...of,
    });
  const three = [top(42.3), top(42.3), top(42.29)];

  test('tops beyond those that agree are told with the farthest of them', () => {
    const beyond = [top(42.4), top(42.5)];
    const verdict = ended({ nearby: [...three, ...beyond], agreeing: three, beyond, spread: mm(0.01) });
    expect(verdict).toMatchObject({
      state: 'doubtful',
      advice: 'seat-and-rock-again',
      tops: 5,
      agreeing: 3,
      spread: 0.01,
      reason: { kind: 'top-beyond', agreeing: 3, beyond: expect.closeTo(0.2, 9) },
    });
  });

  test('too few that agree disagree, whether or not one lies beyond', () => {
    const two = three.slice(1);
    for (const beyond of [[], [top(42.5)]])
      expect(ended({ nearby: [...three, ...beyond], agreeing: two, beyond, spread: mm(0) })).toMatchObject({
        reason: { kind: 'tops-disagree', agreeing: 2, needed: 3 },
      });
    expect(ended({ nearby: three, agreeing: three, beyond: [], spread: mm(0) })).toMatchObject({
      reason: { kind: 'tops-disagree', agreeing: 3 },
    });
    expect(ended({ nearby: two, agreeing: two, beyond: [], spread: mm(0) })).toMatchObject({
      reason: { kind: 'too-few-tops', found: 2, needed: 3 },
    });
  });

  test('before the end, twelve tops without agreement are enough to doubt, eleven are not', () => {
    const many = (count: number) =>
      ended(
        {
          nearby: Array.from({ length: count }, () => top(42)),
          agreeing: [top(42)],
          beyond: [],
          spread: mm(0),
        },
        { finished: false },
      );
    expect(many(12)).toMatchObject({ state: 'doubtful', reason: { kind: 'tops-disagree' } });
    expect(many(11).state).not.toBe('doubtful');
  });

  const shown = (values: readonly (readonly [value: number, at: number, unit?: LengthUnit])[]) =>
    values.reduce((capture, [value, at, unit]) => addReading(capture, readingOf(value, at, unit)), started);

  test('jaws that stand still are not rocked, counted from where they came to stand', () => {
    const still = (count: number, from = 0) =>
      Array.from({ length: count }, (_, i) => [42.3, from + 251 * i] as const);
    expect(verdictOf(shown(still(41)))).toMatchObject({ reason: { kind: 'not-rocked', readings: 41 } });
    const moved = shown([...Array.from({ length: 9 }, (_, i) => [30, 125 * i] as const), ...still(41, 9000)]);
    expect(verdictOf(moved)).toMatchObject({ reason: { kind: 'not-rocked', readings: 41 } });
  });

  test('jaws that stood still before they moved are not counted as standing now', () => {
    const moved = shown([
      ...Array.from({ length: 9 }, (_, i) => [30, 125 * i] as const),
      ...Array.from({ length: 40 }, (_, i) => [42.3, 9000 + 300 * i] as const),
    ]);
    expect(verdictOf(moved)).toEqual({ state: 'waiting' });
  });

  test('a course begins anew after a silence, before the last in time, and far away, but for no other reading', () => {
    const start = (...all: Parameters<typeof shown>[0]) => shown(all).course.start;
    expect(start([42.3, 0], [42.4, 125], [42.2, 1625])).toBe(0);
    expect(start([42.3, 0], [42.4, 125], [42.2, 1626])).toBe(2);
    expect(start([42.3, 1000], [42.4, 1000], [42.2, 1000])).toBe(0);
    expect(start([42.3, 1000], [42.4, 1125], [42.2, 1124])).toBe(2);
    const believed = (...all: Parameters<typeof shown>[0]) =>
      between(shown(all).course.believed, 0).map(({ place }) => place);
    expect(believed([42.3, 0], [42.3, 125, 'in'], [42.4, 250])).toEqual([0, 2]);
    expect(believed([42.3, 0], [90, 125], [42.4, 250])).toEqual([0, 2]);
    expect(
      thrownOut(
        shown([
          [42.3, 0],
          [90, 125],
          [42.4, 250],
        ]),
      ),
    ).toEqual([1]);
  });

  test('slow rocking is rocking, and so is a new course after tops were passed', () => {
    const rock = [...parabola(0.02, 17), ...parabola(0.02, 17), ...Array.from({ length: 10 }, () => 41.02)];
    const slow = rock.map((value, i) => [value, 300 * i] as const);
    expect(verdictOf(shown(slow))).toMatchObject({ state: 'rocking', tops: 2 });
    expect(verdictOf(shown([...slow, [41.5, 60_000]]))).toMatchObject({
      state: 'rocking',
      live: 41.5,
      tops: 2,
    });
  });

  test('a bore’s tilt is unknown by a degree; across an outside the rock itself finds it', () => {
    expect(defaultSettings('bore').tiltHalfRange).toBeCloseTo(Math.PI / 180, 12);
    expect(defaultSettings('outside').tiltHalfRange).toBe(0);
  });

  test('a rise is rocking before any top is passed', () => {
    expect(
      verdictOf(
        shown([
          [42, 0],
          [42, 125],
        ]),
      ),
    ).toEqual({ state: 'waiting' });
    expect(
      verdictOf(
        shown([
          [42, 0],
          [42.2, 125],
        ]),
      ),
    ).toEqual({
      state: 'rocking',
      live: 42.2,
      tops: 0,
      agreeing: 0,
      spread: null,
    });
  });

  test('four readings in another unit are a slip, five in a row before any top are followed', () => {
    const inches = (count: number) =>
      Array.from({ length: count }, (_, i) => [42.3, 500 + 125 * i, 'in'] as const);
    expect(shown([[42.3, 0], ...inches(4)]).units).toEqual({ unit: 'mm', other: 4, changed: null });
    expect(shown([[42.3, 0], ...inches(5)]).units).toEqual({ unit: 'in', other: 0, changed: null });
    expect(
      shown([
        [42.3, 0],
        ...inches(4),
        [42.3, 1200],
        ...inches(4).map(([v, at, u]) => [v, at + 1000, u] as const),
      ]).units,
    ).toEqual({
      unit: 'mm',
      other: 4,
      changed: null,
    });
    expect(startCapture(defaultSettings('bore')).units).toEqual({ unit: null, other: 0, changed: null });
  });

  test('the readings before a unit that is followed are not thrown out; those after a switch are kept and not used', () => {
    const inches = Array.from({ length: 5 }, (_, i) => [42.3, 500 + 125 * i, 'in'] as const);
    expect(thrownOut(shown([[42.3, 0], ...inches]))).toEqual([]);
    const rock = parabola(0.02, 17).map((value, i) => [value, 125 * i] as const);
    const later = (by: number, unit: LengthUnit = 'mm') =>
      rock.map(([value, at]) => [value, at + by, unit] as const);
    const switched = shown([...rock, ...later(2125), ...later(4250, 'in')]);
    const back = shown([...rock, ...later(2125), ...later(4250, 'in'), ...later(6375), ...later(8500)]);
    expect(topsIn(back.found)).toHaveLength(topsIn(switched.found).length);
    expect(back.readings.length).toBe(17 * 5);
    expect(verdictOf(back)).toMatchObject({ reason: { kind: 'unit-changed', from: 'mm', to: 'in' } });
  });

  test('what was thrown out is told once and in order, and tops without agreement agree with none', () => {
    const found = { ...nothingFound, tops: series([top(42)]), thrown: series([5, 3]) };
    const capture = { ...started, thrown: series([9, 3, 12]), found };
    expect(thrownOut(capture)).toEqual([3, 5, 9, 12]);
    expect(topsOf(capture)).toMatchObject([{ value: 42, agrees: false }]);
  });

  test('a course that ends is looked at for the turn that was under way', () => {
    const rise = parabola(0.02, 17).map((value, i) => [value, 125 * i] as const);
    const went = shown([...rise.slice(0, 12), [30, 4000]]);
    expect(topsIn(went.found)).toHaveLength(1);
    expect(topsIn(shown(rise.slice(0, 12)).found)).toHaveLength(0);
  });
});
