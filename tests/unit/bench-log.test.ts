// The log at the bench: what each fact makes of a job, what undo skips, what is said, and what is tried again.
import { describe, expect, test } from 'vitest';
import type { Entry, Fact } from '../../src/core/bench/entry.ts';
import type { BenchEvent } from '../../src/core/bench/event.ts';
import { type Job, jobOf, lastUndoable } from '../../src/core/bench/job.ts';
import type { Bench } from '../../src/core/bench/state.ts';
import { startBench, step } from '../../src/core/bench/step.ts';
import { aimOf } from '../../src/core/bench/target.ts';
import { millis, mm, radians } from '../../src/core/units.ts';
import { played, Table, TYPED_BORE, threaded } from '../support/bench.ts';
import { ofKind } from '../support/of-kind.ts';
import { near, type Step, story, tells } from '../support/story.ts';

const logOf = (...facts: readonly Fact[]): readonly Entry[] =>
  [{ kind: 'job-begun', setup: threaded } as const, ...facts].map(
    (fact, at): Entry => ({ id: `e${at}`, job: 'job-1', at: 1000 + at, fact, readings: [] }),
  );
const begun = (id: string, setup = threaded): Entry => ({
  id,
  job: 'job-2',
  at: 0,
  fact: { kind: 'job-begun', setup },
  readings: [],
});
const cut = { kind: 'thread-cut', part: 'male', detents: 5, depth: mm(1), proven: true } as const;
const trial = { kind: 'trial-made', verdict: 'tight', clearance: mm(0.1), standard: mm(0.05) } as const;
const boreTaken = { kind: 'bore-taken', diameter: mm(42.3), ...TYPED_BORE } as const;
const closed = { kind: 'job-closed', how: 'runs' } as const;
const grain = { kind: 'grain-seen', angle: radians(1), trim: mm(0.4), part: 'body' } as const;
const note = (text: string) => ({ kind: 'note-added', text }) as const;
const counted = { kind: 'feed-counted', part: 'male', mark: { total: 3, at: millis(0) } } as const;
const undone = (entry: string): Fact => ({ kind: 'undone', entry });
// A thread chased by hand.
const spigot = {
  kind: 'spigot-taken',
  diameter: mm(43.4),
  how: 'typed',
  fit: 'tight',
  clearance: mm(0),
} as const;
const crests = { kind: 'crests-measured', diameter: mm(43.1), how: 'typed' } as const;
const stroke = { kind: 'stroke', part: 'male' } as const;
const chased = { kind: 'thread-chased', part: 'male', depth: mm(0.8), within: mm(0.05), strokes: 1 } as const;
const flat = { ...chased, how: 'flat' } as const;
const byTrial = { ...chased, how: 'trial', depth: null, within: null } as const;
const measured = { strokes: 1, depth: 0.8, within: 0.05 };

describe('a job is what its entries say', () => {
  const male = (thread: object) => ({ threads: { male: thread } });
  const trials = (of: object) => ({ trials: [of] });

  test.each<[readonly Fact[], object]>([
    [[], { stage: 'bore size', notes: [], trials: [], closed: null, removed: false }],
    [[], male({ tracker: null, hardened: false, cut: null, cuts: 0 })],
    [[{ kind: 'job-renamed', name: 'apple box' }], { name: 'apple box' }],
    [
      [{ kind: 'setup-changed', setup: { ...threaded, name: 'b', starts: 2 } }],
      { name: 'b', setup: { starts: 2 } },
    ],
    [[closed], { closed: { how: 'runs', at: 1001 } }],
    [[closed, { kind: 'job-reopened' }], { closed: null }],
    [[{ kind: 'job-removed' }], { removed: true }],
    [[{ kind: 'job-removed' }, { kind: 'job-restored' }], { removed: false }],
    [[note('waxed'), note('buffed')], { notes: ['waxed', 'buffed'] }],
    [[grain], { grain }],
    // A cut after a trial makes it of no account; crests relieved count with it.
    [[trial], trials({ verdict: 'tight', reworked: false, relieved: false })],
    [[trial, cut], trials({ verdict: 'tight', reworked: true, relieved: false })],
    [[trial, { kind: 'crests-relieved', part: 'male' }], trials({ relieved: true })],
    [[cut, cut], male({ cuts: 2 })],
    [[counted], male({ tracker: null })],
    [[boreTaken, trial, undone('e2')], { trials: [], bore: { diameter: 42.3 } }],
    // Crests measured take all sizes of the spigot down, and what was turned is kept.
    [
      [{ ...spigot, across: mm(43.3), end: mm(43.5) }, crests],
      { spigot: { diameter: 43.1, turned: 43.4, across: near(43), end: near(43.2) } },
    ],
    [[spigot, crests, { ...crests, diameter: mm(43) }], { spigot: { diameter: 43, turned: 43.4 } }],
    [[crests], { spigot: null }],
    [[spigot, stroke, stroke, crests], male({ crestsAt: 2 })],
    // It is measured only by a flat, as long as its strokes are counted.
    [[stroke, flat], male({ measured, isCounted: true })],
    [[stroke, { ...flat, depth: null }], male({ measured: null })],
    [[stroke, { ...flat, within: null }], male({ measured: null })],
    [[stroke, { ...flat, how: 'strokes' }], male({ measured: null })],
    [[stroke, flat, stroke, { ...byTrial, strokes: 2 }], male({ measured, isCounted: true })],
    [[stroke, flat, byTrial], male({ measured: null, isCounted: false })],
    [[stroke, flat, byTrial, flat], male({ measured: null })],
    [[{ ...byTrial, strokes: 0 }], male({ isCounted: false })],
    // Not counted, it makes the last trial of no account; counted it does so stroke by stroke.
    [[stroke, trial, byTrial], trials({ reworked: false })],
    [[stroke, trial, stroke], trials({ reworked: true })],
    [[{ ...byTrial, strokes: 0 }, trial, { ...byTrial, strokes: 0 }], trials({ reworked: true })],
  ])('%j: %j', (facts, job) => expect(jobOf(logOf(...facts))).toMatchObject(job));

  test('without its beginning it is none, and a spigot of one size gets no others', () => {
    expect(jobOf(logOf(boreTaken).slice(1))).toBeUndefined();
    const made = jobOf(logOf(spigot, crests))?.spigot;
    for (const size of ['across', 'end']) expect(made).not.toHaveProperty(size);
  });
});

describe('undo', () => {
  test.each<Fact>([
    { kind: 'stage-entered', stage: 'spigot' },
    { ...counted, part: 'female' },
    { kind: 'depth-voided', part: 'female', why: 'restart' },
    { kind: 'target-set', bore: mm(42), target: mm(43), low: mm(43), high: mm(43), limit: mm(1) },
  ])('passes over what the machine writes by itself: $kind', (automatic) => {
    expect(lastUndoable(logOf(boreTaken, automatic))?.fact).toEqual(boreTaken);
  });

  test('goes back deed by deed to the beginning, which stays', () => {
    expect(lastUndoable(logOf(boreTaken, trial, undone('e2')))?.fact).toEqual(boreTaken);
    expect(lastUndoable(logOf(boreTaken, trial, undone('e2'), undone('e1')))).toBeUndefined();
  });

  test('gives the job before, and is itself kept, without readings', () => {
    const before = played('=42.30 keep').job;
    const table = played('=42.30 keep =43.00 keep undo');
    expect({ ...table.job, touched: 0 }).toEqual({ ...before, touched: 0 });
    expect(table.entries.at(-1)).toMatchObject({ fact: { kind: 'undone' }, readings: [] });
  });

  const says = (what: string) => ({ notice: { kind: 'undone', what } });
  test.each<Step>([
    ['=42.30 keep undo', says('bore-taken')],
    ['=42.30 keep again =42.33 keep undo', says('the last size measured')],
    ['=42.30 keep again =42.33 keep undo undo', says('bore-taken')],
    ['=42.30 keep next 44.4x4 43.4x4 keep undo', says('spigot-taken')],
    ['=42.30 keep next 44.4x4 43.4x4 keep again 43.35x6 keep undo', says('the last size measured')],
    ['=42.30 keep undo =42.40 keep', { notice: { kind: 'kept', what: 'bore-taken' } }],
  ])('says what was undone until the next key: %s', tells);
});

/** What one event makes of a bench. */
const met = (bench: Bench, event: BenchEvent): Bench => step(bench, event).bench;
const none = startBench(millis(0), 0, 'mm');
const lateBore: Entry = { ...begun('x'), fact: boreTaken };

describe('at the bench', () => {
  test('it opens knowing nothing', () => {
    const nothing = { mode: { kind: 'welcome' }, log: [], job: null, readings: [], typed: '', unsaved: [] };
    const unheard = { feedSeen: false, zeroDoubted: false, line: { open: false, silent: false } };
    const opened = startBench(millis(0), 0, 'in');
    expect(opened).toMatchObject({ ...nothing, ...unheard, unit: 'in', teaching: null });
  });

  test('an answer for a job that has left the bench changes nothing', () => {
    for (const bench of [played('=42.30 keep').bench, none])
      expect(met(bench, { kind: 'entry-kept', entry: lateBore, trouble: null })).toBe(bench);
  });

  test('a job begins, or is opened, in its own unit and keeps the one the turner switches to', () => {
    expect(played('unit next').bench.unit).toBe('in');
    const entry = begun('n', { ...threaded, unit: 'in' });
    for (const event of [
      { kind: 'entry-kept', entry, trouble: null },
      { kind: 'job-opened', log: [entry] },
    ] as const)
      expect(met(none, event)).toMatchObject({ unit: 'in', mode: { kind: 'stage' }, job: { id: 'job-2' } });
  });

  test('a job that begins says so, even after a refusal, and has no zero to doubt', () => {
    const table = played('board restart keep');
    expect(table.bench).toMatchObject({ notice: { kind: 'refused' }, zeroDoubted: true });
    table.do({ kind: 'lessons-found', setup: threaded, learned: null });
    expect(table.bench).toMatchObject({ notice: { kind: 'kept', what: 'job-begun' }, zeroDoubted: false });
  });

  test('cues are numbered, so that the same one twice is seen twice', () => {
    const table = played('@hollow keep');
    const number = (table.bench.cue?.number ?? 0) + 1;
    expect(table.play('keep').bench.cue).toMatchObject({ cue: 'refused', number });
  });
});

describe('an entry that could not be written', () => {
  const unsaved = (): Bench & { readonly job: Job } => {
    const table = new Table();
    table.broken = true;
    return table.play('=42.30 keep').ready;
  };
  const [entry = lateBore] = unsaved().unsaved;

  test('is said, held, and saved when the disk takes it again', () => {
    const table = new Table();
    table.broken = true;
    story(table, ['=42.30 keep', { bore: 42.3, notice: { kind: 'not-saved', why: 'the disk is full' } }]);
    table.broken = false;
    story(table, ['wait:6000', { kinds: ['job-begun', 'bore-taken'], notice: null }]);
    expect(table.bench.unsaved).toEqual([]);
  });

  test.each([
    [4000, 4900, 0],
    [4000, 5000, 1],
    [4000, 9999, 1],
    [4000, 10_001, 1],
    [5000, 5100, 0],
  ])('is tried again every five seconds, and only then: from %d to %d ms %d times', (from, now, times) => {
    const retries = (waiting: readonly Entry[]) =>
      step(
        { ...unsaved(), now: millis(from), unsaved: waiting },
        { kind: 'ticked', now: millis(now), wall: 0 },
      ).effects.length;
    expect([retries([entry]), retries([])]).toEqual([times, 0]);
  });

  test('is tried before the next one, and opens with its own job alone', () => {
    const one = unsaved();
    const { effects } = step(one, { kind: 'action', action: 'next' });
    expect(effects.slice(0, 2)).toMatchObject([{ kind: 'retry', entries: [entry] }, { kind: 'keep' }]);
    const stored = one.log.filter(({ id }) => id !== entry.id);
    const opened = met({ ...one, unsaved: [entry, lateBore] }, { kind: 'job-opened', log: stored });
    expect(opened).toMatchObject({ log: [...stored, entry], job: { bore: { diameter: 42.3 } } });
  });

  test('is said until all of it is written, and nothing else that is said goes with it', () => {
    const saved = (bench: Bench, id: string) => met(bench, { kind: 'entries-saved', ids: [id] });
    const half = saved({ ...unsaved(), unsaved: [entry, { ...entry, id: 'other' }] }, entry.id);
    expect(half).toMatchObject({ unsaved: [{ id: 'other' }], notice: { kind: 'not-saved' } });
    expect(saved(half, 'other')).toMatchObject({ unsaved: [], notice: null });
    for (const notice of [{ kind: 'refused', why: { kind: 'moving' } } as const, null])
      expect(saved({ ...half, notice }, 'other').notice).toBe(notice);
  });
});

describe('what another bench kept of the same job', () => {
  const joined = (table: Table, ...facts: readonly Fact[]): Bench => {
    const [entry = lateBore] = table.entries;
    const log = [...table.entries, ...facts.map((fact, at) => ({ ...entry, id: `other-${at}`, fact }))];
    return met(table.bench, { kind: 'entry-kept', entry, trouble: null, log });
  };

  test('joins it, its bore and its target; a notice says so', () => {
    const target = ({ job }: Pick<Bench, 'job'>) => ofKind('aim', job && aimOf(job)).target;
    const table = played('=42.30 keep next');
    const bench = joined(table, { ...boreTaken, diameter: mm(42.6) }, note('mine'));
    expect(bench).toMatchObject({
      notice: { kind: 'other-bench' },
      job: { bore: { diameter: 42.6 }, notes: ['mine'] },
    });
    expect(target(bench)).toBeCloseTo(target(table.bench) + 0.3, 9);
  });

  test('leaves what was read here unless the stage changed', () => {
    expect(joined(played('=42.30'), note('waxed'))).toMatchObject({ readings: { length: 1 } });
    const moved = joined(played('=42.30'), { kind: 'stage-entered', stage: 'zero' });
    expect(moved).toMatchObject({ job: { stage: 'zero' }, readings: [] });
  });
});
