// Where values turned, and which turns are rocks, with heights written by hand: one step is 0.01 mm.
import { describe, expect, test } from 'vitest';
import type { Reading } from '../../src/core/measure/reading.ts';
import { isRock, lastTurn, startTurns, type Turn, type Turns, turnOn } from '../../src/core/measure/turns.ts';
import { millis, mm } from '../../src/core/units.ts';

interface Course {
  readonly turns: Turns;
  readonly found: readonly Turn[];
}

/** Heights in hundredths of a millimetre above a size. */
function course(heights: readonly number[], size = 50): Course {
  const [first = 0, ...rest] = heights.map((height) => size + height / 100);
  let turns = startTurns(0, first);
  const found: Turn[] = [];
  rest.forEach((height, i) => {
    turns = turnOn(turns, i + 1, height, 0.01);
    if (turns.turn) found.push(turns.turn);
  });
  return { turns, found };
}

const turnsIn = (heights: readonly number[]) => course(heights).found.map(inSteps);
const inSteps = ({ place, height, rise, fall }: Turn) =>
  [place, (height - 50) * 100, rise * 100, fall * 100].map((value) => Math.round(value * 1e6) / 1e6);

describe('a turn', () => {
  test('is reported when the values rise again, with its rise and its fall', () => {
    expect(turnsIn([0, 10, 20, 15, 8])).toEqual([]);
    expect(turnsIn([0, 10, 20, 15, 8, 11])).toEqual([[2, 20, 20, 12]]);
    expect(turnsIn([0, 10, 20, 15, 8, 10])).toEqual([]);
    expect(turnsIn([-5, 20, 0, 30, 10, 40])).toEqual([
      [1, 20, 25, 20],
      [3, 30, 30, 20],
    ]);
  });

  test('or four readings later, once it has fallen by six tenths of its rise', () => {
    expect(turnsIn([0, 20, 15, 10, 8])).toEqual([]);
    expect(turnsIn([0, 20, 15, 10, 9, 8])).toEqual([[1, 20, 20, 12]]);
    expect(turnsIn([0, 20, 15, 10, 9, 8.1])).toEqual([]);
    expect(turnsIn([0, 20, 15, 10, 9, 8.1, 7])).toEqual([[1, 20, 20, 13]]);
  });

  test('is reported once', () => {
    expect(turnsIn([0, 20, 15, 10, 9, 8, 7, 6, 0, 5])).toHaveLength(1);
  });

  test('takes 2.5 steps, either way', () => {
    expect(turnsIn([0, 2.4, 0, 2.4, 0, 2.4])).toEqual([]);
    expect(turnsIn([0, 2.6, 0, 2.6, 0, 2.6])).toEqual([
      [1, 2.6, 2.6, 2.6],
      [3, 2.6, 2.6, 2.6],
    ]);
  });

  test('where the jaws only come down from rest is none', () => {
    expect(turnsIn([20, 20, 10, 0, 10])).toEqual([]);
    expect(turnsIn([20, 21, 10, 0, 10])).toEqual([]);
  });
});

describe('where a turn is neither missed nor counted twice', () => {
  test('a value that stays after it is no second one', () => {
    expect(turnsIn([0, 10, 20, 15, 8, 11, 11, 11])).toHaveLength(1);
    expect(turnsIn([0, 20, 15, 10, 9, 8, 8, 8])).toHaveLength(1);
  });

  test('its rise begins at the lowest that was shown before the jaws moved', () => {
    expect(turnsIn([0, -1, -2, 1, 20, 10, 13])).toEqual([[4, 20, 22, 10]]);
    expect(turnsIn([0, 1, -1, 1, 20, 10, 13])).toEqual([[4, 20, 21, 10]]);
  });
});

describe('the usual swing', () => {
  const swings = (count: number, size: number) => Array.from({ length: count }, () => [size, 0]).flat();
  const usual = (heights: readonly number[]) => 100 * course([0, ...heights], 200).turns.swings.usual;

  test('is the third largest of the last nine, the first rise not counted', () => {
    expect(usual([100, 0, 100, 0])).toBe(0);
    expect(usual([100, 0, 100, 0, 100])).toBeCloseTo(100, 9);
    expect(usual([100, 0, 90, 0, 80])).toBeCloseTo(90, 9);
    expect(usual([80, 0, 90, 0, 100, 0, 70])).toBeCloseTo(90, 9);
    expect(usual([...swings(2, 40), 900, 0, ...swings(2, 40)])).toBeCloseTo(40, 9);
    expect(usual([...swings(2, 100), ...swings(3, 40), 40])).toBeCloseTo(100, 9);
    expect(usual([...swings(2, 100), ...swings(5, 40), 40])).toBeCloseTo(40, 9);
  });

  /** The turns of 50 steps' height at a size of 200 mm, with a fall of so much on the way up. */
  const wobbles = (swing: number, count: number, fall: number) =>
    course([0, ...swings(count, swing), 50, 50 - fall, swing + 60, 0, 60], 200).found.filter(
      ({ height }) => Math.abs(height - 200.5) < 1e-9,
    ).length;

  test('makes a fall of less than its tenth a wobble, up to 0.03 % of the size', () => {
    expect([wobbles(40, 4, 3.9), wobbles(40, 4, 4.1)]).toEqual([0, 1]);
    expect([wobbles(100, 4, 5.9), wobbles(100, 4, 6.1)]).toEqual([0, 1]);
    expect([wobbles(100, 1, 2.4), wobbles(100, 1, 2.6)]).toEqual([0, 1]);
  });
});

describe('the turn under way at the end', () => {
  test('is the highest, once a fall has begun and was not reported', () => {
    const last = (heights: readonly number[]) => {
      const turn = lastTurn(course(heights).turns);
      return turn && inSteps(turn);
    };
    expect(last([0, 10, 20])).toBeNull();
    expect(last([0, 10, 20, 19])).toBeNull();
    expect(last([0, 10, 20, 17])).toEqual([2, 20, 20, 3]);
    expect(last([0, 20, 15, 10, 9, 8])).toBeNull();
    expect(last([20, 20, 10])).toBeNull();
    expect(last([0, 20, 10, 30])).toBeNull();
  });
});

describe('a rock', () => {
  const reading = (value: number, i: number): Reading => ({
    value: mm(value),
    unit: 'mm',
    step: mm(0.01),
    text: '',
    at: millis(125 * i),
  });
  const quiet = Array.from({ length: 32 }, (_, i) => reading(50, i));
  /** Third differences of 8 times this many steps, all of them. */
  const restless = (steps: number) => quiet.map((_, i) => reading(50 + (i % 2 === 0 ? 0 : steps / 100), i));
  const turn = (rise: number, fall: number): Turn => ({
    place: 0,
    height: 50,
    rise: rise / 100,
    fall: fall / 100,
  });
  const { turns } = course([0, 30]);
  const swung = (...last: number[]): Turns => ({
    ...turns,
    swings: { first: false, last: last.map((size) => size / 100), usual: 0 },
  });

  test('of eight steps or more is one, at any noise', () => {
    expect(isRock(turn(8.01, 20), swung(), 0.01, () => restless(9))).toBe(true);
    expect(isRock(turn(20, 8.01), swung(), 0.01, () => restless(9))).toBe(true);
    expect(isRock(turn(7.9, 20), swung(), 0.01, () => restless(9))).toBe(false);
    expect(isRock(turn(20, 7.9), swung(), 0.01, () => restless(9))).toBe(false);
  });

  test('that is shallow is one beside two swings that a hand makes, which are no more than 4.5 % of the size', () => {
    expect(isRock(turn(5, 5), swung(9, 9), 0.01, () => restless(9))).toBe(true);
    expect(isRock(turn(5, 5), swung(9), 0.01, () => restless(9))).toBe(false);
    expect(isRock(turn(5, 5), swung(9, 7.9), 0.01, () => restless(9))).toBe(false);
    expect(isRock(turn(5, 5), swung(9, 226), 0.01, () => restless(9))).toBe(false);
  });

  test('that is shallow and alone rises five standard deviations above the noise of the readings', () => {
    // |third differences| of 4 times the flicker, over 0.3186 and sqrt(20), times 5
    const least = (flicker: number) => (5 * 4 * flicker) / 0.3186 / Math.sqrt(20);
    expect(isRock(turn(5, 5), swung(), 0.01, () => quiet)).toBe(true);
    const flicker = 5 / least(1);
    expect(isRock(turn(5, 5), swung(), 0.01, () => restless(0.99 * flicker))).toBe(true);
    expect(isRock(turn(5, 5), swung(), 0.01, () => restless(1.01 * flicker))).toBe(false);
    expect(isRock(turn(5, 5), swung(), 0.01, () => [])).toBe(true);
    expect(isRock(turn(5, 20), swung(), 0.01, () => restless(1.01 * flicker))).toBe(false);
    expect(isRock(turn(20, 5), swung(), 0.01, () => restless(1.01 * flicker))).toBe(false);
  });

  test('is judged by the calmest quarter of the readings, wherever they are', () => {
    const jumped = quiet.map((_, i) => reading(i < 10 ? 50 : 51, i));
    expect(isRock(turn(5, 5), swung(), 0.01, () => jumped)).toBe(true);
    const later = restless(9).map((one, i) => (i < 4 ? reading(50, i) : one));
    expect(isRock(turn(5, 5), swung(), 0.01, () => later)).toBe(false);
  });

  test('is no tremble of less than 3 % of the largest swing on the work', () => {
    expect(isRock(turn(6.1, 9), swung(200, 100), 0.01, () => quiet)).toBe(true);
    expect(isRock(turn(5.9, 9), swung(200, 100), 0.01, () => quiet)).toBe(false);
    expect(isRock(turn(9, 5.9), swung(100, 200), 0.01, () => quiet)).toBe(false);
    expect(isRock(turn(5.9, 9), swung(230, 100), 0.01, () => quiet)).toBe(true);
  });
});
