// What each key and each answer does where it is pressed: the form, the list of jobs, notes, help, numbers, and asking for things.
import { describe, expect, test } from 'vitest';
import type { BenchEvent } from '../../src/core/bench/event.ts';
import type { JobLine } from '../../src/core/bench/job.ts';
import type { NewJobForm } from '../../src/core/bench/new-job-form.ts';
import type { Effect } from '../../src/core/bench/outcome.ts';
import type { Bench } from '../../src/core/bench/state.ts';
import { step } from '../../src/core/bench/step.ts';
import { millis } from '../../src/core/units.ts';
import { kit, Table, threaded } from '../support/bench.ts';
import { ofKind } from '../support/of-kind.ts';

/** Events one after another on the pure step: the bench they leave. */
const benchAfter = (bench: Bench, ...events: readonly BenchEvent[]): Bench =>
  events.reduce((so, event) => step(so, event).bench, bench);
/** And every effect they order. */
const orders = (bench: Bench, ...events: readonly BenchEvent[]): readonly Effect[] =>
  events.flatMap((event, at) => step(benchAfter(bench, ...events.slice(0, at)), event).effects);
const press = (action: 'keep' | 'again' | 'next' | 'back'): BenchEvent => ({ kind: 'action', action });
const [keep, again, next, back] = [press('keep'), press('again'), press('next'), press('back')];
const typed = (text: string): BenchEvent => ({ kind: 'typed', text });
const down: BenchEvent = { kind: 'moved', by: 1 };
const up: BenchEvent = { kind: 'moved', by: -1 };
const entered: BenchEvent = { kind: 'entered' };
const escaped: BenchEvent = { kind: 'escaped' };
const erased: BenchEvent = { kind: 'erased' };
const working = (): Bench => new Table().bench;
const empty = (): Bench => ({ ...working(), job: null, log: [], mode: { kind: 'welcome' } });
const refusal = ({ notice }: Bench) => (notice?.kind === 'refused' ? notice.why : null);

describe('the new-job form', () => {
  const opened = (): Bench => benchAfter(empty(), { kind: 'form-opened', kit, last: threaded });
  const formOf = ({ mode }: Bench): NewJobForm => {
    if (mode.kind !== 'form') throw new Error(`no form but ${mode.kind}`);
    return mode.form;
  };
  const form = (...events: readonly BenchEvent[]): NewJobForm => formOf(benchAfter(opened(), ...events));

  test('opens on its first field with the day in the name', () => {
    expect(form()).toMatchObject({ at: 0, untouched: true, error: null });
    expect(form().values.name).toMatch(/^box \d{4}-\d\d-\d\d$/);
  });

  test('the first text replaces what was there, the next goes behind it, and erasing takes one off', () => {
    const once = [typed(' pear'), typed(' box')];
    expect(form(...once)).toMatchObject({ untouched: false, values: { name: 'pear box' } });
    expect(form(...once, erased).values.name).toBe('pear bo');
    expect(form(erased).values.name).toBe('');
  });

  test('next and back move between the first field and the last, and Enter moves on', () => {
    expect(form(next, down, entered).at).toBe(3);
    expect(form(next, next, back).at).toBe(1);
    expect(form(back, up).at).toBe(0);
    expect(form(...Array.from({ length: 20 }, () => next)).at).toBe(12);
  });

  test('a wrong field holds the turner going on, and lets them go back', () => {
    const wrong = [next, typed('birch'), next];
    expect(form(...wrong)).toMatchObject({ at: 1, error: expect.stringContaining('which one: Birch') });
    expect(form(...wrong, back)).toMatchObject({ at: 0, error: null, untouched: true });
  });

  test('again turns a choice, erasing leaves it', () => {
    expect(form(next, next, next, again).values.fit).toBe('plain');
    expect(form(next, next, next, again, erased).values.fit).toBe('plain');
  });

  test('keep, or Enter on the last field, asks for the lessons of earlier jobs', () => {
    const begins = (...events: readonly BenchEvent[]) => orders(opened(), ...events).map(({ kind }) => kind);
    expect(begins(keep)).toEqual(['find-lessons']);
    expect(begins({ kind: 'form-finished' })).toEqual(['find-lessons']);
    const toLast = Array.from({ length: 12 }, () => next);
    expect(begins(...toLast)).toEqual([]);
    expect(begins(...toLast, entered)).toEqual(['find-lessons']);
    expect(begins(next, typed('birch'), keep)).toEqual([]);
    expect(form(next, typed('birch'), keep).error).toBeTruthy();
  });

  test('escape leaves it for the job on the bench, or for the welcome', () => {
    expect(benchAfter(opened(), escaped).mode).toEqual({ kind: 'welcome' });
    expect(benchAfter(working(), { kind: 'form-opened', kit, last: null }, escaped).mode).toEqual({
      kind: 'stage',
    });
  });

  test('the lessons go with the job that begins', () => {
    const learned = { shift: 0 as never, spread: 0.1 as never, reasons: ['an earlier box'] };
    for (const with_ of [learned, null])
      expect(orders(empty(), { kind: 'lessons-found', setup: threaded, learned: with_ })).toMatchObject([
        {
          kind: 'keep',
          job: null,
          fact: { kind: 'job-begun', setup: with_ ? { ...threaded, learned } : threaded },
        },
      ]);
  });
});

describe('the list of jobs', () => {
  const line = (id: string): JobLine => ({ id, name: id, touched: 0, stage: 'zero', closed: false });
  const listed = (bench: Bench, ...ids: readonly string[]): Bench =>
    benchAfter(bench, { kind: 'jobs-listed', jobs: ids.map(line) });

  test.each<[number, readonly BenchEvent[]]>([
    [0, []],
    [1, [next]],
    [2, [again, next, next]],
    [0, [next, back]],
    [0, [back]],
    [1, [down, down, up]],
  ])('moves within its ends: to %d by %j', (chosen, events) => {
    expect(benchAfter(listed(working(), 'a', 'b', 'c'), ...events).mode).toMatchObject({
      kind: 'jobs',
      chosen,
    });
  });

  test('keep and Enter open the chosen one', () => {
    for (const event of [keep, entered])
      expect(orders(listed(working(), 'a', 'b'), next, event)).toEqual([{ kind: 'open-job', job: 'b' }]);
  });

  test('an empty one, and escape, go back to where the turner was', () => {
    expect(benchAfter(listed(working()), keep).mode).toEqual({ kind: 'stage' });
    expect(benchAfter(listed(empty()), entered).mode).toEqual({ kind: 'welcome' });
    expect(benchAfter(listed(working(), 'a'), escaped).mode).toEqual({ kind: 'stage' });
    expect(orders(listed(working(), 'a'), escaped)).toEqual([]);
    expect(orders(listed(working(), 'a'), { kind: 'new-job-asked' })).toEqual([{ kind: 'open-form' }]);
  });

  test('a log without its beginning opens nothing', () => {
    expect(benchAfter(working(), { kind: 'job-opened', log: [] }).notice).toEqual({
      kind: 'not-saved',
      why: "the start of that job isn't in this database",
    });
  });
});

describe('notes and help', () => {
  test('a note is typed, erased by the letter, and kept without its blanks', () => {
    const noting = benchAfter(working(), { kind: 'note-asked' }, typed(' ré'), typed('sin'), erased);
    expect(noting.mode).toEqual({ kind: 'note', text: ' rési' });
    expect(orders(noting, typed('n '), entered)).toMatchObject([
      { kind: 'keep', fact: { kind: 'note-added', text: 'résin' } },
    ]);
    expect(benchAfter(noting, typed('n '), entered).mode).toEqual({ kind: 'stage' });
  });

  test('an empty note, and one escaped from, keep nothing', () => {
    for (const end of [entered, escaped]) {
      const events = [{ kind: 'note-asked' } as const, typed('  '), end];
      expect(benchAfter(working(), ...events).mode).toEqual({ kind: 'stage' });
      expect(orders(working(), ...events)).toEqual([]);
    }
    const long = benchAfter(working(), { kind: 'note-asked' }, typed('x'.repeat(500))).mode;
    expect(ofKind('note', long).text).toHaveLength(400);
  });

  test('help opens and closes by its key, by escape and by Enter, and nothing else happens then', () => {
    const helped = benchAfter(working(), { kind: 'help-switched' });
    expect(helped.help).toBe(true);
    for (const event of [{ kind: 'help-switched' } as const, escaped, entered])
      expect(step(helped, event)).toEqual({ bench: { ...helped, help: false }, effects: [] });
  });
});

describe('asking for things', () => {
  test.each([
    ['new-job-asked', 'open-form'],
    ['jobs-asked', 'list-jobs'],
    ['quit-asked', 'quit'],
    ['virtual-asked', 'start-virtual'],
  ] as const)('%s orders %s, with a job or without', (kind, effect) => {
    for (const bench of [working(), empty()]) expect(orders(bench, { kind })).toEqual([{ kind: effect }]);
  });

  test('an open port leaves no room for the virtual bench', () => {
    const open = benchAfter(working(), { kind: 'link-opened', port: 'p', heardAt: millis(0) });
    expect(orders(open, { kind: 'virtual-asked' })).toEqual([]);
  });

  test('keys that need a job are refused without one', () => {
    for (const kind of ['note-asked', 'sheet-asked'] as const)
      expect(refusal(benchAfter(empty(), { kind }))).toEqual({ kind: 'no-job' });
    expect(refusal(benchAfter(empty(), { kind: 'undo-asked' }))).toMatchObject({ kind: 'nothing-to-undo' });
    const typing: Bench = { ...empty(), mode: { kind: 'stage' } };
    expect(refusal(benchAfter(typing, typed('42'), entered))).toMatchObject({ kind: 'no-job' });
    expect(orders(working(), { kind: 'sheet-asked' })).toEqual([{ kind: 'write-sheet', job: 'job-1' }]);
  });

  test('without a job, keep and Enter open the form and nothing else does anything', () => {
    for (const event of [keep, entered]) expect(orders(empty(), event)).toEqual([{ kind: 'open-form' }]);
    expect(orders(empty(), next)).toEqual([]);
  });

  test('a notice shows each answer', () => {
    expect(benchAfter(working(), { kind: 'sheet-written', path: 'a.html' }).notice).toEqual({
      kind: 'kept',
      what: 'the job sheet as a.html',
    });
    const failed = benchAfter(working(), { kind: 'edge-failed', what: 'sheet', why: 'no room' });
    expect(failed.notice).toMatchObject({ why: 'sheet. No room' });
  });

  test('a number is typed, erased and forgotten, and no longer than a number is', () => {
    const number = (...events: readonly BenchEvent[]) => benchAfter(working(), ...events).typed;
    expect(number(typed('42'), typed('.3'))).toBe('42.3');
    expect(number(typed('42'), typed('.3'), erased)).toBe('42.');
    expect(number(typed('42'), typed('.3'), escaped)).toBe('');
    expect(number(typed('1'.repeat(40)))).toHaveLength(40);
    const inch = benchAfter(working(), { kind: 'unit-switched' });
    expect([inch.unit, benchAfter(inch, { kind: 'unit-switched' }).unit]).toEqual(['in', 'mm']);
  });

  test('a closed job takes nothing more', () => {
    const closed = new Table().measured().to('record').act('keep');
    expect(closed.bench.job?.closed?.how).toBe('untried');
    expect(closed.act('keep').refusal).toMatchObject({ kind: 'closed' });
    expect(closed.type('12').refusal).toMatchObject({ kind: 'closed' });
  });
});

describe('the zero and a ring', () => {
  test('a ring that is known teaches the lands of the jaws, and they correct a bore', () => {
    const table = new Table().to('zero').type('10');
    expect(table.bench.ring).toBe(10);
    table.reads(9.98, 5).act('keep');
    const land = Math.sqrt(10 ** 2 - 9.98 ** 2);
    expect(table.bench.job?.ring?.land).toBeCloseTo(land, 9);
    expect(table.bench.ring).toBeNull();
    table.to('bore size').type('42.30').act('keep');
    expect(table.bench.job?.bore?.diameter).toBeCloseTo(Math.hypot(42.3, land), 9);
  });

  test('a ring is typed as read too; one shown too large, or while the jaws move, teaches nothing', () => {
    const typedIn = new Table().to('zero').type('10').type('9.98').act('keep');
    expect(typedIn.bench.job?.ring?.measured).toBeCloseTo(9.98, 12);
    const high = new Table().to('zero').type('10').reads(10.02, 5).act('keep');
    expect(high.bench.notice).toMatchObject({
      why: { kind: 'no-land', why: 'reads-high', known: 10, shown: 10.02 },
    });
    const moving = new Table().to('zero').type('10').reads(9, 1).reads(9.9, 1).act('keep');
    expect(moving.bench.notice).toMatchObject({ why: { kind: 'moving' } });
    expect(moving.bench.job?.ring).toBeNull();
  });

  test('a size between closed jaws and a ring makes no zero error', () => {
    const table = new Table().to('zero').type('2');
    expect(table.refusal).toMatchObject({ kind: 'bad-number' });
    expect(new Table().to('zero').act('keep').bench.notice).toMatchObject({ why: { kind: 'no-reading' } });
    const thrice = new Table().to('zero').type('0.02').type('-0.02').type('0.02').act('keep');
    expect(thrice.bench.notice).toMatchObject({ why: { kind: 'zero-wanders' } });
  });
});

describe('the trial and the record', () => {
  test('again goes round the words, relieved crests only after a trial of a thread', () => {
    const words = (table: Table) =>
      Array.from({ length: 6 }, () => {
        const word = table.bench.trialled;
        table.act('again');
        return word;
      });
    const table = new Table().to('trial');
    expect(words(table)).toEqual([null, 'running', 'loose', 'seized', 'tight', 'running']);
    table.to('trial').type('2').act('keep');
    expect(words(table)).toContain('crests relieved');
    const plain = new Table({ ...threaded, fit: 'plain' }).to('trial').type('2').act('keep');
    expect(words(plain)).not.toContain('crests relieved');
  });

  test('relieved crests count with the trial before them', () => {
    const table = new Table().to('trial').type('2').act('keep').type('5').act('keep');
    expect(table.lastFact).toEqual({ kind: 'crests-relieved', part: 'male' });
    expect(table.bench.job?.trials[0]?.relieved).toBe(true);
    for (const none of ['6', '10', '1.0', '01']) {
      table.do({ kind: 'typed', text: none });
      if (none !== '6') table.do({ kind: 'entered' });
      expect(table.refusal).toMatchObject({ kind: 'bad-number' });
    }
  });

  test('the grain is an angle within a turn, and becomes a trim', () => {
    const table = new Table().to('record').type('90');
    const grain = table.lastFact;
    expect(grain).toMatchObject({ kind: 'grain-seen', part: 'body', trim: expect.closeTo(25.4 / 16 / 4, 9) });
    for (const [wrong, accepted] of [
      ['400', 'an angle within one turn either way'],
      ['left', expect.stringContaining('60deg')],
    ]) {
      table.type(wrong);
      expect(table.bench.notice).toMatchObject({ why: { kind: 'bad-number', accepted } });
    }
    const body = new Table({ ...threaded, bored: 'body' }).to('record').type('90');
    expect(body.bench.job?.grain?.part).toBe('lid');
  });

  test.each([
    ['3', 'runs'],
    ['2', 'given-up'],
  ])('a job closed after trial %s is kept as %s', (word, how) => {
    const table = new Table().to('trial').type(word).act('keep').to('record').act('keep');
    expect(table.lastFact).toEqual({ kind: 'job-closed', how });
  });
});
