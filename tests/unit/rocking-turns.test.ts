// Where values turned, and which turns are rocks, with heights written by hand: one step is 0.01 mm.
import { describe, expect, test } from 'vitest';
import { isRock, lastTurn, startTurns, type Turn, turnOn } from '../../src/core/measure/turns.ts';
import { readingOf } from '../support/readings.ts';

/** Heights in hundredths of a millimetre above a size. */
function course(heights: readonly number[], size = 50) {
  const [first = 0, ...rest] = heights.map((height) => size + height / 100);
  let turns = startTurns(0, first);
  const found: Turn[] = [];
  rest.forEach((height, i) => {
    turns = turnOn(turns, i + 1, height, 0.01);
    if (turns.turn) found.push(turns.turn);
  });
  return { turns, found };
}

/** A turn as its place, height, rise and fall. */
type InSteps = readonly number[];
const inSteps = ({ place, height, rise, fall }: Turn): InSteps =>
  [place, (height - 50) * 100, rise * 100, fall * 100].map((value) => Math.round(value * 1e6) / 1e6);

test.each<[string, readonly number[], readonly InSteps[]]>([
  ['none while the values fall', [0, 10, 20, 15, 8], []],
  ['one once they rise again', [0, 10, 20, 15, 8, 11], [[2, 20, 20, 12]]],
  ['by 2.5 steps', [0, 10, 20, 15, 8, 10], []],
  [
    'two',
    [-5, 20, 0, 30, 10, 40],
    [
      [1, 20, 25, 20],
      [3, 30, 30, 20],
    ],
  ],
  ['none three readings later', [0, 20, 15, 10, 8], []],
  ['one four readings later', [0, 20, 15, 10, 9, 8], [[1, 20, 20, 12]]],
  ['none before it fell by six tenths', [0, 20, 15, 10, 9, 8.1], []],
  ['one after', [0, 20, 15, 10, 9, 8.1, 7], [[1, 20, 20, 13]]],
  ['reported once', [0, 20, 15, 10, 9, 8, 7, 6, 0, 5], [[1, 20, 20, 12]]],
  ['also where a value stays', [0, 10, 20, 15, 8, 11, 11, 11], [[2, 20, 20, 12]]],
  ['below it', [0, 20, 15, 10, 9, 8, 8, 8], [[1, 20, 20, 12]]],
  ['none of less than 2.5 steps', [0, 2.4, 0, 2.4, 0, 2.4], []],
  [
    'two of more',
    [0, 2.6, 0, 2.6, 0, 2.6],
    [
      [1, 2.6, 2.6, 2.6],
      [3, 2.6, 2.6, 2.6],
    ],
  ],
  ['none where the jaws only come down', [20, 20, 10, 0, 10], []],
  ['from rest', [20, 21, 10, 0, 10], []],
  ['a rise from the lowest before', [0, -1, -2, 1, 20, 10, 13], [[4, 20, 22, 10]]],
  ['the jaws moved', [0, 1, -1, 1, 20, 10, 13], [[4, 20, 21, 10]]],
])('turns: %s, in %o', (_, heights, turns) => {
  expect(course(heights).found.map(inSteps)).toEqual(turns);
});

test.each<[readonly number[], InSteps | null]>([
  [[0, 10, 20], null],
  [[0, 10, 20, 19], null],
  [
    [0, 10, 20, 17],
    [2, 20, 20, 3],
  ],
  [[0, 20, 15, 10, 9, 8], null],
  [[20, 20, 10], null],
  [[0, 20, 10, 30], null],
])(
  'the turn under way at the end of %o is the highest, once a fall has begun and was not reported: %o',
  (heights, turn) => {
    const last = lastTurn(course(heights).turns);
    expect(last && inSteps(last)).toEqual(turn);
  },
);

describe('the usual swing', () => {
  const swings = (count: number, size: number) => Array.from({ length: count }, () => [size, 0]).flat();

  test.each([
    [[100, 0, 100, 0], 0],
    [[100, 0, 100, 0, 100], 100],
    [[100, 0, 90, 0, 80], 90],
    [[80, 0, 90, 0, 100, 0, 70], 90],
    [[...swings(2, 40), 900, 0, ...swings(2, 40)], 40],
    [[...swings(2, 100), ...swings(3, 40), 40], 100],
    [[...swings(2, 100), ...swings(5, 40), 40], 40],
  ])('of %o is the third largest of the last nine, the first rise not counted: %d', (heights, usual) => {
    expect(100 * course([0, ...heights], 200).turns.swings.usual).toBeCloseTo(usual, 9);
  });

  test.each([
    [40, 4, 3.9, 0],
    [40, 4, 4.1, 1],
    [100, 4, 5.9, 0],
    [100, 4, 6.1, 1],
    [100, 1, 2.4, 0],
    [100, 1, 2.6, 1],
  ])(
    'of %d steps, %d times, makes a fall of less than its tenth a wobble, up to 0.03 %% of the size: %d steps, %d turns',
    (swing, count, fall, turns) => {
      // on the way up at a size of 200 mm, 50 steps high
      const heights = [0, ...swings(count, swing), 50, 50 - fall, swing + 60, 0, 60];
      const found = course(heights, 200).found.filter(({ height }) => Math.abs(height - 200.5) < 1e-9);
      expect(found).toHaveLength(turns);
    },
  );
});

describe('a rock', () => {
  const quiet = new Array<number>(32).fill(50);
  /** Third differences of 8 times this many steps, all of them. */
  const restless = (steps: number) => quiet.map((size, i) => size + (i % 2 === 0 ? 0 : steps / 100));
  /** The flicker of which 5 steps are five standard deviations: |third differences| of 4 times it, over 0.3186 and sqrt(20). */
  const flicker = (5 * 0.3186 * Math.sqrt(20)) / (5 * 4);
  const noisy = restless(9);

  test.each<[string, boolean, rise: number, fall: number, swings: readonly number[], readonly number[]]>([
    ['of eight steps', true, 8.01, 20, [], noisy],
    ['either way, at any noise', true, 20, 8.01, [], noisy],
    ['not less', false, 7.9, 20, [], noisy],
    ['either way', false, 20, 7.9, [], noisy],
    ['shallow beside two swings', true, 5, 5, [9, 9], noisy],
    ['not beside one', false, 5, 5, [9], noisy],
    ['nor one that is shallow as well', false, 5, 5, [9, 7.9], noisy],
    ['nor one of more than 4.5 % of the size', false, 5, 5, [9, 226], noisy],
    ['shallow and quiet', true, 5, 5, [], quiet],
    ['five deviations above the noise', true, 5, 5, [], restless(0.99 * flicker)],
    ['not less', false, 5, 5, [], restless(1.01 * flicker)],
    ['by its fall', false, 20, 5, [], restless(1.01 * flicker)],
    ['and by its rise', false, 5, 20, [], restless(1.01 * flicker)],
    ['without readings', true, 5, 5, [], []],
    ['beside a jump', true, 5, 5, [], quiet.map((size, i) => size + (i < 10 ? 0 : 1))],
    [
      'not where a calm beginning is less than a quarter',
      false,
      5,
      5,
      [],
      noisy.map((size, i) => (i < 4 ? 50 : size)),
    ],
    ['3 % of the largest swing', true, 6.1, 9, [200, 100], quiet],
    ['not a tremble of less', false, 5.9, 9, [200, 100], quiet],
    ['either way', false, 9, 5.9, [100, 200], quiet],
    ['beside the jaws coming', true, 5.9, 9, [230, 100], quiet],
  ])('%s: %s', (_, is, rise, fall, swings, sizes) => {
    const turn = { place: 0, height: 50, rise: rise / 100, fall: fall / 100 };
    const last = swings.map((size) => size / 100);
    const turns = { ...startTurns(0, 50), swings: { first: false, last, usual: 0 } };
    const recent = () => sizes.map((size, i) => readingOf(size, 125 * i));
    expect(isRock(turn, turns, 0.01, recent)).toBe(is);
  });
});
