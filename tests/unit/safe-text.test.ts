// Text from outside: nothing in it commands a terminal, breaks a file's line or becomes markup, and none is cut inside a character.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  abbreviated,
  capitalised,
  characters,
  erasedText,
  firstCharacters,
  forFile,
  forMarkup,
  forScreen,
  pathForScreen,
  plainName,
} from '../../src/core/safe-text.ts';

const anything = fc.string({ unit: 'binary', maxLength: 120 });

describe('for a screen', () => {
  test.each([
    ['an escape sequence', 'pear\x1b[2Jbox', 'pear?[2Jbox'],
    ['a C1 control', 'a\x9b31mb', 'a?31mb'],
    ['line ends and tabs', 'one\r\ntwo\tthree', 'one two three'],
    ['text that turns the direction', 'lid\u202edil', 'lid?dil'],
    ['a tag beyond the first plane', 'a\u{e0041}b', 'a?b'],
    ['half a character', 'a\ud800b', 'a?b'],
  ])('%s cannot act', (_, given, shown) => {
    expect(forScreen(given)).toBe(shown);
  });

  test('no unsafe character is left, and no more characters than asked for', () => {
    fc.assert(
      fc.property(anything, fc.integer({ min: 1, max: 60 }), (text, most) => {
        const shown = forScreen(text, most);
        expect(shown).not.toMatch(/[\p{C}\p{Zl}\p{Zp}]/u);
        expect([...characters(shown)].length).toBeLessThanOrEqual(most);
      }),
    );
  });

  test('a path is never cut', () => {
    expect(pathForScreen(`/${'a'.repeat(900)}\n`)).toBe(`/${'a'.repeat(900)} `);
  });
});

test('for a file, JSON reads back as the same value, and nothing in a line moves a cursor', () => {
  fc.assert(
    fc.property(anything, (text) => {
      const line = forFile(JSON.stringify({ text }));
      expect(JSON.parse(line)).toEqual({ text });
      expect(line).not.toMatch(/[\p{C}\p{Zl}\p{Zp}]/u);
    }),
  );
});

test('for markup, nothing in a text is an element, a quote or a reference', () => {
  expect(forMarkup('<b title="x">&\'\u202e</b>')).toBe('&lt;b title=&quot;x&quot;&gt;&amp;&#39; &lt;/b&gt;');
  fc.assert(fc.property(anything, (text) => void expect(forMarkup(text)).not.toMatch(/[<>"'\p{C}]/u)));
});

test('on paper a run of what is unsafe is one blank, and a letter carries two marks at most', () => {
  expect(forMarkup('a\u0000\u202e\u0001b')).toBe('a b');
  expect(forMarkup('a\u0301\u0302\u0303\u0304bc')).toBe('a\u0301\u0302bc');
});

test.each([
  ['60° vee, large', '60-vee-large'],
  ['Birne/Üb\u0301er ½', 'birne-uber-1-2'],
  ['../etc/passwd', 'etc-passwd'],
  ['-- 梨 --', ''],
  [`${'x'.repeat(39)} y`, 'x'.repeat(39)],
  ['X'.repeat(50), 'x'.repeat(40)],
])('of %j a file is named %j', (name, plain) => {
  expect(plainName(name)).toBe(plain);
});

test('a sentence starts with a capital, and the rest stays as it is', () => {
  expect(['can’t open A', 'élan', ''].map(capitalised)).toEqual(['Can’t open A', 'Élan', '']);
});

describe('cutting', () => {
  test('keeps every character whole as a reader sees it', () => {
    const [family, long] = ['👩‍👧', 'x'.repeat(79)];
    expect(firstCharacters(`${long}${family}y`, 80)).toBe(`${long}${family}`);
    expect(firstCharacters('o\u0308o\u0308', 1)).toBe('o\u0308');
    expect([erasedText('ab📦'), erasedText('')]).toEqual(['ab', '']);
  });

  test('says so too where one character is longer than any text', () => {
    expect(forScreen(`a${'\u0301'.repeat(20)}`, 1)).toBe('…');
    expect(forScreen(`a${'\u0301'.repeat(20)}`, 2)).toMatch(/^á\u0301*$/);
  });

  test('says with an ellipsis that something was left off', () => {
    expect([abbreviated('pear box', 8), abbreviated('pear box', 7)]).toEqual(['pear box', 'pear b…']);
  });
});
