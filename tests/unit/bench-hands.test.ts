// What each key and each answer does where it is pressed: the form, the list of jobs, notes, help, numbers, and asking for things.

import { describe, expect, test } from 'vitest';
import type { Effect } from '../../src/core/bench/effect.ts';
import type { BenchEvent } from '../../src/core/bench/event.ts';
import type { JobLine } from '../../src/core/bench/job.ts';
import type { NewJobForm } from '../../src/core/bench/new-job-form.ts';
import type { Bench } from '../../src/core/bench/state.ts';
import { step } from '../../src/core/bench/step.ts';
import { millis } from '../../src/core/units.ts';
import { kit, Table, threaded } from '../support/bench.ts';

/** Events one after another on the pure step: the bench they leave, and every effect they order. */
function stepped(
  bench: Bench,
  ...events: readonly BenchEvent[]
): { bench: Bench; effects: readonly Effect[] } {
  return events.reduce<{ bench: Bench; effects: readonly Effect[] }>(
    (so, event) => {
      const next = step(so.bench, event);
      return { bench: next.bench, effects: [...so.effects, ...next.effects] };
    },
    { bench, effects: [] },
  );
}
const press = (action: 'take' | 'again' | 'next' | 'back'): BenchEvent => ({ kind: 'action', action });
const typed = (text: string): BenchEvent => ({ kind: 'typed', text });
const working = (): Bench => new Table().bench;
const empty = (): Bench => ({ ...working(), job: null, log: [], mode: { kind: 'welcome' } });

describe('the new-job form', () => {
  const opened = (): Bench => stepped(empty(), { kind: 'form-opened', kit, last: threaded }).bench;
  const formOf = ({ mode }: Bench): NewJobForm => {
    if (mode.kind !== 'form') throw new Error(`no form but ${mode.kind}`);
    return mode.form;
  };

  test('opens on its first field with the day in the name', () => {
    const form = formOf(opened());
    expect(form).toMatchObject({ at: 0, untouched: true, error: null });
    expect(form.values.name).toMatch(/^box \d{4}-\d\d-\d\d$/);
  });

  test('the first text replaces what was there, the next goes behind it, and erasing takes one off', () => {
    const once = stepped(opened(), typed(' pear'), typed(' box'));
    expect(formOf(once.bench)).toMatchObject({ untouched: false, values: { name: 'pear box' } });
    expect(formOf(stepped(once.bench, { kind: 'erased' }).bench).values.name).toBe('pear bo');
    expect(formOf(stepped(opened(), { kind: 'erased' }).bench).values.name).toBe('');
  });

  test('next and back move between the first field and the last, and Enter moves on', () => {
    const at = (...events: readonly BenchEvent[]) => formOf(stepped(opened(), ...events).bench).at;
    expect(at(press('next'), { kind: 'moved', by: 1 }, { kind: 'entered' })).toBe(3);
    expect(at(press('next'), press('next'), press('back'))).toBe(1);
    expect(at(press('back'), { kind: 'moved', by: -1 })).toBe(0);
    expect(at(...Array.from({ length: 20 }, () => press('next')))).toBe(12);
  });

  test('a wrong field holds the turner going on, and lets him go back', () => {
    const wrong = stepped(opened(), press('next'), typed('birch'), press('next')).bench;
    expect(formOf(wrong)).toMatchObject({ at: 1, error: expect.stringContaining('which one: Birch') });
    expect(formOf(stepped(wrong, press('back')).bench)).toMatchObject({
      at: 0,
      error: null,
      untouched: true,
    });
  });

  test('again turns a choice, erasing leaves it', () => {
    const atFit = stepped(opened(), press('next'), press('next'), press('next'));
    const plain = stepped(atFit.bench, press('again')).bench;
    expect(formOf(plain).values.fit).toBe('plain');
    expect(formOf(stepped(plain, { kind: 'erased' }).bench).values.fit).toBe('plain');
  });

  test('take, or Enter on the last field, asks what earlier jobs teach this setup', () => {
    const begins = (...events: readonly BenchEvent[]) =>
      stepped(opened(), ...events).effects.map(({ kind }) => kind);
    expect(begins(press('take'))).toEqual(['find-lessons']);
    expect(begins({ kind: 'form-finished' })).toEqual(['find-lessons']);
    const toLast = Array.from({ length: 12 }, () => press('next'));
    expect(begins(...toLast)).toEqual([]);
    expect(begins(...toLast, { kind: 'entered' })).toEqual(['find-lessons']);
    const refused = stepped(opened(), press('next'), typed('birch'), press('take'));
    expect(refused.effects).toEqual([]);
    expect(formOf(refused.bench).error).toBeTruthy();
  });

  test('escape leaves it for the job on the bench, or for the welcome', () => {
    expect(stepped(opened(), { kind: 'escaped' }).bench.mode).toEqual({ kind: 'welcome' });
    const over = stepped(working(), { kind: 'form-opened', kit, last: null }, { kind: 'escaped' });
    expect(over.bench.mode).toEqual({ kind: 'stage' });
  });

  test('what was learned goes with the job that begins', () => {
    const learned = { shift: 0 as never, spread: 0.1 as never, reasons: ['an earlier box'] };
    const begun = stepped(empty(), { kind: 'lessons-found', setup: threaded, learned });
    expect(begun.effects).toMatchObject([
      { kind: 'keep', job: null, fact: { kind: 'job-begun', setup: { name: 'pear box', learned } } },
    ]);
    const plain = stepped(empty(), { kind: 'lessons-found', setup: threaded, learned: null });
    expect(plain.effects).toMatchObject([{ fact: { kind: 'job-begun', setup: threaded } }]);
  });
});

describe('the list of jobs', () => {
  const line = (id: string): JobLine => ({ id, name: id, touched: 0, stage: 'zero', closed: false });
  const listed = (bench: Bench, ...ids: readonly string[]): Bench =>
    stepped(bench, { kind: 'jobs-listed', jobs: ids.map(line) }).bench;
  const chosen = ({ mode }: Bench) => (mode.kind === 'jobs' ? mode.chosen : null);

  test('moves within its ends', () => {
    const three = listed(working(), 'a', 'b', 'c');
    const at = (...events: readonly BenchEvent[]) => chosen(stepped(three, ...events).bench);
    expect(at()).toBe(0);
    expect(at(press('next'))).toBe(1);
    expect(at(press('again'), press('next'), press('next'))).toBe(2);
    expect(at(press('next'), press('back'))).toBe(0);
    expect(at(press('back'))).toBe(0);
    expect(at({ kind: 'moved', by: 1 }, { kind: 'moved', by: 1 }, { kind: 'moved', by: -1 })).toBe(1);
  });

  test('take and Enter open the one it stands on', () => {
    for (const event of [press('take'), { kind: 'entered' } as const]) {
      const { effects } = stepped(listed(working(), 'a', 'b'), press('next'), event);
      expect(effects).toEqual([{ kind: 'open-job', job: 'b' }]);
    }
  });

  test('an empty one, and escape, go back to where the turner was', () => {
    expect(stepped(listed(working()), press('take')).bench.mode).toEqual({ kind: 'stage' });
    expect(stepped(listed(empty()), { kind: 'entered' }).bench.mode).toEqual({ kind: 'welcome' });
    expect(stepped(listed(working(), 'a'), { kind: 'escaped' })).toMatchObject({
      effects: [],
      bench: { mode: { kind: 'stage' } },
    });
    expect(stepped(listed(working(), 'a'), { kind: 'new-job-asked' }).effects).toEqual([
      { kind: 'open-form' },
    ]);
  });

  test('a log without its beginning opens nothing', () => {
    const { bench } = stepped(working(), { kind: 'job-opened', log: [] });
    expect(bench.notice).toEqual({ kind: 'not-saved', why: "the start of that job isn't in this database" });
  });
});

describe('notes and help', () => {
  test('a note is typed, erased by the letter, and kept without its blanks', () => {
    const noting = stepped(working(), { kind: 'note-asked' }, typed(' ré'), typed('sin'), { kind: 'erased' });
    expect(noting.bench.mode).toEqual({ kind: 'note', text: ' rési' });
    const kept = stepped(noting.bench, typed('n '), { kind: 'entered' });
    expect(kept.effects).toMatchObject([{ kind: 'keep', fact: { kind: 'note-added', text: 'résin' } }]);
    expect(kept.bench.mode).toEqual({ kind: 'stage' });
  });

  test('an empty note, and one escaped from, keep nothing', () => {
    for (const end of [{ kind: 'entered' }, { kind: 'escaped' }] as const) {
      const { bench, effects } = stepped(working(), { kind: 'note-asked' }, typed('  '), end);
      expect([bench.mode, effects]).toEqual([{ kind: 'stage' }, []]);
    }
    const long = stepped(working(), { kind: 'note-asked' }, typed('x'.repeat(500))).bench.mode;
    expect(long.kind === 'note' && long.text).toHaveLength(400);
  });

  test('help opens and closes by its key, by escape and by Enter, and nothing else happens then', () => {
    const helped = stepped(working(), { kind: 'help-switched' }).bench;
    expect(helped.help).toBe(true);
    for (const event of [{ kind: 'help-switched' }, { kind: 'escaped' }, { kind: 'entered' }] as const)
      expect(stepped(helped, event)).toEqual({ bench: { ...helped, help: false }, effects: [] });
  });
});

describe('asking for things', () => {
  const asked = (bench: Bench, kind: 'note-asked' | 'sheet-asked' | 'undo-asked') => stepped(bench, { kind });

  test('each asks for its own, with a job or without', () => {
    for (const [kind, effect] of [
      ['new-job-asked', 'open-form'],
      ['jobs-asked', 'list-jobs'],
      ['quit-asked', 'quit'],
      ['virtual-asked', 'start-virtual'],
    ] as const)
      for (const bench of [working(), empty()])
        expect(stepped(bench, { kind }).effects).toEqual([{ kind: effect }]);
    const open = stepped(working(), { kind: 'link-opened', port: 'p', heardAt: millis(0) }).bench;
    expect(stepped(open, { kind: 'virtual-asked' }).effects).toEqual([]);
  });

  test('what needs a job is refused without one', () => {
    for (const kind of ['note-asked', 'sheet-asked'] as const)
      expect(asked(empty(), kind).bench.notice).toEqual({ kind: 'refused', why: { kind: 'no-job' } });
    expect(asked(empty(), 'undo-asked').bench.notice).toMatchObject({ why: { kind: 'nothing-to-undo' } });
    const typing = stepped({ ...empty(), mode: { kind: 'stage' } }, typed('42'), { kind: 'entered' });
    expect(typing.bench.notice).toMatchObject({ why: { kind: 'no-job' } });
    expect(asked(working(), 'sheet-asked').effects).toEqual([{ kind: 'write-sheet', job: 'job-1' }]);
  });

  test('without a job, take opens the form and nothing else does anything', () => {
    expect(stepped(empty(), press('take')).effects).toEqual([{ kind: 'open-form' }]);
    expect(stepped(empty(), press('next')).effects).toEqual([]);
    expect(stepped(empty(), { kind: 'entered' }).effects).toEqual([{ kind: 'open-form' }]);
  });

  test('a notice shows each answer', () => {
    expect(stepped(working(), { kind: 'sheet-written', path: 'a.html' }).bench.notice).toEqual({
      kind: 'kept',
      what: 'the job sheet as a.html',
    });
    expect(
      stepped(working(), { kind: 'edge-failed', what: 'sheet', why: 'no room' }).bench.notice,
    ).toMatchObject({
      why: 'sheet: no room',
    });
  });

  test('a number is typed, erased and forgotten, and no longer than a number is', () => {
    const two = stepped(working(), typed('42'), typed('.3'));
    expect(two.bench.typed).toBe('42.3');
    expect(stepped(two.bench, { kind: 'erased' }).bench.typed).toBe('42.');
    expect(stepped(two.bench, { kind: 'escaped' }).bench.typed).toBe('');
    expect(stepped(working(), typed('1'.repeat(40))).bench.typed).toHaveLength(40);
    const inch = stepped(working(), { kind: 'unit-switched' }).bench;
    expect([inch.unit, stepped(inch, { kind: 'unit-switched' }).bench.unit]).toEqual(['in', 'mm']);
  });

  test('a closed job takes nothing more', () => {
    const closed = new Table().type('42.30').act('take').to('record').act('take');
    expect(closed.bench.job?.closed?.how).toBe('untried');
    closed.act('take');
    expect(closed.bench.notice).toMatchObject({ why: { kind: 'closed' } });
    closed.type('12');
    expect(closed.bench.notice).toMatchObject({ why: { kind: 'closed' } });
  });
});

describe('the zero and a ring', () => {
  test('a ring that is known teaches the lands of the jaws, and they correct a bore', () => {
    const table = new Table().to('zero').type('10');
    expect(table.bench.ring).toBe(10);
    table.reads(9.98, 5).act('take');
    const land = Math.sqrt(10 ** 2 - 9.98 ** 2);
    expect(table.bench.job?.ring?.land).toBeCloseTo(land, 9);
    expect(table.bench.ring).toBeNull();
    table.to('bore size').type('42.30').act('take');
    expect(table.bench.job?.bore?.diameter).toBeCloseTo(Math.hypot(42.3, land), 9);
  });

  test('a ring is typed as read too; one shown too large, or while the jaws move, teaches nothing', () => {
    const typedIn = new Table().to('zero').type('10').type('9.98').act('take');
    expect(typedIn.bench.job?.ring?.measured).toBeCloseTo(9.98, 12);
    const high = new Table().to('zero').type('10').reads(10.02, 5).act('take');
    expect(high.bench.notice).toMatchObject({
      why: { kind: 'no-land', why: 'reads-high', known: 10, shown: 10.02 },
    });
    const moving = new Table().to('zero').type('10').reads(9, 1).reads(9.9, 1).act('take');
    expect(moving.bench.notice).toMatchObject({ why: { kind: 'moving' } });
    expect(moving.bench.job?.ring).toBeNull();
  });

  test('a size between closed jaws and a ring makes no zero error', () => {
    const table = new Table().to('zero').type('2');
    expect(table.bench.notice).toMatchObject({ why: { kind: 'bad-number' } });
    expect(new Table().to('zero').act('take').bench.notice).toMatchObject({ why: { kind: 'no-reading' } });
    const thrice = new Table().to('zero').type('0.02').type('-0.02').type('0.02').act('take');
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
    table.to('trial').type('2').act('take');
    expect(words(table)).toContain('crests relieved');
    const plain = new Table({ ...threaded, fit: 'plain' }).to('trial').type('2').act('take');
    expect(words(plain)).not.toContain('crests relieved');
  });

  test('relieved crests count with the trial before them', () => {
    const table = new Table().to('trial').type('2').act('take').type('5').act('take');
    expect(table.lastFact).toEqual({ kind: 'crests-relieved', part: 'male' });
    expect(table.bench.job?.trials[0]?.relieved).toBe(true);
    for (const none of ['6', '10', '1.0', '01']) {
      table.do({ kind: 'typed', text: none });
      if (none !== '6') table.do({ kind: 'entered' });
      expect(table.bench.notice).toMatchObject({ why: { kind: 'bad-number' } });
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
    const table = new Table().to('trial').type(word).act('take').to('record').act('take');
    expect(table.lastFact).toEqual({ kind: 'job-closed', how });
  });
});
