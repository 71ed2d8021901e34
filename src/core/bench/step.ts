// One event in, the next state and the effects out. The only door to the bench; every rule behind it is pure.
import type { VoidReason } from '../thread/feed.ts';
import type { LengthUnit, Millis } from '../units.ts';
import { countBroken, feedKept, startCalibrating, stepCalibrating } from './calibration/steps.ts';
import type { Entry, KeptReading, Stage } from './entry.ts';
import type { BenchEvent, EdgeEvent, HandEvent, LineEvent, LinkEvent } from './event.ts';
import { feedCounted, voided } from './feed-count.ts';
import { type Job, jobOf, lastUndoable, withEntry } from './job.ts';
import { isFromLine, lineAfter, quietLine } from './line.ts';
import { openForm, stepForm } from './new-job-form.ts';
import { andThen, becomes, kept, type Outcome, refused, sounding, unchanged } from './outcome.ts';
import { RULES, stageBeside } from './stages/all.ts';
import type { WithJob } from './stages/rules.ts';
import { keyed } from './stages/thread.ts';
import type { Bench, Live } from './state.ts';
import { aimOf } from './target.ts';

/** The bench as it opens: no job, nothing heard. */
export const startBench = (now: Millis, wall: number, unit: LengthUnit): Bench => ({
  mode: { kind: 'welcome' },
  log: [],
  job: null,
  line: quietLine,
  live: null,
  feed: null,
  capture: null,
  trail: null,
  heard: [],
  zone: null,
  typed: '',
  trialled: 'running',
  ring: null,
  unit,
  help: false,
  notice: null,
  cue: null,
  unsaved: [],
  now,
  wall,
  feedSeen: false,
  zeroDoubted: false,
});

export function step(bench: Bench, event: BenchEvent): Outcome {
  if (!isFromLine(event)) return stepOther(bench, event);
  const next = { ...bench, line: lineAfter(bench.line, event) };
  return isAnotherBoard(bench, event) ? boardChanged(next) : stepLine(next, event);
}

const isAnotherBoard = ({ line }: Bench, event: LineEvent | LinkEvent): boolean =>
  event.kind === 'board-found' && line.board !== null && line.board.board !== event.facts.board;

/** Readings of two calipers are never joined: what was being measured begins anew. */
function boardChanged(bench: Bench): Outcome {
  const board = bench.line.board?.board ?? '';
  const said = refused(
    { ...settledIn(bench), live: null, feedSeen: false },
    { kind: 'another-board', board },
  );
  return andThen(said, (at) => countBroken(at, 'other-board'));
}

function stepLine(bench: Bench, event: LineEvent | LinkEvent): Outcome {
  switch (event.kind) {
    case 'reading-received':
      return readingReceived(bench, event);
    case 'feed-counted':
      return feedCounted(bench, event);
    case 'board-restarted':
      return broken({ ...bench, feed: null, zeroDoubted: true }, 'restart');
    case 'feed-overran':
      return broken(bench, 'overrun');
    case 'button-changed': {
      const action = (['take', 'again', 'next', 'back'] as const)[event.button - 1];
      return event.down && action ? stepHand(bench, { kind: 'action', action }) : unchanged(bench);
    }
    case 'link-lost':
    case 'line-silent':
      return sounding(bench, 'link-lost');
    case 'board-found':
    case 'line-speaking':
    case 'lines-lost':
    case 'line-discarded':
    case 'line-unknown':
    case 'version-refused':
    case 'link-opened':
    case 'link-refused':
    case 'board-fault':
      return unchanged(bench);
    default:
      return event satisfies never;
  }
}

/** A count that broke off is believed nowhere: not in a thread, not in a calibration. */
const broken = (bench: Bench, why: VoidReason): Outcome =>
  andThen(voided(bench, why), (at) => countBroken(at, why));

function readingReceived(bench: Bench, event: Extract<LineEvent, { kind: 'reading-received' }>): Outcome {
  const live: Live = { reading: event.reading, raw: event.raw, heardAt: event.heardAt };
  const next = { ...bench, live };
  const { text, unit, step: worth, value, at } = event.reading;
  const reading: KeptReading = { text, unit, step: worth, value, at, raw: event.raw };
  return atStage(next, unchanged(next), (ready) => RULES[ready.job.stage].heard(ready, reading));
}

/** Runs a rule where a stage is on the screen of an open job; otherwise answers with `instead`. */
function atStage(bench: Bench, instead: Outcome, rule: (ready: WithJob) => Outcome): Outcome {
  const { job } = bench;
  return job && bench.mode.kind === 'stage' ? rule({ ...bench, job }) : instead;
}

function stepOther(bench: Bench, event: HandEvent | EdgeEvent): Outcome {
  switch (event.kind) {
    case 'ticked':
      return ticked(bench, event);
    case 'entry-kept':
      return entryKept(bench, event);
    case 'entries-saved':
      return saved(bench, event.ids);
    case 'jobs-listed':
      return becomes(bench, { mode: { kind: 'jobs', jobs: event.jobs, chosen: 0 }, typed: '' });
    case 'job-opened':
      return opened(bench, event.log);
    case 'form-opened': {
      const name = `box ${new Date(bench.wall).toISOString().slice(0, 10)}`;
      return becomes(bench, {
        mode: { kind: 'form', form: openForm(event.kit, event.last, name) },
        typed: '',
      });
    }
    case 'lessons-found': {
      const setup = event.learned ? { ...event.setup, learned: event.learned } : event.setup;
      const begun = { kind: 'keep', job: null, fact: { kind: 'job-begun', setup }, readings: [] } as const;
      return becomes(bench, { notice: null }, begun);
    }
    case 'calibration-opened':
      return startCalibrating(bench, event.kit);
    case 'feed-kept':
      return feedKept(bench, event.name);
    case 'sheet-written':
      return becomes(bench, { notice: { kind: 'kept', what: `job sheet: ${event.path}` } });
    case 'edge-failed':
      return becomes(bench, { notice: { kind: 'not-done', why: `${event.what}: ${event.why}` } });
    default:
      return stepHand(bench, event);
  }
}

function stepHand(bench: Bench, event: HandEvent): Outcome {
  if (event.kind === 'quit-asked') return becomes(bench, {}, { kind: 'quit' });
  if (event.kind === 'help-switched') return becomes(bench, { help: !bench.help });
  if (bench.help && (event.kind === 'escaped' || event.kind === 'entered'))
    return becomes(bench, { help: false });
  switch (bench.mode.kind) {
    case 'form':
      return stepForm(bench, bench.mode.form, event);
    case 'jobs':
      return stepJobs(bench, bench.mode, event);
    case 'note':
      return stepNote(bench, bench.mode.text, event);
    case 'calibrate':
      return stepCalibrating(bench, bench.mode.calibrating, event);
    case 'welcome':
    case 'stage':
      return stepStage(bench, event);
    default:
      return bench.mode satisfies never;
  }
}

function stepStage(bench: Bench, event: HandEvent): Outcome {
  switch (event.kind) {
    case 'action':
      return acted(bench, event.action);
    case 'typed':
      return becomes(bench, { typed: (bench.typed + event.text).slice(0, 24), notice: null });
    case 'erased':
      return becomes(bench, { typed: bench.typed.slice(0, -1) });
    case 'entered':
      return bench.typed.trim() === '' ? acted(bench, 'take') : enteredNumber(bench);
    case 'escaped':
      return becomes(bench, { typed: '', notice: null });
    case 'detent-keyed':
    case 'moved':
      return detentKeyed(bench, event.by);
    case 'undo-asked':
      return undone(bench);
    case 'unit-switched':
      return becomes(bench, { unit: bench.unit === 'mm' ? 'in' : 'mm' });
    case 'note-asked':
      return bench.job
        ? becomes(bench, { mode: { kind: 'note', text: '' } })
        : refused(bench, { kind: 'no-job' });
    case 'new-job-asked':
      return becomes(bench, {}, { kind: 'open-form' });
    case 'jobs-asked':
      return becomes(bench, {}, { kind: 'list-jobs' });
    case 'sheet-asked':
      return bench.job
        ? becomes(bench, {}, { kind: 'write-sheet', job: bench.job.id })
        : refused(bench, { kind: 'no-job' });
    case 'calibrate-asked':
      return becomes(bench, {}, { kind: 'open-calibration' });
    case 'virtual-asked':
      return bench.line.open ? unchanged(bench) : becomes(bench, {}, { kind: 'start-virtual' });
    case 'form-finished':
    case 'help-switched':
    case 'quit-asked':
      return unchanged(bench);
    default:
      return event satisfies never;
  }
}

function acted(bench: Bench, action: 'take' | 'again' | 'next' | 'back'): Outcome {
  const cleared = { ...bench, notice: null, typed: '' };
  const { job } = bench;
  if (!job) return action === 'take' ? becomes(cleared, {}, { kind: 'open-form' }) : unchanged(cleared);
  if (action === 'next' || action === 'back') {
    const stage = stageBeside(job.setup, job.stage, action === 'next' ? 1 : -1);
    return stage === job.stage ? unchanged(cleared) : entering(cleared, job, stage);
  }
  if (job.closed) return refused(cleared, { kind: 'closed' });
  return atStage(cleared, unchanged(cleared), (ready) => RULES[job.stage][action](ready));
}

/** Entering the spigot keeps the target that the turner is shown, so that the record can explain it. */
function entering(bench: Bench, job: Job, stage: Stage): Outcome {
  const moved = kept(bench, { kind: 'stage-entered', stage });
  const aim = stage === 'spigot' ? aimOf(job) : null;
  if (aim?.kind !== 'aim') return moved;
  const { bore, target, low, high, limit } = aim;
  return andThen(moved, (next) => kept(next, { kind: 'target-set', bore, target, low, high, limit }));
}

function enteredNumber(bench: Bench): Outcome {
  const text = bench.typed;
  const cleared = { ...bench, notice: null };
  if (!bench.job) return refused(cleared, { kind: 'no-job' });
  if (bench.job.closed) return refused(cleared, { kind: 'closed' });
  return atStage(cleared, unchanged(cleared), (ready) => RULES[ready.job.stage].typed(ready, text));
}

function detentKeyed(bench: Bench, by: 1 | -1): Outcome {
  return atStage({ ...bench, notice: null }, unchanged(bench), (ready) => {
    const { stage } = ready.job;
    if (stage === 'bore thread') return keyed(ready, 'female', by);
    return stage === 'spigot thread' ? keyed(ready, 'male', by) : unchanged(ready);
  });
}

function undone(bench: Bench): Outcome {
  const last = lastUndoable(bench.log);
  if (!bench.job || !last) return refused(bench, { kind: 'nothing-to-undo' });
  return kept(bench, { kind: 'undone', entry: last.id }, [], { kind: 'undone', what: last.fact.kind });
}

function stepJobs(bench: Bench, mode: Extract<Bench['mode'], { kind: 'jobs' }>, event: HandEvent): Outcome {
  const { jobs, chosen } = mode;
  const back = becomes(bench, { mode: { kind: bench.job ? 'stage' : 'welcome' } });
  const to = (by: number): Outcome =>
    becomes(bench, { mode: { ...mode, chosen: Math.max(0, Math.min(jobs.length - 1, chosen + by)) } });
  const pick = jobs[chosen];
  switch (event.kind) {
    case 'moved':
      return to(event.by);
    case 'action':
      if (event.action === 'next' || event.action === 'again') return to(1);
      if (event.action === 'back') return to(-1);
      return pick ? becomes(bench, {}, { kind: 'open-job', job: pick.id }) : back;
    case 'entered':
      return pick ? becomes(bench, {}, { kind: 'open-job', job: pick.id }) : back;
    case 'new-job-asked':
      return becomes(bench, {}, { kind: 'open-form' });
    case 'escaped':
      return back;
    default:
      return unchanged(bench);
  }
}

function stepNote(bench: Bench, text: string, event: HandEvent): Outcome {
  const stage = { ...bench, mode: { kind: 'stage' } } as const;
  switch (event.kind) {
    case 'typed':
      return becomes(bench, { mode: { kind: 'note', text: (text + event.text).slice(0, 400) } });
    case 'erased':
      return becomes(bench, { mode: { kind: 'note', text: [...text].slice(0, -1).join('') } });
    case 'escaped':
      return unchanged(stage);
    case 'entered':
      return text.trim() === '' ? unchanged(stage) : kept(stage, { kind: 'note-added', text: text.trim() });
    default:
      return unchanged(bench);
  }
}

/** What waits to be written belongs to its job all the same, behind what is written. */
function opened(bench: Bench, stored: readonly Entry[]): Outcome {
  const waiting = bench.unsaved.filter(({ job }) => job === stored[0]?.job);
  const log = [...stored, ...waiting];
  const job = jobOf(log);
  if (!job) return becomes(bench, { notice: { kind: 'not-saved', why: 'that job has no beginning' } });
  return unchanged(
    settledIn({
      ...bench,
      log,
      job,
      mode: { kind: 'stage' },
      notice: null,
      feedSeen: false,
      unit: job.setup.unit,
    }),
  );
}

/** The stage's live values started anew for the job on the bench. */
function settledIn(bench: Bench): Bench {
  const { job } = bench;
  return job ? RULES[job.stage].entered({ ...bench, job }) : bench;
}

function entryKept(bench: Bench, { entry, trouble }: Extract<EdgeEvent, { kind: 'entry-kept' }>): Outcome {
  const begins = entry.fact.kind === 'job-begun';
  if (!begins && entry.job !== bench.job?.id) return unchanged(bench);
  const log = begins ? [entry] : [...bench.log, entry];
  const job =
    (entry.fact.kind === 'undone'
      ? jobOf(log)
      : withEntry(begins ? undefined : (bench.job ?? undefined), entry)) ?? null;
  const unsaved = trouble === null ? bench.unsaved : [...bench.unsaved, entry];
  const mode = begins ? ({ kind: 'stage' } as const) : bench.mode;
  const zeroDoubted = bench.zeroDoubted && entry.fact.kind !== 'zero-taken' && !begins;
  const notice = noticeFor(bench, entry, trouble);
  const next: Bench = { ...bench, log, job, mode, unsaved, notice, zeroDoubted };
  const anew = begins || entry.fact.kind === 'stage-entered';
  return unchanged(anew ? settledIn(begins && job ? { ...next, unit: job.setup.unit } : next) : next);
}

function noticeFor(bench: Bench, entry: Entry, trouble: string | null): Bench['notice'] {
  if (trouble !== null) return { kind: 'not-saved', why: trouble };
  const { kind } = entry.fact;
  if (bench.notice?.kind === 'refused' || bench.notice?.kind === 'undone') return bench.notice;
  if (kind === 'stage-entered' || kind === 'feed-counted' || kind === 'target-set') return bench.notice;
  return { kind: 'kept', what: kind };
}

function saved(bench: Bench, ids: readonly string[]): Outcome {
  const unsaved = bench.unsaved.filter((entry) => !ids.includes(entry.id));
  const notice = unsaved.length === 0 && bench.notice?.kind === 'not-saved' ? null : bench.notice;
  return becomes(bench, { unsaved, notice });
}

/** Every five seconds what could not be written is tried again. */
const RETRY_EVERY_MS = 5000;

function ticked(bench: Bench, { now, wall }: Extract<EdgeEvent, { kind: 'ticked' }>): Outcome {
  const next = { ...bench, now, wall };
  const due = Math.floor(now / RETRY_EVERY_MS) !== Math.floor(bench.now / RETRY_EVERY_MS);
  return due && bench.unsaved.length > 0
    ? becomes(next, {}, { kind: 'retry', entries: bench.unsaved })
    : unchanged(next);
}
