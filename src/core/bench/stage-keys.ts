// What the turner's hands do at a stage and at the welcome: actions, typed numbers, undo, and the ways elsewhere.
import type { Stage } from './entry.ts';
import type { Action, HandEvent } from './event.ts';
import { type Job, lastUndoable } from './job.ts';
import { andThen, becomes, keep, type Outcome, refuse, unchanged } from './outcome.ts';
import { RULES, stageBeside } from './stages/all.ts';
import { atStage } from './stages/rules.ts';
import { keyed } from './stages/thread.ts';
import type { Bench } from './state.ts';
import { aimOf } from './target.ts';

export function stepStage(bench: Bench, event: HandEvent): Outcome {
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
    case 'quit-asked':
      return unchanged(bench);
    default:
      return event satisfies never;
  }
}

function acted(bench: Bench, action: Action): Outcome {
  const cleared = { ...bench, notice: null, typed: '' };
  const { job } = bench;
  if (!job) return action === 'take' ? becomes(cleared, {}, { kind: 'open-form' }) : unchanged(cleared);
  if (action === 'next' || action === 'back') {
    const stage = stageBeside(job.setup, job.stage, action === 'next' ? 1 : -1);
    return stage === job.stage ? unchanged(cleared) : entering(cleared, job, stage);
  }
  if (job.closed) return refuse(cleared, { kind: 'closed' });
  return atStage(cleared, unchanged(cleared), (ready) => RULES[job.stage][action](ready));
}

/** Entering the spigot keeps the target that the turner is shown, so that the record can explain it. */
function entering(bench: Bench, job: Job, stage: Stage): Outcome {
  const moved = keep(bench, { kind: 'stage-entered', stage });
  const aim = stage === 'spigot' ? aimOf(job) : null;
  if (aim?.kind !== 'aim') return moved;
  const { bore, target, low, high, limit } = aim;
  return andThen(moved, (next) => keep(next, { kind: 'target-set', bore, target, low, high, limit }));
}

function enteredNumber(bench: Bench): Outcome {
  const text = bench.typed;
  const cleared = { ...bench, notice: null };
  if (!bench.job) return refuse(cleared, { kind: 'no-job' });
  if (bench.job.closed) return refuse(cleared, { kind: 'closed' });
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
  if (!bench.job || !last) return refuse(bench, { kind: 'nothing-to-undo' });
  return keep(bench, { kind: 'undone', entry: last.id }, [], { kind: 'undone', what: last.fact.kind });
}
