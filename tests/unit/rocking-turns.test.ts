// Where the values of a rock turned, told from flicker, and the readings that a hand could not have made.
import { describe, expect, test } from 'vitest';
import type { Reading } from '../../src/core/measure/reading.ts';
import {
  type Heard,
  type Screen,
  screenReading,
  startScreen,
} from '../../src/core/measure/rocking-plausibility.ts';
import { lastTurn, leastSwing, startTurns, type Turn, turnOn } from '../../src/core/measure/rocking-turns.ts';
import { millis, mm } from '../../src/core/units.ts';

/** Heights one after another: after which each turn was told, and how things stand at the end. */
function turned(heights: readonly number[], least = 1) {
  let turns = startTurns(0, heights[0] ?? 0);
  const told: (Turn & { readonly after: number })[] = [];
  for (const [place, height] of heights.entries()) {
    if (place === 0) continue;
    const [next, turn] = turnOn(turns, place, height, least);
    turns = next;
    if (turn) told.push({ ...turn, after: place });
  }
  return { turns, told };
}

describe('a turn', () => {
  test('is a rise and a fall of a swing each, told when the next rise begins', () => {
    expect(turned([0, 1, 0, 1]).told).toEqual([{ place: 1, height: 1, rise: 1, fall: 1, after: 3 }]);
    expect(turned([0, 0.9, 0, 0.9, 0]).told).toEqual([]);
    expect(turned([0, 10, 5, 5.9]).told).toEqual([]);
    expect(turned([0, 10, 5, 6]).told).toEqual([{ place: 1, height: 10, rise: 10, fall: 5, after: 3 }]);
  });

  test('is told four readings on as well, once it fell six tenths of its rise', () => {
    expect(turned([0, 10, 8, 6, 5, 4]).told).toEqual([{ place: 1, height: 10, rise: 10, fall: 6, after: 5 }]);
    expect(turned([0, 10, 8, 6, 5]).told).toEqual([]);
    expect(turned([0, 10, 3, 2.9, 2.8, 2.7]).told).toMatchObject([{ fall: 7.3, after: 5 }]);
    expect(turned([0, 10, 8, 6, 5, 4.1, 4.1, 4.1]).told).toEqual([]);
    expect(turned([0, 10, 8, 6, 5, 4.1, 4.1, 3]).told).toMatchObject([{ fall: 7, after: 7 }]);
  });

  test('is told once, however long the fall goes on', () => {
    expect(turned([0, 10, 8, 6, 5, 4, 3, 2, 1, 0, 0, 3]).told).toHaveLength(1);
  });

  test('stands over the lowest before it and after it', () => {
    expect(turned([0, 10, 5, 12, 3, 9, 8]).told).toEqual([
      { place: 1, height: 10, rise: 10, fall: 5, after: 3 },
      { place: 3, height: 12, rise: 7, fall: 9, after: 5 },
    ]);
    expect(turned([5, 4.5, 5.4, 5.5, 4, 5]).told).toEqual([
      { place: 3, height: 5.5, rise: 1, fall: 1.5, after: 5 },
    ]);
  });

  test('is not where the jaws stood before they first fell', () => {
    expect(turned([9, 8.5, 3, 4]).told).toEqual([]);
    expect(turned([9, 8.5, 3, 3, 3, 3, 3, 8, 2, 3]).told).toMatchObject([{ place: 7, rise: 5, fall: 6 }]);
  });

  test('is the first of as high ones, and a flicker on the way up is none', () => {
    expect(turned([0, 10, 10, 5, 6]).told).toMatchObject([{ place: 1 }]);
    expect(turned([0, 4, 3.5, 8, 7.5, 10, 5, 6]).told).toMatchObject([{ place: 5, rise: 10 }]);
  });

  test('under way when the readings end is looked at if it was not told', () => {
    expect(lastTurn(turned([0, 10, 8]).turns)).toEqual({ place: 1, height: 10, rise: 10, fall: 2 });
    expect(lastTurn(turned([0, 10, 8, 6, 5, 4]).turns)).toBeNull();
    for (const none of [
      [0, 10],
      [0, 0.5],
      [9, 3],
      [0, 10, 5, 6],
    ])
      expect(lastTurn(turned(none).turns)).toBeNull();
  });
});

describe('the usual swing', () => {
  test('is the third largest of the last nine, the jaws’ coming not counted', () => {
    const { swings } = turned([0, 10, 5, 12, 3, 9]).turns;
    expect(swings).toEqual({ first: false, last: [5, 7, 9], usual: 5 });
    const growing = Array.from({ length: 40 }, (_, i) => (i % 2 ? i : -i));
    const { last, usual } = turned(growing).turns.swings;
    expect(last).toHaveLength(9);
    expect(usual).toBe([...last].sort((a, b) => b - a)[2]);
    expect(last.at(-1)).toBe(38 + 37);
    expect(turned([0, 10, 5, 12, 6]).turns.swings.usual).toBe(0);
    expect(turned([0, 100, 50, 51]).turns.swings).toMatchObject({ last: [50], usual: 0 });
  });

  test.each([
    [[9, 7, 5, 3], 5],
    [[3, 5, 7, 9], 5],
    [[5, 9, 3, 7], 5],
    [[7, 3, 9, 5], 5],
    [[5, 5, 5, 9], 5],
    [[9, 7], 0],
  ])('of swings %j is %s', (sizes, usual) => {
    // Each swing goes down or up from where the last one ended, after the jaws' coming.
    const heights = [0, 50];
    for (const [i, size] of sizes.entries()) heights.push((heights.at(-1) ?? 0) + (i % 2 ? size : -size));
    const flick = (heights.at(-1) ?? 0) + (sizes.length % 2 ? 1 : -1);
    expect(turned([...heights, flick]).turns.swings).toMatchObject({ last: sizes, usual });
  });

  test.each([
    // 2.5 steps at the least; a tenth of the usual swing above that, up to 0.03 % of the size.
    [0, 42, 0.01, 0.025],
    [0.2, 42, 0.01, 0.025],
    [0.05, 42, 0.001, 0.005],
    [0.2, 42, 0.001, 0.0126],
    [0.2, -42, 0.001, 0.0126],
  ])('of %s on a size of %s shown in %s makes the least swing %s', (usual, size, step, least) => {
    const turns = startTurns(0, size);
    const swings = { ...turns.swings, usual };
    expect(leastSwing({ ...turns, swings }, size, step)).toBeCloseTo(least, 12);
  });

  test('as it starts nothing has swung and nothing has turned', () => {
    expect(startTurns(3, 42)).toEqual({
      phase: 'level',
      high: { place: 3, height: 42 },
      low: 42,
      base: 42,
      told: true,
      swings: { first: true, last: [], usual: 0 },
    });
  });
});

/** A line of readings through the screen: the places believed, thrown out, and where a course began. */
function screened(all: readonly (readonly [value: number, at: number, otherUnit?: 'other'])[]) {
  let screen: Screen = startScreen;
  const [believed, thrown, fresh]: [number[], number[], number[]] = [[], [], []];
  for (const [place, [value, at, other]] of all.entries()) {
    const reading: Reading = { value: mm(value), unit: 'mm', step: mm(0.01), text: '', at: millis(at) };
    const heard: Heard = { place, reading, sameUnit: other === undefined };
    const so = screenReading(screen, heard);
    screen = so.screen;
    believed.push(...so.believed.map((one) => one.place));
    thrown.push(...so.thrown.map((one) => one.place));
    if (so.fresh) fresh.push(place);
  }
  return { believed, thrown, fresh, doubted: screen.doubted.map((one) => one.place) };
}
const every = (values: readonly number[], gap = 125) => values.map((value, i) => [value, gap * i] as const);

describe('a reading', () => {
  test('is believed where it follows the last within four in a hundred, with half a tenth to spare', () => {
    // From 50: 2 mm and 0.05 mm.
    expect(screened(every([50, 52.04])).believed).toEqual([0, 1]);
    expect(screened(every([50, 52.06]))).toMatchObject({ believed: [0], doubted: [1] });
    expect(screened(every([50, 47.94]))).toMatchObject({ believed: [0], doubted: [1] });
    expect(screened(every([0, 0.04])).believed).toEqual([0, 1]);
  });

  test('that does not follow is thrown out once one that does comes, up to four in a row', () => {
    expect(screened(every([50, 90, 50]))).toEqual({ believed: [0, 2], thrown: [1], fresh: [0], doubted: [] });
    expect(screened(every([50, 90, 12, 90, 12, 50]))).toMatchObject({
      believed: [0, 5],
      thrown: [1, 2, 3, 4],
    });
  });

  test('and four more elsewhere are where the jaws are now, from where they follow one another', () => {
    expect(screened(every([50, 30, 30, 30, 30, 30]))).toEqual({
      believed: [0, 1, 2, 3, 4, 5],
      thrown: [],
      fresh: [0, 5],
      doubted: [],
    });
    expect(screened(every([50, 90, 12, 30, 30.5, 31]))).toMatchObject({
      believed: [0, 3, 4, 5],
      fresh: [0, 5],
    });
    expect(screened(every([50, 90, 12, 90, 12, 30, 30]))).toMatchObject({ believed: [0, 5, 6] });
  });

  test('that no caliper can show is thrown out at once and changes nothing', () => {
    const so = screened(every([50, 11_001, Number.NaN, -11_001, 50]));
    expect(so).toEqual({ believed: [0, 4], thrown: [1, 2, 3], fresh: [0], doubted: [] });
    expect(screened(every([11_000])).believed).toEqual([0]);
  });

  test('after a silence, or before the last in time, begins a course; what was doubted is thrown out', () => {
    const silent = (gap: number) =>
      screened([
        [50, 0],
        [90, 125],
        [30, 125 + gap],
        [30, 250 + gap],
      ]);
    expect(silent(1501)).toEqual({ believed: [0, 2, 3], thrown: [1], fresh: [0, 2], doubted: [] });
    expect(silent(1500)).toMatchObject({ believed: [0], doubted: [1, 2, 3] });
    expect(
      screened([
        [50, 1000],
        [50, 999],
      ]),
    ).toMatchObject({ believed: [0, 1], fresh: [0, 1] });
    expect(
      screened([
        [50, 1000],
        [50, 1000],
      ]),
    ).toMatchObject({ believed: [0, 1], fresh: [0] });
  });

  test('in another unit is never believed, and does not make those after it elsewhere', () => {
    const slip = screened([
      [50, 0],
      [50, 125, 'other'],
      [50, 250],
    ]);
    expect(slip).toEqual({ believed: [0, 2], thrown: [1], fresh: [0], doubted: [] });
    const after = screened([
      [50, 0],
      [50, 2000, 'other'],
      [50, 2125],
    ]);
    expect(after).toMatchObject({ believed: [0], fresh: [0, 1], doubted: [1, 2] });
    const many = screened([
      [50, 0],
      [30, 125],
      [30, 250, 'other'],
      [30, 375],
      [30, 500],
      [30, 625],
    ]);
    expect(many).toMatchObject({ believed: [0, 3, 4, 5], fresh: [0, 5] });
    const all = screened([
      [50, 0],
      ...Array.from({ length: 5 }, (_, i) => [30, 125 + 125 * i, 'other'] as const),
    ]);
    expect(all).toMatchObject({ believed: [0], fresh: [0, 5], doubted: [] });
  });
});
