// One event in, the next state and the effects out. The only door to the bench; every rule behind it is pure.
import { capitalised } from '../safe-text.ts';
import type { VoidReason } from '../thread/depth.ts';
import type { LengthUnit, Millis } from '../units.ts';
import { countBroken, feedKept, startCalibrating, stepCalibrating } from './calibration/steps.ts';
import type { KeptReading } from './entry.ts';
import type { BenchEvent, EdgeEvent, HandEvent, LineEvent, LinkEvent } from './event.ts';
import { entryKept, opened, saved, stageReset, ticked } from './kept-entries.ts';
import { isFromLine, lineAfter, quietLine, wantsReadings } from './line.ts';
import { stepForm, stepJobs, stepNote } from './modes.ts';
import { openForm } from './new-job-form.ts';
import { andThen, becomes, type Outcome, refuse, sounding, unchanged } from './outcome.ts';
import { openPractice, practised, stepPractice } from './practice.ts';
import { stepStage } from './stage-actions.ts';
import { rulesOf } from './stages/all.ts';
import { feedCounted, voided } from './stages/fed-thread.ts';
import { atStage } from './stages/rules.ts';
import { type Bench, BOARD_FAULTS, type Live, NOTHING_LIVE } from './state.ts';
import { isMishap, mishapAt, type TeachingOrder } from './teaching.ts';

/** The bench as it opens: no job, nothing heard. */
export const startBench = (now: Millis, wall: number, unit: LengthUnit): Bench => ({
  ...NOTHING_LIVE,
  mode: { kind: 'welcome' },
  log: [],
  job: null,
  line: quietLine,
  live: null,
  feed: null,
  zone: null,
  trialled: null,
  aboveSeen: false,
  unit,
  help: false,
  notice: null,
  cue: null,
  unsaved: [],
  now,
  wall,
  feedSeen: false,
  teaching: null,
  zeroDoubted: false,
});

export function step(bench: Bench, event: BenchEvent): Outcome {
  if (!isFromLine(event)) return stepOther(bench, event);
  const next = { ...bench, line: lineAfter(bench.line, event) };
  return isAnotherBoard(bench, event) ? boardChanged(next) : stepLine(next, event);
}

const isAnotherBoard = ({ line }: Bench, event: LineEvent | LinkEvent): boolean =>
  event.kind === 'board-found' && line.board !== null && line.board.board !== event.facts.board;

/** Readings of two calipers are never joined: the measurement starts over. */
function boardChanged(bench: Bench): Outcome {
  const board = bench.line.board?.board ?? '';
  const said = refuse(
    { ...stageReset(bench), live: null, feedSeen: false },
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
      const action = (['keep', 'again', 'next', 'back'] as const)[event.button - 1];
      return event.down && action ? stepHand(bench, { kind: 'action', action }) : unchanged(bench);
    }
    case 'link-lost':
    case 'line-silent':
      return wantsReadings(bench) ? sounding(bench, 'link-lost') : unchanged(bench);
    case 'board-found':
    case 'line-speaking':
    case 'lines-lost':
    case 'line-discarded':
    case 'line-unknown':
    case 'version-refused':
    case 'link-opened':
    case 'link-refused':
      return unchanged(bench);
    case 'board-fault':
      return faultTold(bench, event.code);
    default:
      return event satisfies never;
  }
}

/** A count that broke off is believed nowhere: not in a thread, not in a calibration. */
const broken = (bench: Bench, why: VoidReason): Outcome =>
  andThen(voided(bench, why), (at) => countBroken(at, why));

/** What the turner can mend is said; a plain question on the screen is not talked over. */
function faultTold(bench: Bench, code: string): Outcome {
  const fault = BOARD_FAULTS.find((one) => one === code);
  return fault && bench.notice?.kind !== 'question'
    ? becomes(bench, { notice: { kind: 'board-fault', fault } })
    : unchanged(bench);
}

function readingReceived(bench: Bench, event: Extract<LineEvent, { kind: 'reading-received' }>): Outcome {
  const live: Live = { reading: event.reading, raw: event.raw, heardAt: event.heardAt };
  const next = { ...bench, live };
  if (next.mode.kind === 'practice') return practised(next, live);
  const { text, unit, step: worth, value, at } = event.reading;
  const reading: KeptReading = { text, unit, step: worth, value, at, raw: event.raw };
  return atStage(next, unchanged(next), (ready) => rulesOf(ready.job).onReading(ready, reading));
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
      return becomes(bench, { notice: { kind: 'kept', what: `the job sheet as ${event.path}` } });
    case 'practice-opened':
      return openPractice(bench, event.measuring);
    case 'teaching-changed':
      return becomes(bench, { teaching: event.teaching });
    case 'edge-failed':
      return becomes(bench, {
        notice: {
          kind: 'not-done',
          why: `${event.what}. ${capitalised(event.why)}`,
        },
      });
    default:
      return stepHand(bench, event);
  }
}

function stepHand(bench: Bench, event: HandEvent): Outcome {
  if (event.kind === 'quit-asked') return becomes(bench, {}, { kind: 'quit' });
  if (event.kind === 'help-switched') return becomes(bench, { help: !bench.help });
  if (event.kind === 'teaching-asked') return taught(bench, event.order);
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
    case 'practice':
      return stepPractice(bench, bench.mode.practice, event);
    case 'welcome':
    case 'stage':
      return stepStage(bench, event);
    default:
      return bench.mode satisfies never;
  }
}

/** At a real board these keys do nothing. */
function taught(bench: Bench, asked: TeachingOrder | 'mishap'): Outcome {
  const { job, mode, teaching } = bench;
  if (!teaching) return unchanged(bench);
  const here = job && mode.kind === 'stage' && !job.closed ? mishapAt(job.stage) : null;
  const order = asked === 'mishap' ? here : asked;
  if (!order) return refuse(bench, { kind: 'no-mishap' });
  const notice = isMishap(order) ? ({ kind: 'mishap', what: order } as const) : bench.notice;
  return becomes(bench, { notice }, { kind: 'teach', order });
}
