// Practice in rocking: readings in, miss and score out; on virtual jaws and on the turner's own ring.
import { describe, expect, test } from 'vitest';
import { practiceAdvice, scoreOf } from '../../src/core/bench/practice.ts';
import type { Practice, PracticeResult } from '../../src/core/bench/state.ts';
import type { Teaching } from '../../src/core/bench/teaching.ts';
import { mm } from '../../src/core/units.ts';
import { eventFor } from '../../src/screen/keymap.ts';
import { sceneOf } from '../../src/screen/scenes/scene-of.ts';
import type { Table } from '../support/bench.ts';
import { opened, rock } from '../support/moments/begun.ts';

const practising = (): Table => opened().do({ kind: 'practice-opened', measuring: undefined });
const virtual = (bore: number): Teaching => ({
  pace: 1,
  paused: false,
  mishaps: [],
  truth: { bore: mm(bore), spigot: null, depth: { female: mm(0), male: mm(0) } },
});
const practiceIn = ({ bench }: Table): Practice => {
  if (bench.mode.kind !== 'practice') throw new Error(`not practising but at ${bench.mode.kind}`);
  return bench.mode.practice;
};
const result = (miss: number, spread = 0.01, strokes = 6): PracticeResult => ({
  measured: mm(40 + miss),
  real: mm(40),
  spread: mm(spread),
  strokes,
});

test.each([
  [result(-0.031), 'reads-small'],
  [result(0.031), 'reads-large'],
  [result(-0.03), 'good'],
  [result(0.01, 0.021), 'hasty'],
  [result(0.01, 0.02, 4), 'few-strokes'],
  [result(0.01, 0.02, 5), 'good'],
] as const)('of %o the advice is %s', (measured, advice) => expect(practiceAdvice(measured)).toBe(advice));

describe('the score', () => {
  test('waits for three measurements', () => {
    expect(scoreOf([result(0.01), result(0.01)])).toBeNull();
    expect(scoreOf([result(0.01), result(0.01), result(0.01)])).not.toBeNull();
  });

  test('is the mean of the misses without their sign, and the worst', () => {
    const score = scoreOf([result(0.01), result(-0.02), result(0.06)]);
    expect(score?.mean).toBeCloseTo(0.03, 9);
    expect(score?.worst).toBeCloseTo(0.06, 9);
  });

  test.each([
    [0.03, 'sure'],
    [0.031, 'runs'],
    [0.07, 'runs'],
    [0.071, 'spoils'],
  ] as const)('with a worst miss of %d mm is %s', (worst, word) =>
    expect(scoreOf([result(0), result(0), result(-worst)])?.word).toBe(word),
  );
});

describe('with a ring of known size', () => {
  test('nothing is measured before the size is typed, and the screen asks for it', () => {
    const table = rock(practising(), 40, 6);
    expect(sceneOf(table.bench).standing?.word).toBe('WHICH RING?');
    table.act('keep');
    expect(table.bench.notice).toEqual({ kind: 'refused', why: { kind: 'missing', what: 'ring' } });
    expect(practiceIn(table).results).toEqual([]);
  });

  test.each(['4.9', '151', 'forty', '-40'])('"%s" is no ring, and is refused with what is', (text) => {
    const table = practising().type(text);
    expect(practiceIn(table).ring).toBeNull();
    expect(table.bench.notice).toMatchObject({
      why: { found: text, accepted: 'the size marked on the ring, from 5 to 150 mm' },
    });
  });

  test('a rocked ring is told with its miss, its spread and its strokes; Enter goes on', () => {
    const table = rock(practising().type('40.00'), 40, 6).act('keep');
    const [{ measured, real, strokes } = result(9)] = practiceIn(table).results;
    expect(real).toBe(40);
    expect(measured).toBeCloseTo(40, 1);
    expect(strokes).toBeGreaterThanOrEqual(5);
    expect(sceneOf(table.bench).standing?.about).toMatch(/^measured 40\.0\d|39\.9\d, truly 40\.00 mm$/);
    rock(table.act('keep'), 40, 6).act('keep');
    expect(practiceIn(table).results).toHaveLength(2);
  });

  test('peaks that do not agree are not scored, and the screen says why', () => {
    const table = practising().type('40').reads(40, 30).act('keep');
    expect(practiceIn(table).results).toEqual([]);
    expect(table.bench.notice).toMatchObject({ kind: 'refused' });
  });

  test('before the jaws were rocked the screen says so, and offers no typing', () => {
    const table = practising().type('40').act('keep');
    expect(table.bench.notice).toEqual({ kind: 'refused', why: { kind: 'missing', what: 'rocking' } });
  });

  test('nothing is kept', () => {
    const before = opened().entries.length;
    const table = rock(practising().type('40'), 40, 6).act('keep', 'keep', 'again', 'next', 'back');
    expect(table.entries).toHaveLength(before);
  });
});

describe('keys', () => {
  test('what is typed can be rubbed out, dropped, and is never longer than a size', () => {
    const table = practising().typing('40.5').do({ kind: 'erased' });
    expect(table.bench.typed).toBe('40.');
    table.do({ kind: 'escaped' });
    expect([table.bench.typed, table.bench.mode.kind]).toEqual(['', 'practice']);
    expect(table.typing('4'.repeat(40)).refusal).toBeNull();
    expect(table.typing('4').refusal).toEqual({
      kind: 'bad-number',
      found: '4'.repeat(41),
      accepted: 'the size of one ring',
    });
    expect(table.bench.typed).toBe('');
  });

  test('with nothing typed they leave, switch the unit, or begin the measurement again', () => {
    const table = rock(practising().type('40'), 40, 2);
    expect(table.do({ kind: 'unit-switched' }).bench.unit).toBe('in');
    expect(table.do({ kind: 'unit-switched' }).bench.unit).toBe('mm');
    expect(table.bench.capture?.readings.length).toBeGreaterThan(20);
    expect(table.act('back').bench.capture?.readings.length).toBeGreaterThan(20);
    expect(practiceIn(table.act('again')).ring).toBe(40);
    expect(table.bench.capture?.readings.length).toBe(0);
    expect(table.do({ kind: 'escaped' }).bench).toMatchObject({ mode: { kind: 'welcome' }, capture: null });
  });

  test('blanks and Enter are no size but the end of a measurement', () => {
    const table = rock(practising().type('40'), 40, 6).typing('  ').do({ kind: 'entered' });
    expect(practiceIn(table).results).toHaveLength(1);
    expect(table.bench.capture).toBeNull();
    expect(table.reads(40, 2).bench.capture).toBeNull();
  });

  test.each([5, 150])('a ring of %d mm is one', (size) => {
    expect(practiceIn(practising().type(`${size}`)).ring).toBe(size);
  });
});

describe('with virtual jaws', () => {
  const atJaws = (): Table => practising().do({ kind: 'teaching-changed', teaching: virtual(42) });

  test('the true size is told once it is measured', () => {
    const table = rock(atJaws(), 42, 6);
    expect(JSON.stringify(sceneOf(table.bench))).not.toContain('truly');
    table.act('keep');
    expect(sceneOf(table.bench).standing).toMatchObject({ word: 'GOOD' });
    expect(sceneOf(table.bench).standing?.about).toContain('truly 42.00 mm');
  });

  test('jaws that never pass the widest place are told to swing farther', () => {
    const table = rock(practising().do({ kind: 'teaching-changed', teaching: virtual(42.06) }), 42, 6);
    table.act('keep');
    expect(sceneOf(table.bench).standing?.word).toBe('TOO SMALL');
    expect(sceneOf(table.bench).next).toMatch(/^Swing farther/);
  });

  test('no size is taken from the keyboard', () => {
    const table = atJaws().type('42.00');
    expect(table.bench.notice).toMatchObject({ why: { kind: 'bad-number', found: '42.00' } });
  });

  test('arrows send the jaws; elsewhere they go to the stage beside', () => {
    expect(eventFor({ kind: 'left' }, atJaws().bench)).toEqual({
      kind: 'teaching-asked',
      order: 'jaws-left',
    });
    expect(eventFor({ kind: 'right' }, atJaws().bench)).toEqual({
      kind: 'teaching-asked',
      order: 'jaws-right',
    });
    expect(eventFor({ kind: 'left' }, opened().bench)).toEqual({ kind: 'action', action: 'back' });
  });
});
