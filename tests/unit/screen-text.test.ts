// Text from people and devices: nothing in it reaches the terminal but what can be shown in a known width.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  clipped,
  cut,
  fitted,
  isNarrow,
  row,
  rowWidth,
  run,
  safe,
  shorten,
  textWidth,
  wrapped,
} from '../../src/screen/text.ts';
import { Emulator, TABLES } from '../support/terminal-screen.ts';

describe('safe text', () => {
  test.each([
    ['an escape sequence', 'pear\x1b[2Jbox', 'pear?[2Jbox'],
    ['a C1 control', 'a\x9b31mb', 'a?31mb'],
    ['a bell, a backspace, a null', '\x07\x08\x00', '???'],
    ['line ends and tabs', 'one\r\ntwo\tthree', 'one two three'],
    ['a text that turns the direction', 'lid\u202edil', 'lid?dil'],
    ['a zero-width joiner', 'a\u200db', 'a?b'],
    ['an emoji', 'box 📦 done', 'box 📦 done'],
    ['a symbol that is to be drawn in colour', '\u2764\ufe0f', '\u2764\ufe0f'],
    ['a decomposed letter', 'o\u0308l', 'öl'],
    ['a letter that fills a place and is not drawn', 'a\uffa0b', 'a?b'],
    ['wide letters', '木の箱', '木の箱'],
    ['Thai with sara am', 'กล่องน้ำผึ้ง', 'กล่องน้ำผึ้ง'],
    ['Hindi with vowels of their own column', 'नाशपाती', 'नाशपाती'],
    ['a mark that has nothing to stand on', '\u0301a', '?a'],
    ['Hangul letters that make a syllable', '\u1100\u1161', '가'],
    ['a lone surrogate', 'a\ud800b', 'a?b'],
  ])('%s', (_, given, shown) => {
    expect(safe(given)).toBe(shown);
  });

  test('is never longer than allowed', () => {
    expect(safe('x'.repeat(5000), 20)).toBe(`${'x'.repeat(19)}…`);
  });

  test.each(Object.entries(TABLES))(
    'of any kind takes no more than is kept for it, by %s tables',
    async (_, widths) => {
      await fc.assert(
        fc.asyncProperty(fc.string({ unit: 'binary', maxLength: 30 }), async (given) => {
          const shown = safe(given);
          expect(shown).not.toMatch(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}]/u);
          const emulator = new Emulator(200, 2, widths);
          await emulator.write(shown);
          const { row, column } = emulator.cursor;
          expect(row * 200 + column).toBeLessThanOrEqual(textWidth(shown));
        }),
        { numRuns: 60 },
      );
    },
  );

  test.each([
    ['pear', 4],
    ['木の箱', 6],
    ['กล่องน้ำผึ้ง', 8],
    ['नाशपाती', 7],
    ['📦', 2],
    ['קופסה', 5],
    ['ကား', 5],
  ])('%s is kept %i columns', (given, columns) => {
    expect(textWidth(safe(given))).toBe(columns);
  });
});

test('our own drawing is one column a character', () => {
  for (const drawn of ['─┤◆●○◐▲▼▽▸◇×·…±°↑↓', '░▒▓█▀▄', '⠀⣿⡇']) {
    expect(isNarrow(drawn)).toBe(true);
    expect(textWidth(drawn)).toBe([...drawn].length);
  }
});

test('cutting never splits a wide letter', () => {
  expect(cut('木の箱', 3)).toBe('木 ');
  expect(cut('木の箱', 4)).toBe('木の');
  expect(shorten('木の小箱', 5)).toBe('木の…');
  expect(shorten('pear', 4)).toBe('pear');
});

const anyRow = fc
  .array(fc.record({ text: fc.string({ unit: fc.constantFrom('a', ' ', '木', '█', 'é'), maxLength: 9 }) }), {
    maxLength: 5,
  })
  .map((runs) => row(...runs.map(({ text }) => run(text))));

test('rows come out exactly as wide as they are made', () => {
  fc.assert(
    fc.property(anyRow, fc.nat(30), (one, width) => {
      expect(rowWidth(fitted(one, width))).toBe(width);
      expect(rowWidth(clipped(one, width))).toBeLessThanOrEqual(width);
    }),
  );
});

test('sentences are wrapped at blanks, and a number stays with its word or unit', () => {
  expect(wrapped('stop the lathe before the jaws', 14)).toEqual(['stop the lathe', 'before the', 'jaws']);
  expect(wrapped('Press 1 seized, 2 tight', 17)).toEqual(['Press 1 seized,', '2 tight']);
  expect(wrapped('42.30 ± 0.04 mm, 6 peaks', 16)).toEqual(['42.30 ± 0.04 mm,', '6 peaks']);
});
