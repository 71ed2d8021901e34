// The huge digits: every one like no other, at every size and in every kind of glyphs.
import { describe, expect, test } from 'vitest';
import { bigText, FACES } from '../../src/screen/digits.ts';

const DIGITS = [...'0123456789'];
const heights = { small: 3, medium: 5, large: 7, mediumTwice: 10, largeTwice: 14 };

describe.each(FACES)('the face of $face.height dots', ({ face }) => {
  test('has drawings of one height and straight sides', () => {
    for (const rows of face.glyphs.values()) {
      expect(rows).toHaveLength(face.height);
      expect(new Set(rows.map((row) => row.length)).size).toBe(1);
      expect(rows.join('')).toMatch(/^[#.]*$/);
    }
  });

  test('has digits that are equally wide, so that a number does not dance', () => {
    expect(new Set(DIGITS.map((digit) => face.glyphs.get(digit)?.[0]?.length)).size).toBe(1);
  });
});

describe.each(['all', 'blocks', 'ascii'] as const)('in %s', (glyphs) => {
  test.each(Object.entries(heights))('%s digits differ, each from each', (_, rows) => {
    const drawn = DIGITS.map((digit) => bigText(digit, 80, rows, glyphs));
    for (const one of drawn) expect(one).toHaveLength(rows);
    expect(new Set(drawn.map((one) => one.join('\n'))).size).toBe(10);
  });
});

test('a number is drawn as large as there is room for', () => {
  const height = (columns: number, rows: number): number => bigText('42.30', columns, rows, 'all').length;
  const heights = [120, 90, 80, 50, 40, 30, 10].map((columns) => height(columns, 20));
  expect(heights).toEqual([14, 10, 7, 5, 5, 3, 1]);
  expect(height(120, 6)).toBe(5);
});

test('all words of the trial and the record can be drawn', () => {
  for (const word of ['SEIZED', 'TIGHT', 'RUNNING', 'LOOSE', 'RELIEVED', 'RUNS', 'OPEN', 'CLOSED', 'OK'])
    expect(bigText(word, 80, 5, 'all')).toHaveLength(5);
});

test('five and six as they are seen from two metres', () => {
  expect(bigText('56', 20, 5, 'all')).toEqual([
    '████████ ▄██████ ',
    '██       ██      ',
    '███████▄ ███████▄',
    '      ██ ██    ██',
    '▀██████▀ ▀██████▀',
  ]);
});

test('a number is drawn where it fits, even if a longer one would not', () => {
  expect(bigText('0.039', 35, 10, 'all', '0.0000')).toHaveLength(3);
});
