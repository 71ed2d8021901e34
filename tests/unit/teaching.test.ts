// A lesson at the virtual bench: what keys order there, and what is true beside what was kept.
import { describe, expect, test } from 'vitest';
import { step } from '../../src/core/bench/step.ts';
import {
  comparedWithTruth,
  realOutcome,
  swellingToTight,
  type Teaching,
  type Truth,
} from '../../src/core/bench/teaching.ts';
import { mm } from '../../src/core/units.ts';
import { eventFor } from '../../src/screen/keymap.ts';
import { sceneOf } from '../../src/screen/scenes/scene-of.ts';
import { played, type Table, threaded } from '../support/bench.ts';
import { ofKind } from '../support/of-kind.ts';

const truth: Truth = { bore: mm(42.5), spigot: mm(43.48), depth: { female: mm(0), male: mm(0.96) } };
const teaching: Teaching = { pace: 1, paused: false, mishaps: ['small-bore'], truth };
/** Bore and spigot kept at these sizes, the spigot's groove at a depth of 1 mm. */
const made = (setup = threaded): Table =>
  played('=42.30 keep @spigot 44.4x4 43.4x6 keep @spigot-thread =1.0mm @record', setup);
const taught = (table: Table, change: Partial<Teaching> = {}): Table =>
  table.do({ kind: 'teaching-changed', teaching: { ...teaching, ...change } });
/** The panel on the screen, as text. */
const told = (table: Table): string => JSON.stringify(sceneOf(table.bench).panel);

describe('kept and true', () => {
  test('stand side by side, and each gives its own fit', () => {
    const compared = comparedWithTruth(made().job, truth);
    expect(compared).toMatchObject({
      bore: { kept: 42.3, real: 42.5 },
      spigot: { kept: 43.4, real: 43.48 },
      depth: { female: null, male: { kept: 1, real: 0.96 } },
      computed: { word: 'running' },
      real: { word: 'running' },
    });
    const real = ofKind('outcome', compared?.real).clearance;
    // Flanks touch at 2 (h + h') - 2 H (fit.ts), H = P sqrt(3) / 2 at 60 degrees.
    expect(real).toBeCloseTo(2 * 1.96 - (25.4 / 16) * Math.sqrt(3) - (43.48 - 42.5), 9);
    // 0.2 mm more in the bore, 0.08 mm less on the spigot, and twice 0.04 mm less of the groove.
    expect(real - ofKind('outcome', compared?.computed).clearance).toBeCloseTo(0.2 - 0.08 - 0.08, 1);
  });

  test('of a plain lid is bore less spigot', () => {
    const { job } = played('=42.30 keep', { ...threaded, fit: 'plain', wanted: mm(-0.05) });
    expect(realOutcome(job, { ...truth, spigot: mm(42.55) })?.clearance).toBeCloseTo(-0.05, 9);
  });

  test('are not compared before both diameters are kept', () => {
    expect(comparedWithTruth(played('=42.30 keep').job, truth)).toBeNull();
    expect(comparedWithTruth(made().job, { ...truth, spigot: null })).toBeNull();
    expect(realOutcome(made().job, { ...truth, spigot: null })).toBeNull();
  });

  test('a spigot that swells as told is tight', () => {
    const by = swellingToTight(made().job, truth) ?? 0;
    expect(realOutcome(made().job, { ...truth, spigot: mm(43.48 + by) })?.word).toBe('tight');
  });

  test('are shown when the job is closed, and not before', () => {
    const table = taught(made());
    expect(told(table)).not.toContain('truly');
    for (const row of [
      '"bore","value":"kept 42.30 mm, truly 42.50 mm"',
      '"spigot","value":"kept 43.40 mm, truly 43.48 mm"',
      '"clearance","value":"computed 0.15 mm (running), truly 0.19 mm (running)"',
      '"went wrong","value":"a chip under a jaw"',
    ])
      expect(told(table.play('keep'))).toContain(row);
  });

  test('of a job from an earlier sitting are not known, and that is said', () => {
    expect(told(taught(made(), { truth: null }).play('keep'))).toContain('not known: the wood was on');
  });

  test('of threads that have no fit say why, computed or true', () => {
    const eaten = { ...truth, depth: { female: mm(0), male: mm(1.5) } };
    const lesson = told(taught(made(), { truth: eaten }).play('keep'));
    expect(lesson).toContain('computed 0.15 mm (running), truly no fit');
    expect(lesson).toContain('"why no fit","value":"that depth leaves no crest on the spigot');
    expect(realOutcome(made().job, eaten)).toBeNull();
    const kept = told(taught(made().play('@spigot-thread =1.5mm @record')).play('keep'));
    expect(kept).toContain('computed no fit, truly 0.19 mm (running)');
    const { feed: _, ...unfed } = threaded;
    const byHand = told(taught(made({ ...unfed, byHand: true })).play('keep'));
    expect(byHand).toContain('"why no fit","value":"nobody measured how deep its threads are"');
  });
});

describe('keys', () => {
  const pressed = (text: string, table: Table) => eventFor({ kind: 'text', text }, table.bench);
  const at = (script: string, change?: Partial<Teaching>): Table => taught(played(script), change);

  test.each([
    ['p', 'pause'],
    ['<', 'slower'],
    ['>', 'faster'],
    ['x', 'mishap'],
    ['d', 'bad-lines'],
  ])(
    '%s orders %s on the virtual bench, nothing at a real board, and types where something is typed',
    (text, order) => {
      expect(pressed(text, at(''))).toEqual({ kind: 'teaching-asked', order });
      expect(pressed(text, played(''))).toBeUndefined();
      for (const typing of ['note', '~4']) expect(pressed(text, at(typing))).toEqual({ kind: 'typed', text });
    },
  );

  test.each([
    ['@bore-size', 'small-bore'],
    ['@bore-thread', 'lost-count'],
    ['@spigot-thread', 'lost-count'],
    ['@trial', 'tight-trial'],
  ])('at %s what goes wrong is the %s', (stage, order) => {
    const { effects, bench } = step(at(stage).bench, { kind: 'teaching-asked', order: 'mishap' });
    expect(effects).toEqual([{ kind: 'teach', order }]);
    expect(bench.notice).toEqual({ kind: 'mishap', what: order });
  });

  test.each(['@zero', 'note', '@record keep @bore-size'])(
    'where nothing can (%s), the screen says so',
    (script) => {
      const { effects, bench } = step(at(script).bench, { kind: 'teaching-asked', order: 'mishap' });
      expect(effects).toEqual([{ kind: 'sound', cue: 'refused' }]);
      expect(bench.notice).toEqual({ kind: 'refused', why: { kind: 'no-mishap' } });
    },
  );

  test('at a real board the key of a mishap does nothing', () => {
    const { bench } = played('');
    expect(step(bench, { kind: 'teaching-asked', order: 'mishap' })).toEqual({ bench, effects: [] });
  });

  test('and the pace are on the screen', () => {
    const keys = (change: Partial<Teaching>): string => JSON.stringify(sceneOf(at('', change).bench).keys);
    expect(keys({})).toContain('"key":"p","does":"pause"');
    expect(keys({ paused: true })).toMatch(/^\[{"key":"p","does":"go on"}/);
    expect(told(at('help'))).toContain('slower, faster');
  });
});
