// The log at the bench: what each fact makes of a job, what undo passes over, what is said, and what is tried again.
import { describe, expect, test } from 'vitest';
import type { Entry, Fact } from '../../src/core/bench/entry.ts';
import type { BenchEvent } from '../../src/core/bench/event.ts';
import { jobOf, lastUndoable } from '../../src/core/bench/job.ts';
import type { Effect } from '../../src/core/bench/outcome.ts';
import type { Bench } from '../../src/core/bench/state.ts';
import { startBench, step } from '../../src/core/bench/step.ts';
import { millis, mm, radians } from '../../src/core/units.ts';
import { Table, TYPED_BORE, threaded } from '../support/bench.ts';

const logOf = (...facts: readonly Fact[]): readonly Entry[] =>
  [{ kind: 'job-begun', setup: threaded } as const, ...facts].map((fact, at) => ({
    id: `e${at}`,
    job: 'job-1',
    at: 1000 + at,
    fact,
    readings: [],
  }));
const jobAfter = (...facts: readonly Fact[]) => jobOf(logOf(...facts));
const cut = { kind: 'thread-cut', part: 'male', detents: 5, depth: mm(1), proven: true } as const;
const trial = { kind: 'trial-made', verdict: 'tight', clearance: mm(0.1), standard: mm(0.05) } as const;
const boreTaken = {
  kind: 'bore-taken',
  diameter: mm(42.3),
  ...TYPED_BORE,
} as const;

describe('a job is what its entries say', () => {
  test('a new job knows nothing, and a log without its beginning makes no job', () => {
    expect(jobAfter()).toMatchObject({
      stage: 'bore size',
      notes: [],
      trials: [],
      closed: null,
      removed: false,
    });
    expect(jobAfter()?.threads.male).toMatchObject({ tracker: null, hardened: false, cut: null, cuts: 0 });
    expect(jobOf(logOf(boreTaken).slice(1))).toBeUndefined();
  });

  test('its name, its setup and its end can change', () => {
    expect(jobAfter({ kind: 'job-renamed', name: 'apple box' })?.name).toBe('apple box');
    const changed = jobAfter({ kind: 'setup-changed', setup: { ...threaded, name: 'plum box', starts: 2 } });
    expect(changed).toMatchObject({ name: 'plum box', setup: { starts: 2 } });
    const closed = { kind: 'job-closed', how: 'runs' } as const;
    expect(jobAfter(closed)?.closed).toEqual({ how: 'runs', at: 1001 });
    expect(jobAfter(closed, { kind: 'job-reopened' })?.closed).toBeNull();
    expect(jobAfter({ kind: 'job-removed' })?.removed).toBe(true);
    expect(jobAfter({ kind: 'job-removed' }, { kind: 'job-restored' })?.removed).toBe(false);
  });

  test('notes and the grain are kept, in order', () => {
    const notes = jobAfter({ kind: 'note-added', text: 'waxed' }, { kind: 'note-added', text: 'buffed' });
    expect(notes?.notes).toEqual(['waxed', 'buffed']);
    const grain = { kind: 'grain-seen', angle: radians(1), trim: mm(0.4), part: 'body' } as const;
    expect(jobAfter(grain)?.grain).toEqual(grain);
  });

  test('a cut after a trial makes it of no account; crests relieved count with it', () => {
    expect(jobAfter(trial, cut)?.trials).toMatchObject([
      { verdict: 'tight', reworked: true, relieved: false },
    ]);
    expect(jobAfter(trial, { kind: 'crests-relieved', part: 'male' })?.trials).toMatchObject([
      { relieved: true },
    ]);
    expect(jobAfter(cut, cut)?.threads.male.cuts).toBe(2);
    expect(
      jobAfter({ kind: 'feed-counted', part: 'male', mark: { total: 3, at: millis(0) } })?.threads.male
        .tracker,
    ).toBeNull();
  });
});

describe('a thread chased by hand', () => {
  const spigot = {
    kind: 'spigot-taken',
    diameter: mm(43.4),
    how: 'typed',
    fit: 'tight',
    clearance: mm(0),
  } as const;
  const crests = { kind: 'crests-measured', diameter: mm(43.1), how: 'typed' } as const;
  const stroke = { kind: 'stroke', part: 'male' } as const;
  const chased = { kind: 'thread-chased', part: 'male', depth: mm(0.8), within: mm(0.05) } as const;
  const byTrial = { ...chased, how: 'trial', depth: null, within: null } as const;

  test('takes its crests down with all sizes, and what was turned is kept', () => {
    const whole = jobAfter({ ...spigot, across: mm(43.3), end: mm(43.5) }, crests)?.spigot;
    expect(whole).toMatchObject({ diameter: 43.1, turned: 43.4 });
    expect([whole?.across, whole?.end]).toEqual([expect.closeTo(43, 9), expect.closeTo(43.2, 9)]);
    const plain = jobAfter(spigot, crests, { ...crests, diameter: mm(43) })?.spigot;
    expect(plain).toMatchObject({ diameter: 43, turned: 43.4 });
    expect(plain).not.toHaveProperty('across');
    expect(plain).not.toHaveProperty('end');
    expect(jobAfter(crests)?.spigot).toBeNull();
    expect(jobAfter(spigot, stroke, stroke, crests)?.threads.male.crestsAt).toBe(2);
  });

  test('is measured only by a flat, as long as its strokes are counted', () => {
    const thread = (...facts: readonly Fact[]) => jobAfter(stroke, ...facts)?.threads.male;
    const flat = { ...chased, how: 'flat', strokes: 1 } as const;
    const measured = { strokes: 1, depth: 0.8, within: 0.05 };
    expect(thread(flat)).toMatchObject({ measured, isCounted: true });
    expect(thread({ ...flat, depth: null })?.measured).toBeNull();
    expect(thread({ ...flat, within: null })?.measured).toBeNull();
    expect(thread({ ...flat, how: 'strokes' })?.measured).toBeNull();
    expect(thread(flat, stroke, { ...byTrial, strokes: 2 })).toMatchObject({ measured, isCounted: true });
    expect(thread(flat, { ...byTrial, strokes: 1 })).toMatchObject({ measured: null, isCounted: false });
    expect(thread(flat, { ...byTrial, strokes: 1 }, flat)?.measured).toBeNull();
    expect(jobAfter({ ...byTrial, strokes: 0 })?.threads.male.isCounted).toBe(false);
  });

  test('without counting makes the last trial of no account, counted it does so stroke by stroke', () => {
    const reworked = (...facts: readonly Fact[]) => jobAfter(stroke, trial, ...facts)?.trials[0]?.reworked;
    expect(reworked({ ...byTrial, strokes: 1 })).toBe(false);
    expect(reworked(stroke)).toBe(true);
    expect(jobAfter({ ...byTrial, strokes: 0 }, trial, { ...byTrial, strokes: 0 })?.trials[0]?.reworked).toBe(
      true,
    );
  });
});

describe('undo', () => {
  test.each<Fact>([
    { kind: 'stage-entered', stage: 'spigot' },
    { kind: 'feed-counted', part: 'female', mark: { total: 3, at: millis(0) } },
    { kind: 'depth-voided', part: 'female', why: 'restart' },
    { kind: 'target-set', bore: mm(42), target: mm(43), low: mm(43), high: mm(43), limit: mm(1) },
  ])('passes over what the machine writes by itself: $kind', (automatic) => {
    expect(lastUndoable(logOf(boreTaken, automatic))?.fact).toEqual(boreTaken);
  });

  test('goes back deed by deed to the beginning, which stays', () => {
    const undone = (entry: string): Fact => ({ kind: 'undone', entry });
    expect(lastUndoable(logOf(boreTaken, trial, undone('e2')))?.fact).toEqual(boreTaken);
    expect(lastUndoable(logOf(boreTaken, trial, undone('e2'), undone('e1')))).toBeUndefined();
    expect(jobOf(logOf(boreTaken, trial, undone('e2')))).toMatchObject({
      trials: [],
      bore: { diameter: 42.3 },
    });
  });

  test('says what was undone until the next key', () => {
    const table = new Table().type('42.30').act('keep').do({ kind: 'undo-asked' });
    expect(table.bench.notice).toEqual({ kind: 'undone', what: 'bore-taken' });
    expect(table.entries.at(-1)?.readings).toEqual([]);
    table.type('42.40').act('keep');
    expect(table.bench.notice).toEqual({ kind: 'kept', what: 'bore-taken' });
  });
});

/** What one event makes of a bench, and what it orders. */
const met = (bench: Bench, event: BenchEvent): { bench: Bench; effects: readonly Effect[] } =>
  step(bench, event);
const note = (text: string): readonly BenchEvent[] => [
  { kind: 'note-asked' },
  { kind: 'typed', text },
  { kind: 'entered' },
];

describe('at the bench', () => {
  test('it opens knowing nothing', () => {
    expect(startBench(millis(0), 0, 'in')).toMatchObject({
      mode: { kind: 'welcome' },
      log: [],
      job: null,
      readings: [],
      typed: '',
      unit: 'in',
      unsaved: [],
      feedSeen: false,
      teaching: null,
      zeroDoubted: false,
    });
  });

  test('an answer for a job that has left the bench changes nothing', () => {
    const { bench } = new Table().type('42.30').act('keep');
    const late: Entry = { id: 'x', job: 'job-2', at: 0, fact: boreTaken, readings: [] };
    expect(met(bench, { kind: 'entry-kept', entry: late, trouble: null }).bench).toBe(bench);
    const none = startBench(millis(0), 0, 'mm');
    expect(met(none, { kind: 'entry-kept', entry: late, trouble: null }).bench).toBe(none);
  });

  test('a job begins in its own unit and keeps the one the turner switches to', () => {
    const table = new Table().do({ kind: 'unit-switched' }).act('next');
    expect(table.bench.unit).toBe('in');
    const begun: Entry = {
      id: 'n',
      job: 'job-2',
      at: 0,
      fact: { kind: 'job-begun', setup: { ...threaded, unit: 'in' } },
      readings: [],
    };
    const fresh = met(startBench(millis(0), 0, 'mm'), { kind: 'entry-kept', entry: begun, trouble: null });
    expect(fresh.bench).toMatchObject({ unit: 'in', mode: { kind: 'stage' }, job: { id: 'job-2' } });
    const opened = met(startBench(millis(0), 0, 'mm'), { kind: 'job-opened', log: [begun] });
    expect(opened.bench).toMatchObject({ unit: 'in', mode: { kind: 'stage' }, job: { id: 'job-2' } });
  });

  test('a note breaks off no measuring, and what is read meanwhile is not measured', () => {
    const table = new Table()
      .to('hollow')
      .reads(42, 4)
      .do(...note('a knot'));
    expect(table.bench.readings).toHaveLength(4);
    expect(table.bench.notice).toEqual({ kind: 'kept', what: 'note-added' });
    table.do({ kind: 'note-asked' }).reads(40, 4);
    expect([table.bench.readings.length, table.bench.live?.reading.value]).toEqual([4, 40]);
    table.do({ kind: 'typed', text: 'a crack' }, { kind: 'escaped' });
    expect(table.bench.job?.notes).toEqual(['a knot']);
  });

  test('typed text is bounded, and blanks alone count as nothing', () => {
    const table = new Table().to('hollow').reads(42.3, 100);
    expect(table.bench.readings).toHaveLength(40);
    expect(table.type('  ').bench.job?.mouth?.diameter).toBe(42.3);
  });

  test('a job that begins says so, even after a refusal', () => {
    const table = new Table().act('keep');
    expect(table.bench.notice?.kind).toBe('refused');
    table.do({ kind: 'lessons-found', setup: threaded, learned: null });
    expect(table.bench.notice).toEqual({ kind: 'kept', what: 'job-begun' });
  });

  test('a job begun after a restart has no zero to doubt', () => {
    const table = new Table().board().do({ kind: 'board-restarted', heardAt: millis(0) });
    table.do({ kind: 'lessons-found', setup: threaded, learned: null });
    expect(table.bench.zeroDoubted).toBe(false);
  });

  test('a press counts when the button goes down, and there are four', () => {
    const press = (button: number, down: boolean): number =>
      new Table().do({ kind: 'button-changed', button, down, heardAt: millis(0) } as BenchEvent).entries
        .length;
    expect([press(3, true), press(3, false), press(5, true), press(0, true)]).toEqual([2, 1, 1, 1]);
  });

  test('a button works while help is read', () => {
    const table = new Table().do({ kind: 'help-switched' }).act('next');
    expect([table.bench.help, table.bench.job?.stage]).toEqual([true, 'spigot']);
  });

  test('the same board announced again changes nothing; a silent line sounds', () => {
    const table = new Table().board().reads(42, 1).board();
    expect(table.bench.live).not.toBeNull();
    expect(table.sounds).not.toContain('refused');
    table.do({ kind: 'line-silent', heardAt: millis(0) });
    expect(table.bench.cue).toMatchObject({ cue: 'link-lost', at: table.bench.now });
  });

  test('cues are numbered, so that the same one twice is seen twice', () => {
    const table = new Table().to('hollow').act('keep');
    const first = table.bench.cue?.number ?? 0;
    table.act('keep');
    expect(table.bench.cue).toMatchObject({ cue: 'refused', number: first + 1 });
  });
});

describe('an entry that could not be written', () => {
  const retries = ({ effects }: { effects: readonly Effect[] }) =>
    effects.filter(({ kind }) => kind === 'retry').length;
  const tick = (now: number): BenchEvent => ({ kind: 'ticked', now: millis(now), wall: 0 });
  const unsaved = (): Bench => {
    const table = new Table();
    table.broken = true;
    return { ...table.type('42.30').act('keep').bench, now: millis(4000) };
  };

  test('is tried again every five seconds, and only then', () => {
    expect([4900, 5000, 9999, 10_001].map((now) => retries(met(unsaved(), tick(now))))).toEqual([0, 1, 1, 1]);
    const { bench } = met(unsaved(), tick(5000));
    expect(retries(met(bench, tick(5100)))).toBe(0);
    expect(retries(met({ ...unsaved(), unsaved: [] }, tick(5000)))).toBe(0);
    expect(unsaved().unsaved).toHaveLength(1);
  });

  test('is tried before the next one, and opens with its own job alone', () => {
    const one = unsaved();
    const [entry] = one.unsaved;
    if (!entry) throw new Error('nothing is unsaved');
    const next = met(one, { kind: 'action', action: 'next' });
    expect(next.effects.map(({ kind }) => kind).slice(0, 2)).toEqual(['retry', 'keep']);
    expect(next.effects[0]).toEqual({ kind: 'retry', entries: [entry] });
    const stored = one.log.filter(({ id }) => id !== entry.id);
    const others = { ...entry, id: 'other', job: 'job-2' };
    const opened = met({ ...one, unsaved: [entry, others] }, { kind: 'job-opened', log: stored }).bench;
    expect(opened.log).toEqual([...stored, entry]);
    expect(opened.job?.bore?.diameter).toBeCloseTo(42.3, 9);
  });

  test('is said until all of it is written', () => {
    const one = unsaved();
    const [entry] = one.unsaved;
    if (!entry) throw new Error('nothing is unsaved');
    const two = { ...one, unsaved: [entry, { ...entry, id: 'other' }] };
    const half = met(two, { kind: 'entries-saved', ids: [entry.id] }).bench;
    expect(half).toMatchObject({ unsaved: [{ id: 'other' }], notice: { kind: 'not-saved' } });
    expect(met(half, { kind: 'entries-saved', ids: ['other'] }).bench).toMatchObject({
      unsaved: [],
      notice: null,
    });
    const refused = { kind: 'refused', why: { kind: 'moving' } } as const;
    expect(met({ ...half, notice: refused }, { kind: 'entries-saved', ids: ['other'] }).bench.notice).toBe(
      refused,
    );
    expect(met({ ...half, notice: null }, { kind: 'entries-saved', ids: ['other'] }).bench.notice).toBeNull();
  });
});

describe('on the virtual bench', () => {
  const teaching = { pace: 1, paused: false, mishaps: [], truth: null } as const;
  const asked = (bench: Bench) => met({ ...bench, teaching }, { kind: 'teaching-asked', order: 'mishap' });

  test('a mishap is ordered where the stage has one, and refused elsewhere', () => {
    const { bench } = new Table();
    const { effects, bench: after } = asked(bench);
    expect(effects).toEqual([{ kind: 'teach', order: expect.any(String) }]);
    expect(after.notice).toMatchObject({ kind: 'mishap' });
    const closed = bench.job && { ...bench.job, closed: { how: 'runs', at: 1 } as const };
    for (const other of [
      { ...bench, job: closed },
      { ...bench, job: null },
      { ...bench, mode: { kind: 'note', text: '' } as const },
    ])
      expect(asked(other)).toMatchObject({
        effects: [{ kind: 'sound', cue: 'refused' }],
        bench: { notice: { why: { kind: 'no-mishap' } } },
      });
  });

  test('at a real bench the same key does nothing', () => {
    const { bench } = new Table();
    const { effects, bench: after } = met(bench, { kind: 'teaching-asked', order: 'mishap' });
    expect([effects, after]).toEqual([[], bench]);
  });
});

test('a fault of the board is told, but never over a plain question', () => {
  const fault: BenchEvent = { kind: 'board-fault', code: 'caliper-noise', heardAt: millis(0) };
  expect(new Table().do(fault).bench.notice).toEqual({ kind: 'board-fault', fault: 'caliper-noise' });
  const asking = new Table().type('5');
  expect(asking.bench.notice?.kind).toBe('question');
  expect(asking.do(fault).bench.notice?.kind).toBe('question');
  expect(new Table().do({ ...fault, code: 'lamp-out' }).bench.notice?.kind).not.toBe('board-fault');
});

test('what another bench kept joins the job; what was read here stays unless the stage changed', () => {
  const table = new Table().type('42.30');
  const [entry] = table.entries;
  if (!entry) throw new Error('nothing kept');
  const joined = (fact: Fact) => {
    const log = [...table.entries, { ...entry, id: 'other', fact }];
    return met(table.bench, { kind: 'entry-kept', entry, trouble: null, log }).bench;
  };
  const noted = joined({ kind: 'note-added', text: 'waxed' });
  expect([noted.job?.notes, noted.readings.length, noted.notice]).toEqual([
    ['waxed'],
    1,
    { kind: 'other-bench' },
  ]);
  const moved = joined({ kind: 'stage-entered', stage: 'zero' });
  expect([moved.job?.stage, moved.readings.length]).toEqual(['zero', 0]);
});
