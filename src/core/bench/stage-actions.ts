// What the turner's keys and buttons do at a stage and at the welcome: actions, typed numbers, undo, and opening anything else.
import type { Fact, KeptReading, Stage } from './entry.ts';
import type { Action, HandEvent } from './event.ts';
import { type Job, lastUndoable } from './job.ts';
import { andThen, becomes, keep, type Outcome, refuse, unchanged, unitSwitched } from './outcome.ts';
import { rulesOf, stageBeside } from './stages/all.ts';
import { keyed } from './stages/fed-thread.ts';
import { atStage } from './stages/rules.ts';
import type { Bench } from './state.ts';
import { aimOf } from './target.ts';
import { isUnmeasured } from './threads.ts';
import { TYPED_AT_MOST } from './typed-quantity.ts';

export function stepStage(bench: Bench, event: HandEvent): Outcome {
  switch (event.kind) {
    case 'action':
      return acted(bench, event.action);
    case 'typed':
      return typed(bench, event.text);
    case 'erased':
      return erased(bench);
    case 'entered':
      return bench.typed.trim() === '' ? acted(bench, 'keep') : enteredNumber(bench, bench.typed);
    case 'escaped':
      return becomes(bench, { typed: '', lifted: null, notice: null });
    case 'detent-keyed':
      return detentKeyed(bench, event.by);
    case 'moved':
      return bench.lifted || (event.by < 0 && lastTyped(bench))
        ? picked(bench, event.by)
        : detentKeyed(bench, event.by);
    case 'undo-asked':
      return undone(bench);
    case 'unit-switched':
      return unitSwitched(bench);
    case 'note-asked':
      return bench.job
        ? becomes(bench, { mode: { kind: 'note', text: '' } })
        : refuse(bench, { kind: 'no-job' });
    case 'new-job-asked':
      return becomes(bench, {}, { kind: 'open-form' });
    case 'jobs-asked':
      return becomes(bench, {}, { kind: 'list-jobs' });
    case 'sheet-asked':
      return bench.job
        ? becomes(bench, {}, { kind: 'write-sheet', job: bench.job.id })
        : refuse(bench, { kind: 'no-job' });
    case 'calibrate-asked':
      return becomes(bench, {}, { kind: 'open-calibration' });
    case 'virtual-asked':
      return bench.line.open ? unchanged(bench) : becomes(bench, {}, { kind: 'start-virtual' });
    case 'form-finished':
    case 'help-switched':
    case 'teaching-asked':
    case 'quit-asked':
      return unchanged(bench);
    default:
      return event satisfies never;
  }
}

function acted(bench: Bench, action: Action): Outcome {
  const notice = action === 'keep' ? questionOf(bench) : null;
  const cleared = { ...putBack(bench), notice, typed: '' };
  const { job } = bench;
  if (!job) return action === 'keep' ? becomes(cleared, {}, { kind: 'open-form' }) : unchanged(cleared);
  if (action === 'next' || action === 'back') {
    const stage = stageBeside(job.setup, job.stage, action === 'next' ? 1 : -1);
    return stage === job.stage ? unchanged(cleared) : entering(cleared, job, stage);
  }
  if (job.closed) return refuse(cleared, { kind: 'closed' });
  return atStage(cleared, unchanged(cleared), (ready) => rulesOf(job)[action](ready));
}

/** Entering the spigot keeps the target that the turner is shown, so that the record can explain it. */
function entering(bench: Bench, job: Job, stage: Stage): Outcome {
  const moved = keep(bench, { kind: 'stage-entered', stage });
  const aim = stage === 'spigot' ? aimOf(job) : null;
  if (aim?.kind !== 'aim') return moved;
  const { bore, target, low, high, limit } = aim;
  const asPlanned = isUnmeasured(job) ? { asPlanned: true } : {};
  const set = { kind: 'target-set', bore, target, low, high, limit, ...asPlanned } as const;
  return andThen(moved, (next) => keep(next, set));
}

/** A question stays until it is answered: Enter means yes, anything else no. */
const questionOf = ({ notice }: Bench): Bench['notice'] => (notice?.kind === 'question' ? notice : null);

/** At the trial one digit is an answer; anything else waits for Enter. */
function typed(bench: Bench, text: string): Outcome {
  const all = bench.typed + text;
  if (all.length > TYPED_AT_MOST)
    return refuse(putBack(bench), { kind: 'bad-number', found: all, accepted: 'one measurement' });
  const answers = bench.mode.kind === 'stage' && bench.job?.stage === 'trial' && /^\d$/.test(all);
  return answers ? enteredNumber(bench, all) : becomes(bench, { typed: all, notice: null });
}

/** The newest reading of the stage, where it was typed. */
function lastTyped({ mode, readings }: Bench): KeptReading | undefined {
  const last = mode.kind === 'stage' ? readings.at(-1) : undefined;
  return last?.raw === '' ? last : undefined;
}

function erased(bench: Bench): Outcome {
  const left = bench.typed.slice(0, -1);
  return becomes(bench, { typed: left, lifted: left === '' ? null : bench.lifted, notice: null });
}

/** The reading in the line is among the others again, as it was. */
const putBack = (bench: Bench): Bench => {
  const { lifted, readings } = bench;
  return lifted
    ? { ...bench, readings: readings.toSpliced(lifted.at, 0, lifted.reading), lifted: null }
    : bench;
};

const asTyped = ({ unit }: Bench, { text, unit: own }: KeptReading): string =>
  own === unit ? text : `${text}${own}`;

/** The typed reading at this place comes into the line, to be changed or dropped. */
function lift(bench: Bench, at: number): Outcome {
  const reading = bench.readings[at];
  if (reading?.raw !== '') return unchanged(bench);
  const readings = bench.readings.toSpliced(at, 1);
  return becomes(bench, { readings, lifted: { reading, at }, typed: asTyped(bench, reading), notice: null });
}

/** The newest typed reading; of a bore's, which count all, also the one before or after, while that in the line is unchanged. */
function picked(bench: Bench, by: 1 | -1): Outcome {
  const { lifted, typed, readings, job } = bench;
  if (typed === '') return lift(bench, readings.length - 1);
  if (!lifted || typed !== asTyped(bench, lifted.reading) || job?.stage !== 'bore size')
    return unchanged(bench);
  const at = lifted.at + by;
  const back = putBack(bench);
  if (at === back.readings.length) return becomes(back, { typed: '' });
  return at < 0 ? unchanged(bench) : lift(back, at);
}

/** Where the number is refused, the reading that it was to correct stays as it was. */
function enteredNumber(bench: Bench, text: string): Outcome {
  const cleared = { ...bench, notice: questionOf(bench) };
  const { job } = bench;
  if (!job || job.closed) return refuse(putBack(cleared), { kind: job ? 'closed' : 'no-job' });
  const done = atStage(cleared, unchanged(cleared), (at) => rulesOf(at.job).typed(at, text));
  return done.bench.notice?.kind === 'refused' ? { ...done, bench: putBack(done.bench) } : done;
}

function detentKeyed(bench: Bench, by: 1 | -1): Outcome {
  return atStage({ ...bench, notice: null }, unchanged(bench), (ready) => {
    const { stage, closed } = ready.job;
    if (closed && stage.endsWith('thread')) return refuse(ready, { kind: 'closed' });
    if (stage === 'bore thread') return keyed(ready, 'female', by);
    return stage === 'spigot thread' ? keyed(ready, 'male', by) : unchanged(ready);
  });
}

/** What is undone is only what was measured besides the first size. */
const isSecondSize = (fact: Fact): boolean =>
  (fact.kind === 'bore-taken' || fact.kind === 'spigot-taken') && ('across' in fact || 'end' in fact);

function undone(bench: Bench): Outcome {
  if (lastTyped(bench))
    return becomes(bench, {
      readings: bench.readings.slice(0, -1),
      notice: { kind: 'undone', what: 'reading taken back' },
    });
  const last = lastUndoable(bench.log);
  if (!bench.job || !last) return refuse(bench, { kind: 'nothing-to-undo' });
  const what = isSecondSize(last.fact) ? 'the last size measured' : last.fact.kind;
  return keep({ ...bench, place: 'first' }, { kind: 'undone', entry: last.id }, [], { kind: 'undone', what });
}
