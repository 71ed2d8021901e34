// What each key and each answer does in the new-job form, the list of jobs, notes and help, and which keys ask for something.
import { describe, expect, test } from 'vitest';
import type { BenchEvent } from '../../src/core/bench/event.ts';
import type { JobLine } from '../../src/core/bench/job.ts';
import type { Effect } from '../../src/core/bench/outcome.ts';
import type { Bench } from '../../src/core/bench/state.ts';
import { step } from '../../src/core/bench/step.ts';
import { mm } from '../../src/core/units.ts';
import { handsOf, kit, played, threaded } from '../support/bench.ts';
import { ofKind } from '../support/of-kind.ts';
import { no, type Step, tells } from '../support/story.ts';

/** The bench after events, and every effect they order. */
function met(bench: Bench, ...events: readonly BenchEvent[]): { bench: Bench; effects: readonly Effect[] } {
  return events.reduce(
    (at, event) => {
      const { bench: next, effects } = step(at.bench, event);
      return { bench: next, effects: [...at.effects, ...effects] };
    },
    { bench, effects: [] as readonly Effect[] },
  );
}
const working = (): Bench => played('').bench;
const empty = (): Bench => ({ ...working(), job: null, log: [], mode: { kind: 'welcome' } });

describe('the new-job form', () => {
  const opened = (bench = empty()) => met(bench, { kind: 'form-opened', kit, last: threaded }).bench;
  const form = (script: string) => ofKind('form', met(opened(), ...handsOf(script)).bench.mode).form;
  const nexts = (times: number) => 'next '.repeat(times);

  test.each([
    ['', { at: 0, untouched: true, error: null, values: { name: 'box 2023-11-14' } }],
    // The first text replaces what was there, the next goes behind it, and erasing takes one off.
    ['~_pear ~_box', { untouched: false, values: { name: 'pear box' } }],
    ['~_pear ~_box erase', { values: { name: 'pear bo' } }],
    ['erase', { values: { name: '' } }],
    // Between the first field and the last.
    ['next down enter', { at: 3 }],
    ['next next back', { at: 1 }],
    ['back up', { at: 0 }],
    [nexts(20), { at: 12 }],
    // A wrong field holds the turner going on, and lets them go back.
    ['next ~birch next', { at: 1, error: expect.stringContaining('which one: Birch') }],
    ['next ~birch keep', { at: 1, error: expect.stringContaining('which one: Birch') }],
    ['next ~birch next back', { at: 0, error: null, untouched: true }],
    // Again turns a choice, erasing leaves it.
    ['next next next again', { values: { fit: 'plain' } }],
    ['next next next again erase', { values: { fit: 'plain' } }],
  ])('after %j holds %j', (script, held) => expect(form(script)).toMatchObject(held));

  test.each([
    ['keep', 1],
    ['finish', 1],
    [nexts(12), 0],
    [`${nexts(12)} enter`, 1],
    ['next ~birch keep', 0],
  ])('%s asks for the lessons of earlier jobs: %d', (script, times) => {
    const { effects } = met(opened(), ...handsOf(script));
    expect(effects.map(({ kind }) => kind)).toEqual(Array.from({ length: times }, () => 'find-lessons'));
  });

  test('is left for the job on the bench, or for the welcome', () => {
    expect(met(opened(), ...handsOf('esc')).bench.mode).toEqual({ kind: 'welcome' });
    expect(met(opened(working()), ...handsOf('esc')).bench.mode).toEqual({ kind: 'stage' });
  });

  test.each([{ shift: mm(0), spread: mm(0.1), reasons: ['an earlier box'] }, null])(
    'the lessons go with the job that begins: %j',
    (learned) => {
      const setup = learned ? { ...threaded, learned } : threaded;
      expect(met(empty(), { kind: 'lessons-found', setup: threaded, learned }).effects).toEqual([
        { kind: 'keep', job: null, fact: { kind: 'job-begun', setup }, readings: [] },
      ]);
    },
  );
});

describe('the list of jobs', () => {
  const line = (id: string): JobLine => ({ id, name: id, touched: 0, stage: 'zero', closed: false });
  const listed = (script: string, ids = 'abc', bench = working()) =>
    met(bench, { kind: 'jobs-listed', jobs: [...ids].map(line) }, ...handsOf(script));

  test.each([
    ['', 0],
    ['next', 1],
    ['again next next', 2],
    ['next back', 0],
    ['back', 0],
    ['down down up', 1],
  ])('moves within its ends: by %j to %d', (script, chosen) => {
    expect(listed(script).bench.mode).toMatchObject({ kind: 'jobs', chosen });
  });

  test.each<[string, string, readonly Effect[]]>([
    ['next keep', 'abc', [{ kind: 'open-job', job: 'b' }]],
    ['next enter', 'abc', [{ kind: 'open-job', job: 'b' }]],
    ['new', 'abc', [{ kind: 'open-form' }]],
    ['esc', 'abc', []],
    ['keep', '', []],
  ])('%j of %j orders %j', (script, ids, effects) => expect(listed(script, ids).effects).toEqual(effects));

  test('an empty one, and escape, go back to where the turner was', () => {
    const modes = [listed('keep', ''), listed('enter', '', empty()), listed('esc')].map(
      ({ bench }) => bench.mode,
    );
    expect(modes).toEqual([{ kind: 'stage' }, { kind: 'welcome' }, { kind: 'stage' }]);
  });

  test('a log without its beginning opens nothing', () => {
    expect(met(working(), { kind: 'job-opened', log: [] }).bench.notice).toEqual({
      kind: 'not-saved',
      why: "the start of that job isn't in this database",
    });
  });
});

describe('notes and help', () => {
  const long = 'x'.repeat(500);
  test.each<Step>([
    // Typed, erased by the letter, kept without its blanks.
    ['note ~_ré ~sin erase', { mode: { kind: 'note', text: ' rési' } }],
    ['note ~_ré ~sin erase =n_', { mode: { kind: 'stage' }, kept: { kind: 'note-added', text: 'résin' } }],
    [`note ~${long}`, { mode: { kind: 'note', text: long.slice(0, 400) } }],
    ['note =__', { mode: { kind: 'stage' }, kinds: ['job-begun'] }],
    ['note ~a esc', { mode: { kind: 'stage' }, kinds: ['job-begun'] }],
    // A note breaks off no measuring, and what is read meanwhile is not measured.
    ['@hollow 42x4 note =a_knot', { values: { length: 4 }, notice: { kind: 'kept', what: 'note-added' } }],
    ['@hollow 42x4 note 40x4 esc', { values: [42, 42, 42, 42] }],
    // A button works while help is read.
    ['help next', { stage: 'spigot' }],
  ])('%s', tells);

  test('help opens and closes by its key, by escape and by Enter, and nothing else happens then', () => {
    const helped = played('help').bench;
    expect(helped.help).toBe(true);
    for (const closes of ['help', 'esc', 'enter'])
      expect(met(helped, ...handsOf(closes))).toEqual({ bench: { ...helped, help: false }, effects: [] });
    expect(met(helped, ...handsOf('next')).bench.help).toBe(true);
  });
});

describe('asking for things', () => {
  const ordered = (bench: Bench, script: string) => met(bench, ...handsOf(script)).effects;

  test.each<[string, Effect['kind']]>([
    ['new', 'open-form'],
    ['jobs', 'list-jobs'],
    ['quit', 'quit'],
    ['virtual', 'start-virtual'],
    ['calibrate', 'open-calibration'],
  ])('%s orders %s, with a job or without', (word, kind) => {
    for (const bench of [working(), empty()]) expect(ordered(bench, word)).toEqual([{ kind }]);
  });

  test('an open port leaves no room for the virtual bench', () =>
    expect(ordered(played('open').bench, 'virtual')).toEqual([]));

  test('a sheet is of the job on the bench', () =>
    expect(ordered(working(), 'sheet')).toEqual([{ kind: 'write-sheet', job: 'job-1' }]));

  test.each([
    ['note', 'no-job'],
    ['sheet', 'no-job'],
    ['undo', 'nothing-to-undo'],
    ['=42', 'no-job'],
  ])('without a job %s is refused: %s', (script, kind) => {
    const { notice } = met({ ...empty(), mode: { kind: 'stage' } }, ...handsOf(script)).bench;
    expect(notice).toEqual({ kind: 'refused', why: { kind } });
  });

  test('without a job, keep and Enter open the form and nothing else does anything', () => {
    for (const word of ['keep', 'enter']) expect(ordered(empty(), word)).toEqual([{ kind: 'open-form' }]);
    expect(ordered(empty(), 'next again back')).toEqual([]);
  });

  test.each<[BenchEvent, object]>([
    [
      { kind: 'sheet-written', path: 'a.html' },
      { kind: 'kept', what: 'the job sheet as a.html' },
    ],
    [
      { kind: 'edge-failed', what: 'sheet', why: 'no room' },
      { kind: 'not-done', why: 'sheet. No room' },
    ],
  ])('%j is said', (event, notice) => expect(met(working(), event).bench.notice).toEqual(notice));

  test.each<Step>([
    ['~42 ~.3', { typed: '42.3' }],
    ['~42 ~.3 erase', { typed: '42.' }],
    ['~42 ~.3 esc', { typed: '' }],
    ['@hollow keep', no('no-reading')],
  ])('%s', tells);

  test('the unit is switched there and back', () =>
    expect([played('unit').bench.unit, played('unit unit').bench.unit]).toEqual(['in', 'mm']));
});
