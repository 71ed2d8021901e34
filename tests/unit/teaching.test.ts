// A lesson at the virtual bench: what keys order there, and what is true beside what was kept.
import { describe, expect, test } from 'vitest';
import type { Job } from '../../src/core/bench/job.ts';
import { step } from '../../src/core/bench/step.ts';
import {
  comparedWithTruth,
  realOutcome,
  swellingToTight,
  type Teaching,
  type Truth,
} from '../../src/core/bench/teaching.ts';
import { fitOf } from '../../src/core/thread/fit.ts';
import { mm } from '../../src/core/units.ts';
import { eventFor } from '../../src/screen/keymap.ts';
import { sceneOf } from '../../src/screen/scenes/scene-of.ts';
import { Table, threaded } from '../support/bench.ts';
import { ofKind } from '../support/of-kind.ts';

const truth: Truth = { bore: mm(42.5), spigot: mm(43.48), depth: { female: mm(0), male: mm(0.96) } };
const teaching: Teaching = { pace: 1, paused: false, mishaps: ['small-bore'], truth };

/** Bore and spigot kept at these sizes, the spigot's groove at a depth of 1 mm. */
const made = (setup = threaded): Table =>
  new Table(setup)
    .to('bore size')
    .type('42.30')
    .act('keep')
    .to('spigot')
    .turns(43.4, 6)
    .act('keep')
    .to('spigot thread')
    .type('1.0mm')
    .to('record');

const jobOf = (table: Table): Job => {
  if (!table.bench.job) throw new Error('no job');
  return table.bench.job;
};

describe('kept and true', () => {
  test('stand side by side, and each gives its own fit', () => {
    const compared = comparedWithTruth(jobOf(made()), truth);
    expect(compared?.bore).toEqual({ kept: 42.3, real: 42.5 });
    expect(compared?.spigot).toEqual({ kept: 43.4, real: 43.48 });
    expect(compared?.depth).toEqual({ female: null, male: { kept: 1, real: 0.96 } });
    // Flanks touch at 2 (h + h') - 2 H (fit.ts); 0.04 mm less on one groove is 0.08 mm less clearance.
    const groove = (depth: number) => ({ depth: mm(depth), tip: { kind: 'sharp' } as const });
    const pair = { pitch: threaded.pitch.length, starts: 1, angle: threaded.cutter.angle };
    const real = fitOf({ ...pair, female: groove(1), male: groove(0.96) }, mm(42.5), mm(43.48));
    expect(ofKind('fit', real).clearance).toBeCloseTo(compared?.real?.clearance ?? 0, 9);
    expect(compared?.real?.word).toBe('running');
    expect(compared?.computed?.word).toBe('running');
    const gained = (compared?.real?.clearance ?? 0) - (compared?.computed?.clearance ?? 0);
    expect(gained).toBeCloseTo(0.2 - 0.08 - 0.08, 1);
  });

  test('of a plain lid is bore less spigot', () => {
    const plain = { ...threaded, fit: 'plain', wanted: mm(-0.05) } as const;
    const job = jobOf(new Table(plain).to('bore size').type('42.30').act('keep'));
    expect(realOutcome(job, { ...truth, spigot: mm(42.55) })?.clearance).toBeCloseTo(-0.05, 9);
  });

  test('are not compared before both diameters are kept', () => {
    const job = jobOf(new Table().to('bore size').type('42.30').act('keep'));
    expect(comparedWithTruth(job, truth)).toBeNull();
    expect(comparedWithTruth(jobOf(made()), { ...truth, spigot: null })).toBeNull();
  });

  test('a spigot that swells as told is tight', () => {
    const job = jobOf(made());
    const by = swellingToTight(job, truth) ?? 0;
    expect(realOutcome(job, { ...truth, spigot: mm(43.48 + by) })?.word).toBe('tight');
  });

  test('of a job from an earlier sitting are not known, and that is said', () => {
    const table = made().do({ kind: 'teaching-changed', teaching: { ...teaching, truth: null } });
    expect(JSON.stringify(sceneOf(table.act('keep').bench).panel)).toContain('not known: the wood was on');
  });

  test('are shown when the job is closed, and not before', () => {
    const table = made().do({ kind: 'teaching-changed', teaching });
    const told = (): string => JSON.stringify(sceneOf(table.bench).panel);
    expect(told()).not.toContain('truly');
    table.act('keep');
    expect(told()).toContain('"bore","value":"kept 42.30 mm, truly 42.50 mm"');
    expect(told()).toContain('"spigot","value":"kept 43.40 mm, truly 43.48 mm"');
    expect(told()).toMatch(
      /"clearance","value":"computed 0\.\d\d mm \(running\), truly 0\.\d\d mm \(running\)"/,
    );
    expect(told()).toContain('"went wrong","value":"a chip under a jaw"');
  });
});

describe('keys', () => {
  const pressed = (text: string, table: Table) => eventFor({ kind: 'text', text }, table.bench);
  const atStage = (stage: string): Table => new Table().do({ kind: 'teaching-changed', teaching }).to(stage);

  test.each([
    ['p', 'pause'],
    ['<', 'slower'],
    ['>', 'faster'],
    ['x', 'mishap'],
    ['d', 'bad-lines'],
  ])('%s orders %s on the virtual bench, and nothing at a real board', (text, order) => {
    expect(pressed(text, atStage('bore size'))).toEqual({ kind: 'teaching-asked', order });
    expect(pressed(text, new Table().to('bore size'))).toBeUndefined();
  });

  test('type where something is typed', () => {
    const note = atStage('bore size').do({ kind: 'note-asked' });
    const number = atStage('bore size').do({ kind: 'typed', text: '4' });
    for (const table of [note, number])
      for (const text of ['p', '<', '>', 'x', 'd'])
        expect(pressed(text, table)).toEqual({ kind: 'typed', text });
  });

  test.each([
    ['bore size', 'small-bore'],
    ['bore thread', 'lost-count'],
    ['spigot thread', 'lost-count'],
    ['trial', 'tight-trial'],
  ])('at %s what goes wrong is the %s', (stage, order) => {
    const { effects, bench } = step(atStage(stage).bench, { kind: 'teaching-asked', order: 'mishap' });
    expect(effects).toEqual([{ kind: 'teach', order }]);
    expect(bench.notice).toEqual({ kind: 'mishap', what: order });
  });

  test('where nothing can, the screen says where it can', () => {
    const { effects, bench } = step(atStage('zero').bench, { kind: 'teaching-asked', order: 'mishap' });
    expect(effects).toEqual([{ kind: 'sound', cue: 'refused' }]);
    expect(bench.notice).toEqual({ kind: 'refused', why: { kind: 'no-mishap' } });
  });

  test('and the pace are on the screen', () => {
    const at = (change: Partial<Teaching>): string => {
      const table = atStage('bore size').do({
        kind: 'teaching-changed',
        teaching: { ...teaching, ...change },
      });
      return JSON.stringify(sceneOf(table.bench).keys);
    };
    expect(at({})).toContain('"key":"p","does":"pause"');
    expect(at({ paused: true })).toMatch(/^\[{"key":"p","does":"go on"}/);
    const help = atStage('bore size').do({ kind: 'help-switched' });
    expect(JSON.stringify(sceneOf(help.bench).panel)).toContain('slower, faster');
  });
});
