// Practice in rocking: readings in, miss and score out; on virtual jaws and on the turner's own ring.
import { describe, expect, test } from 'vitest';
import { practiceAdvice, scoreOf } from '../../src/core/bench/practice.ts';
import type { PracticeResult } from '../../src/core/bench/state.ts';
import type { Teaching } from '../../src/core/bench/teaching.ts';
import { mm } from '../../src/core/units.ts';
import { eventFor } from '../../src/screen/keymap.ts';
import { sceneOf } from '../../src/screen/scenes/scene-of.ts';
import type { Table } from '../support/bench.ts';
import { opened, rock } from '../support/moments/begun.ts';
import { ofKind } from '../support/of-kind.ts';
import { no, type Step, story } from '../support/story.ts';

const practising = (script = ''): Table =>
  opened().do({ kind: 'practice-opened', measuring: undefined }).play(script);
/** A ring of 40 mm, its size typed, rocked so often. */
const rocked = (rocks = 6) => rock(practising('=40.00'), 40, rocks);
const truth = { bore: mm(42), spigot: null, depth: { female: mm(0), male: mm(0) } };
const virtual = (bore = 42): Table => {
  const teaching: Teaching = { pace: 1, paused: false, mishaps: [], truth: { ...truth, bore: mm(bore) } };
  return practising().do({ kind: 'teaching-changed', teaching });
};
const practiceIn = ({ bench }: Table) => ofKind('practice', bench.mode).practice;
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
  test('waits for three measurements; it is the mean of the misses without their sign, and the worst', () => {
    expect(scoreOf([result(0.01), result(0.01)])).toBeNull();
    const score = scoreOf([result(0.01), result(-0.02), result(0.06)]);
    expect(score).toMatchObject({ mean: expect.closeTo(0.03, 9), worst: expect.closeTo(0.06, 9) });
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
  const accepted = 'the size marked on the ring, from 5 to 150 mm';
  const long = '4'.repeat(41);
  const practice = (held: object) => ({ mode: { kind: 'practice', practice: held } });

  test.each<Step>([
    ['=4.9', { ...no('bad-number', { found: '4.9', accepted }), ...practice({ ring: null }) }],
    ['=151', no('bad-number', { found: '151', accepted })],
    ['=forty', no('bad-number', { found: 'forty', accepted })],
    ['=-40', no('bad-number', { found: '-40', accepted })],
    ['=5', practice({ ring: 5 })],
    ['=150', practice({ ring: 150 })],
    ['=40 keep', no('missing', { what: 'rocking' })],
    // Peaks that don't agree are not scored.
    ['=40 40x30 keep', { ...no('not-agreed'), ...practice({ results: [] }) }],
    // What is typed can be rubbed out, dropped, and is never longer than a size.
    ['~40.5 erase', { typed: '40.' }],
    ['~40.5 esc', { typed: '', ...practice({}) }],
    [`~${long.slice(1)}`, { refused: null }],
    [`~${long}`, { ...no('bad-number', { found: long, accepted: 'the size of one ring' }), typed: '' }],
  ])('%s', (...step) => story(practising(), step));

  test('nothing is measured before the size is typed, and the screen asks for it', () =>
    story(
      rock(practising(), 40, 6),
      ['', { word: 'WHICH RING?' }],
      ['keep', { ...no('missing', { what: 'ring' }), ...practice({ results: [] }) }],
    ));

  test("a rocked one shows its miss, its spread and its strokes; Enter goes on, blanks aren't a size", () => {
    const table = rocked().play('=__');
    const [{ measured, real, strokes } = result(9)] = practiceIn(table).results;
    expect([measured, real]).toEqual([expect.closeTo(40, 1), 40]);
    expect(strokes).toBeGreaterThanOrEqual(5);
    story(table, ['', { about: expect.stringMatching(/^measured (40\.0\d|39\.9\d), truly 40\.00 mm$/) }]);
    expect(table.play('40x2').bench.capture).toBeNull();
    expect(practiceIn(rock(table.play('keep'), 40, 6).play('keep')).results).toHaveLength(2);
  });

  test('nothing is kept', () => {
    expect(rocked().play('keep keep again next back').entries).toHaveLength(opened().entries.length);
  });

  test('with nothing typed keys switch the unit, begin the measurement again, or leave', () => {
    const table = rocked(2);
    const heard = () => table.bench.capture?.readings.length;
    expect([table.play('unit').bench.unit, table.play('unit').bench.unit]).toEqual(['in', 'mm']);
    expect(heard()).toBeGreaterThan(20);
    table.play('back');
    expect(heard()).toBeGreaterThan(20);
    expect([practiceIn(table.play('again')).ring, heard()]).toEqual([40, 0]);
    expect(table.play('esc').bench).toMatchObject({ mode: { kind: 'welcome' }, capture: null });
  });
});

describe('with virtual jaws', () => {
  test('the true size is told once it is measured', () => {
    const table = rock(virtual(), 42, 6);
    expect(JSON.stringify(sceneOf(table.bench))).not.toContain('truly');
    story(table, ['keep', { word: 'GOOD', about: expect.stringContaining('truly 42.00 mm') }]);
  });

  test('jaws that never pass the widest place are told to swing farther', () => {
    const next = expect.stringMatching(/^Swing farther/);
    story(rock(virtual(42.06), 42, 6), ['keep', { word: 'TOO SMALL', next }]);
  });

  test('no size is accepted from the keyboard', () =>
    story(virtual(), ['=42.00', no('bad-number', { found: '42.00' })]));

  test.each([
    ['left', 'jaws-left', 'back'],
    ['right', 'jaws-right', 'next'],
  ] as const)(
    'the %s arrow sends the jaws there; elsewhere it goes to the stage beside',
    (kind, order, action) => {
      expect(eventFor({ kind }, virtual().bench)).toEqual({ kind: 'teaching-asked', order });
      expect(eventFor({ kind }, opened().bench)).toEqual({ kind: 'action', action });
    },
  );
});
