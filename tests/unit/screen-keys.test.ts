// Keys: what a keyboard or a typing caliper sends becomes keys, and everything else becomes nothing.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { decodeKeys, type Key, type NamedKey, settleKeys } from '../../src/screen/keys.ts';

const keysOf = (bytes: string): readonly Key[] => decodeKeys('', bytes).keys;
const text = (typed: string): Key[] => [...typed].map((one) => ({ kind: 'text', text: one }));
const paste = (pasted: string): Key => ({ kind: 'paste', text: pasted });
const named = (kind: NamedKey): Key => ({ kind });

describe('keys that are known', () => {
  test.each<[string, readonly Key[]]>([
    ['42.30\r', [...text('42.30'), named('enter')]],
    ['42.30\r\n', [...text('42.30'), named('enter')]],
    ['9\x7f\b', [...text('9'), named('backspace'), named('backspace')]],
    ['\t\x1b[Z', [named('tab'), named('back-tab')]],
    ['\x1b[A\x1b[B\x1bOC\x1b[D', [named('up'), named('down'), named('right'), named('left')]],
    ['\x1b[1;5A', [named('up')]],
    [
      '\x1b[H\x1b[4~\x1b[5~\x1b[6~\x1b[3~',
      [named('home'), named('end'), named('page-up'), named('page-down'), named('delete')],
    ],
    ['\x1bOM', [named('enter')]],
    ['\x03', [named('interrupt')]],
    ['Öl-Ahorn 木', text('Öl-Ahorn 木')],
    ['\x1c\x1a', [named('quit-signal'), named('suspend')]],
    ['\x1b[200~Pear box\r\n of mine\x1b[201~\r', [paste('Pear box of mine'), named('enter')]],
    ['\x1b[200~qqq\x1b[201~', [paste('qqq')]],
    ['\x1b[200~\x1b[A\x07\x1b[201~', [paste('[A')]],
    ['\x1b[200~\r\x1b[201~', []],
  ])('%j', (bytes, keys) => {
    expect(decodeKeys('', bytes)).toEqual({ keys, rest: '' });
  });
});

test.each([
  ['a colour report', '\x1b]11;rgb:0000/0000/0000\x07'],
  ['the same ended the other way', '\x1b]11;rgb:0000/0000/0000\x1b\\'],
  ['a mode report', '\x1b[?997;1n'],
  ['a device report', '\x1b[?62;22c'],
  ['a device string', '\x1bP1$r0m\x1b\\'],
  ['a mouse report', '\x1b[<0;12;7M'],
  ['a focus report', '\x1b[I'],
  ['a key with Alt', '\x1bx'],
  ['an unknown key', '\x1b[97;5u'],
  ['control characters', '\x00\x01\x1f\x9b'],
])('%s makes no key', (_, bytes) => {
  expect(decodeKeys('', bytes)).toEqual({ keys: [], rest: '' });
});

test('an escape byte alone waits, and is the escape key when nothing follows', () => {
  expect(decodeKeys('', '\x1b')).toEqual({ keys: [], rest: '\x1b' });
  expect(settleKeys('\x1b')).toEqual([named('escape')]);
  expect(settleKeys('\x1b[1;')).toEqual([]);
});

test('two escape bytes are the escape key and the beginning of something', () => {
  expect(decodeKeys('\x1b', '\x1b')).toEqual({ keys: [named('escape')], rest: '\x1b' });
});

test('a paste that is too long is cut, and none of it is ever typed', () => {
  const { keys, rest } = decodeKeys('', `\x1b[200~${'q'.repeat(6000)}`);
  expect(keys).toEqual([]);
  const ended = decodeKeys(decodeKeys(rest, 'qqq\x1b[20').rest, '1~');
  expect(ended).toEqual({ keys: [paste('q'.repeat(4090))], rest: '' });
});

test('a string that never ends is let go', () => {
  expect(decodeKeys('', `\x1b]${'x'.repeat(300)}`)).toEqual({ keys: [], rest: '' });
});

const piece = fc.constantFrom(
  '4',
  '.',
  '12.5',
  '\r',
  '\x7f',
  '\x1b[A',
  '\x1b[1;2B',
  '\x1bOC',
  '\x1b[?997;1n',
  '\x1b]0;t\x07',
  'né',
  '木',
  '\x1b[200~qn\x1b[201~',
);

test('however the bytes are split, the keys are the same', () => {
  fc.assert(
    fc.property(fc.array(piece, { maxLength: 8 }), fc.array(fc.nat(60), { maxLength: 6 }), (pieces, cuts) => {
      const bytes = pieces.join('');
      const edges = [...new Set([0, ...cuts.filter((cut) => cut < bytes.length), bytes.length])].sort(
        (a, b) => a - b,
      );
      let rest = '';
      const keys: Key[] = [];
      for (const [at, edge] of edges.slice(1).entries()) {
        const decoded = decodeKeys(rest, bytes.slice(edges[at], edge));
        keys.push(...decoded.keys);
        rest = decoded.rest;
      }
      expect(rest).toBe('');
      expect(keys).toEqual(keysOf(bytes));
    }),
  );
});

test('no bytes at all make a control character into text', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'binary', maxLength: 40 }), (bytes) => {
      const typed = keysOf(bytes).map((key) => (key.kind === 'text' ? key.text : ''));
      expect(typed.join('')).not.toMatch(/\p{Cc}/u);
    }),
  );
});
