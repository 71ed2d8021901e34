// Keys: what a keyboard or a typing caliper sends becomes keys, and everything else becomes nothing; what a key means depends on what
// is shown: orders at a stage, words in a form or a note, digits anywhere numbers go.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { HandEvent } from '../../src/core/bench/event.ts';
import type { Bench } from '../../src/core/bench/state.ts';
import { eventFor } from '../../src/screen/keymap.ts';
import { decodeKeys, type Key, type NamedKey, settleKeys } from '../../src/screen/keys.ts';
import { kit, Table } from '../support/bench.ts';

const keysOf = (bytes: string): readonly Key[] => decodeKeys('', bytes).keys;
const text = (typed: string): Key[] => [...typed].map((one) => ({ kind: 'text', text: one }));
const paste = (pasted: string): Key => ({ kind: 'paste', text: pasted });
const named = (...kinds: readonly NamedKey[]): Key[] => kinds.map((kind) => ({ kind }));

test.each<[bytes: string, keys: readonly Key[]]>([
  ['42.30\r', [...text('42.30'), ...named('enter')]],
  ['42.30\r\n', [...text('42.30'), ...named('enter')]],
  ['9\x7f\b', [...text('9'), ...named('backspace', 'backspace')]],
  ['\t\x1b[Z', named('tab', 'back-tab')],
  ['\x1b[A\x1b[B\x1bOC\x1b[D', named('up', 'down', 'right', 'left')],
  ['\x1b[1;5A', named('up')],
  ['\x1b[H\x1b[4~\x1b[5~\x1b[6~\x1b[3~', named('home', 'end', 'page-up', 'page-down', 'delete')],
  ['\x1bOM', named('enter')],
  ['\x03', named('interrupt')],
  ['Öl-Ahorn 木', text('Öl-Ahorn 木')],
  ['\x1c\x1a', named('quit-signal', 'suspend')],
  ['\x1b[200~Pear box\r\n of mine\x1b[201~\r', [paste('Pear box of mine'), ...named('enter')]],
  ['\x1b[200~qqq\x1b[201~', [paste('qqq')]],
  ['\x1b[200~\x1b[A\x07\x1b[201~', [paste('[A')]],
  ['\x1b[200~\r\x1b[201~', []],
  // Reports of colour, mode, device, mouse and focus; a key with Alt, an unknown one, control characters, a string without an end.
  ['\x1b]11;rgb:0000/0000/0000\x07', []],
  ['\x1b]11;rgb:0000/0000/0000\x1b\\', []],
  ['\x1b[?997;1n', []],
  ['\x1b[?62;22c', []],
  ['\x1bP1$r0m\x1b\\', []],
  ['\x1b[<0;12;7M', []],
  ['\x1b[I', []],
  ['\x1bx', []],
  ['\x1b[97;5u', []],
  ['\x00\x01\x1f\x9b', []],
  [`\x1b]${'x'.repeat(300)}`, []],
])('%j is decoded', (bytes, keys) => {
  expect(decodeKeys('', bytes)).toEqual({ keys, rest: '' });
});

test('an escape byte alone waits, and is the escape key when nothing follows, or another one', () => {
  expect(decodeKeys('', '\x1b')).toEqual({ keys: [], rest: '\x1b' });
  expect(settleKeys('\x1b')).toEqual(named('escape'));
  expect(settleKeys('\x1b[1;')).toEqual([]);
  expect(decodeKeys('\x1b', '\x1b')).toEqual({ keys: named('escape'), rest: '\x1b' });
});

test('a paste that is too long is cut, and none of it is ever typed', () => {
  const { keys, rest } = decodeKeys('', `\x1b[200~${'q'.repeat(6000)}`);
  expect(keys).toEqual([]);
  const ended = decodeKeys(decodeKeys(rest, 'qqq\x1b[20').rest, '1~');
  expect(ended).toEqual({ keys: [paste('q'.repeat(4090))], rest: '' });
});

const PIECES = ['4', '.', '12.5', '\r', '\x7f', '\x1b[A', '\x1b[1;2B', '\x1bOC', '\x1b[?997;1n', 'né', '木'];
const piece = fc.constantFrom(...PIECES, '\x1b]0;t\x07', '\x1b[200~qn\x1b[201~');

test('however the bytes are split, the keys are the same', () => {
  fc.assert(
    fc.property(fc.array(piece, { maxLength: 8 }), fc.array(fc.nat(60), { maxLength: 6 }), (pieces, cuts) => {
      const bytes = pieces.join('');
      const edges = [0, ...cuts.filter((cut) => cut < bytes.length), bytes.length].sort((a, b) => a - b);
      let rest = '';
      const keys = edges.slice(1).flatMap((edge, at) => {
        const decoded = decodeKeys(rest, bytes.slice(edges[at], edge));
        rest = decoded.rest;
        return decoded.keys;
      });
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

const BENCHES = {
  welcome: new Table().bench,
  zero: new Table().to('zero').bench,
  'bore thread': new Table().to('bore thread').bench,
  'bore size': new Table().to('bore size').bench,
  'spigot thread': new Table().to('spigot thread').bench,
  'half typed': new Table().to('bore size').do({ kind: 'typed', text: '42.3' }).bench,
  form: new Table().do({ kind: 'form-opened', kit, last: null }).bench,
  note: new Table().do({ kind: 'note-asked' }).bench,
  help: new Table().do({ kind: 'help-switched' }).bench,
} as const satisfies { readonly [shown: string]: Bench };

const typed = (letters: string): HandEvent => ({ kind: 'typed', text: letters });
const pasted = paste('qqq');

test.each<[shown: keyof typeof BENCHES, pressed: string | Key, event: HandEvent | undefined]>([
  ['bore size', 'a', { kind: 'action', action: 'again' }],
  ['bore size', 'A', { kind: 'action', action: 'again' }],
  ['bore size', ' ', { kind: 'action', action: 'keep' }],
  ['bore size', { kind: 'right' }, { kind: 'action', action: 'next' }],
  ['bore size', { kind: 'back-tab' }, { kind: 'action', action: 'back' }],
  ['bore size', '4', typed('4')],
  ['bore size', '-', typed('-')],
  ['bore size', 'm', { kind: 'unit-switched' }],
  ['bore size', { kind: 'enter' }, { kind: 'entered' }],
  ['bore size', { kind: 'interrupt' }, { kind: 'quit-asked' }],
  ['bore size', 'x', undefined],
  ['bore size', { kind: 'home' }, undefined],
  ['half typed', 'm', typed('m')],
  ['half typed', 'n', typed('n')],
  ['half typed', '"', typed('"')],
  ['half typed', 'q', typed('q')],
  ['half typed', { kind: 'tab' }, { kind: 'entered' }],
  ['half typed', { kind: 'backspace' }, { kind: 'erased' }],
  // Plus and minus count detents where threads are cut, and only there.
  ['bore thread', '+', { kind: 'detent-keyed', by: 1 }],
  ['spigot thread', '-', { kind: 'detent-keyed', by: -1 }],
  ['zero', '-', typed('-')],
  // In a form and in a note every letter is a letter.
  ...(['form', 'note'] as const).flatMap((shown) =>
    ['q', 'n', ' ', '?', '木'].map(
      (letter) => [shown, letter, typed(letter)] as [typeof shown, string, HandEvent],
    ),
  ),
  ['form', { kind: 'tab' }, { kind: 'moved', by: 1 }],
  ['form', { kind: 'finish' }, { kind: 'form-finished' }],
  // Pasted text is text everywhere, and never an order.
  ['bore size', pasted, typed('qqq')],
  ['welcome', pasted, typed('qqq')],
  ['note', pasted, typed('qqq')],
  ['help', pasted, undefined],
  // In the help, only leaving it is left.
  ['help', '?', { kind: 'help-switched' }],
  ['help', 'q', { kind: 'help-switched' }],
  ['help', 'n', undefined],
])('at %s, %j is %j', (shown, pressed, event) => {
  const key: Key = typeof pressed === 'string' ? { kind: 'text', text: pressed } : pressed;
  expect(eventFor(key, BENCHES[shown])).toEqual(event);
});
