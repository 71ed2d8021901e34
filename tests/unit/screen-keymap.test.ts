// What a key means depends on what is shown: orders at a stage, words in a form or a note, digits anywhere numbers go.
import { describe, expect, test } from 'vitest';
import type { Bench } from '../../src/core/bench/state.ts';
import { eventFor } from '../../src/screen/keymap.ts';
import type { Key, NamedKey } from '../../src/screen/keys.ts';
import { kit, Table } from '../support/bench.ts';

const text = (typed: string): Key => ({ kind: 'text', text: typed });
const key = (kind: NamedKey): Key => ({ kind });
const stage = (name: string): Bench => new Table().to(name).bench;

describe('at a stage', () => {
  const bench = stage('bore size');
  test.each([
    [text('a'), { kind: 'action', action: 'again' }],
    [text('A'), { kind: 'action', action: 'again' }],
    [text(' '), { kind: 'action', action: 'keep' }],
    [key('right'), { kind: 'action', action: 'next' }],
    [key('back-tab'), { kind: 'action', action: 'back' }],
    [text('4'), { kind: 'typed', text: '4' }],
    [text('-'), { kind: 'typed', text: '-' }],
    [text('m'), { kind: 'unit-switched' }],
    [key('enter'), { kind: 'entered' }],
    [key('interrupt'), { kind: 'quit-asked' }],
    [text('x'), undefined],
    [key('home'), undefined],
  ] as const)('%j', (pressed, event) => {
    expect(eventFor(pressed, bench)).toEqual(event);
  });
});

describe('with a number half typed', () => {
  const bench = new Table().to('bore size').do({ kind: 'typed', text: '42.3' }).bench;
  test.each([
    [text('m'), { kind: 'typed', text: 'm' }],
    [text('n'), { kind: 'typed', text: 'n' }],
    [text('"'), { kind: 'typed', text: '"' }],
    [text('q'), { kind: 'typed', text: 'q' }],
    [key('tab'), { kind: 'entered' }],
    [key('backspace'), { kind: 'erased' }],
  ] as const)('%j', (pressed, event) => {
    expect(eventFor(pressed, bench)).toEqual(event);
  });
});

test('plus and minus count detents where threads are cut, and only there', () => {
  expect(eventFor(text('+'), stage('bore thread'))).toEqual({ kind: 'detent-keyed', by: 1 });
  expect(eventFor(text('-'), stage('spigot thread'))).toEqual({ kind: 'detent-keyed', by: -1 });
  expect(eventFor(text('-'), stage('zero'))).toEqual({ kind: 'typed', text: '-' });
});

test('in a form and in a note every letter is a letter', () => {
  const form = new Table().do({ kind: 'form-opened', kit, last: null }).bench;
  const note = new Table().do({ kind: 'note-asked' }).bench;
  for (const bench of [form, note])
    for (const letter of ['q', 'n', ' ', '?', '木'])
      expect(eventFor(text(letter), bench)).toEqual({ kind: 'typed', text: letter });
  expect(eventFor(key('tab'), form)).toEqual({ kind: 'moved', by: 1 });
  expect(eventFor(key('finish'), form)).toEqual({ kind: 'form-finished' });
});

test('pasted text is text everywhere, and never an order', () => {
  const pasted: Key = { kind: 'paste', text: 'qqq' };
  const benches = [stage('bore size'), new Table().bench, new Table().do({ kind: 'note-asked' }).bench];
  for (const bench of benches) expect(eventFor(pasted, bench)).toEqual({ kind: 'typed', text: 'qqq' });
  expect(eventFor(pasted, new Table().do({ kind: 'help-switched' }).bench)).toBeUndefined();
});

test('in the help, only leaving it is left', () => {
  const help = new Table().do({ kind: 'help-switched' }).bench;
  expect(eventFor(text('?'), help)).toEqual({ kind: 'help-switched' });
  expect(eventFor(text('q'), help)).toEqual({ kind: 'help-switched' });
  expect(eventFor(text('n'), help)).toBeUndefined();
});
