// Calibrating the feed, key by key: the turner chooses a way, answers questions one by one, then names the feed and keeps it.

import { erasedText, firstCharacters } from '../../safe-text.ts';
import { calibrationRefusalText } from '../../thread/calibrate.ts';
import type { VoidReason } from '../../thread/depth.ts';
import { type Length, mm } from '../../units.ts';
import type { Action, HandEvent } from '../event.ts';
import { feedFactsOf } from '../new-job-form.ts';
import {
  andThen,
  badNumber,
  becomes,
  keep,
  left,
  type Outcome,
  refuse,
  unchanged,
  unitSwitched,
} from '../outcome.ts';
import type { FeedFacts, Kit, Part } from '../setup.ts';
import { isFeedUnused } from '../stages/fed-thread.ts';
import type { Bench } from '../state.ts';
import { type Calibrating, type CalibrationTrouble, calibrationOf, missingFor, provenFrom } from './model.ts';
import {
  type Answer,
  type Answers,
  type Asking,
  answerTo,
  markIn,
  questionIn,
  rowOf,
  type Way,
} from './questions.ts';

const AFRESH = { typed: '', notice: null } as const;
const MOST_NAME = 40;
/** The name of a feed that nobody named. */
const UNNAMED = 'feed';

/** A job without the feed that a board counts gets the kit's at once; where the kit has none, the quickest way is offered first. */
export function startCalibrating(bench: Bench, kit: Kit): Outcome {
  const [feed] = kit.feeds;
  const lacks = lacksFeed(bench);
  if (feed && lacks) return withFeed(bench, feedFactsOf(feed));
  return shows(bench, {
    step: 'way',
    answers: unanswered(lacks ? 'known' : 'travel'),
    name: bench.job?.setup.feed?.name ?? feed?.name ?? UNNAMED,
    untouched: true,
  });
}

/** An open job without a feed, before a board that counts one. */
const lacksFeed = (bench: Bench): boolean =>
  bench.job !== null && bench.job.closed === null && isFeedUnused({ ...bench, job: bench.job });

/** The job goes on with this feed; grooves not cut yet are planned in its whole detents. */
function withFeed(bench: Bench, feed: FeedFacts): Outcome {
  const { job } = bench;
  if (!job) return unchanged(bench);
  const planned = (part: Part): Length =>
    mm(Math.max(1, Math.round(job.setup.depth[part] / feed.perDetent)) * feed.perDetent);
  const depth = {
    female: job.threads.female.cut ? job.setup.depth.female : planned('female'),
    male: job.threads.male.cut ? job.setup.depth.male : planned('male'),
  };
  return keep(bench, { kind: 'setup-changed', setup: { ...job.setup, feed, depth } });
}

export function stepCalibrating(bench: Bench, now: Calibrating, event: HandEvent): Outcome {
  if (event.kind === 'unit-switched') return unitSwitched(bench);
  if (now.step === 'naming') return naming(bench, now, event);
  switch (event.kind) {
    case 'typed':
      return becomes(bench, { typed: (bench.typed + event.text).slice(0, 24), notice: null });
    case 'erased':
      return becomes(bench, { typed: bench.typed.slice(0, -1) });
    case 'entered':
      return bench.typed.trim() === '' ? acted(bench, now, 'keep') : entered(bench, now, bench.typed);
    case 'escaped':
      return bench.typed === '' ? outOf(bench, now) : becomes(bench, { typed: '', notice: null });
    case 'moved':
      return now.step === 'way' ? acted(bench, now, 'again') : unchanged(bench);
    case 'undo-asked':
      return acted(bench, now, 'back');
    case 'action':
      return acted(bench, now, event.action);
    case 'note-asked':
    case 'new-job-asked':
    case 'jobs-asked':
    case 'sheet-asked':
    case 'calibrate-asked':
    case 'virtual-asked':
      return notDone(bench, { kind: 'other-key' });
    default:
      return unchanged(bench);
  }
}

/** Out of the questions to the choice of the way, where Enter goes on with what was answered; from there out of it all. */
const outOf = (bench: Bench, now: Calibrating): Outcome =>
  now.step === 'way' ? left(bench, AFRESH) : shows(bench, { ...now, step: 'way' });

/** One answer back; before the first, back to the choice of the way. */
function takenBack(bench: Bench, now: Calibrating): Outcome {
  const isAnswered = now.step === 'asking' && now.answers.given.length > 0;
  return isAnswered ? shows(bench, { ...now, answers: withoutLast(now) }) : outOf(bench, now);
}

const unanswered = (way: Way): Answers => ({ way, given: [] });
const withoutLast = ({ answers }: Calibrating): Answers => ({
  ...answers,
  given: answers.given.slice(0, -1),
});

const NEXT_WAY = { travel: 'pair', pair: 'known', known: 'travel' } as const;

function acted(bench: Bench, now: Calibrating, action: Action): Outcome {
  const { way } = now.answers;
  const isAtWay = now.step === 'way';
  if (action === 'back') return takenBack(bench, now);
  if (action === 'again') return shows(bench, { ...now, answers: unanswered(isAtWay ? NEXT_WAY[way] : way) });
  if (isAtWay) return begun(bench, now, way);
  return action === 'next' || !rowOf(asking(bench, now)) ? finished(bench, now) : offerKept(bench, now);
}

function entered(bench: Bench, now: Calibrating, text: string): Outcome {
  if (now.step !== 'way') return answered(bench, now, text);
  const way = (['travel', 'pair', 'known'] as const)[Number(text) - 1];
  return way ? begun(bench, now, way) : badNumber(bench, text, '1, 2 or 3');
}

function begun(bench: Bench, now: Calibrating, way: Way): Outcome {
  const lack = way === 'pair' ? missingFor(bench.job) : null;
  if (lack) return notDone(bench, { kind: 'no-pair', lack });
  const answers = now.answers.way === way ? now.answers : unanswered(way);
  return shows(bench, { ...now, step: 'asking', answers });
}

function finished(bench: Bench, now: Calibrating): Outcome {
  const found = calibrationOf(asking(bench, now));
  if (!found) return notDone(bench, { kind: 'not-answered' });
  return found.kind === 'calibration'
    ? shows(bench, { ...now, step: 'naming' })
    : notDone(bench, { kind: 'no-calibration', why: calibrationRefusalText(found) });
}

function naming(bench: Bench, now: Calibrating, event: HandEvent): Outcome {
  const named = (name: string): Outcome =>
    shows(bench, { ...now, name: firstCharacters(name, MOST_NAME), untouched: false });
  switch (event.kind) {
    case 'typed':
      return named((now.untouched ? '' : now.name) + event.text);
    case 'erased':
      return named(now.untouched ? '' : erasedText(now.name));
    case 'entered':
    case 'form-finished':
      return keeps(bench, now);
    case 'escaped':
      return shows(bench, { ...now, step: 'asking' });
    case 'action':
      if (event.action === 'keep') return keeps(bench, now);
      return event.action === 'back' ? shows(bench, { ...now, step: 'asking' }) : unchanged(bench);
    default:
      return unchanged(bench);
  }
}

/** Orders the feed to be kept. The screen changes when the answer comes, so a feed that can't be written isn't lost. */
function keeps(bench: Bench, now: Calibrating): Outcome {
  const found = calibrationOf(asking(bench, now));
  const name = now.name.trim();
  if (found?.kind !== 'calibration') return notDone(bench, { kind: 'not-answered' });
  if (name === '') return notDone(bench, { kind: 'no-name' });
  const { perDetent, doubt } = found;
  const feed = { name, perDetent, standard: mm(doubt.standard), freedom: doubt.degreesOfFreedom };
  return becomes(bench, {}, { kind: 'keep-feed', feed: { ...feed, ...provenFrom(asking(bench, now)) } });
}

/** The kit has it: back to where the turner came from. */
export function feedKept(bench: Bench, name: string): Outcome {
  const told = left(bench, { ...AFRESH, notice: { kind: 'feed-kept', name } });
  if (bench.mode.kind !== 'calibrate' || !lacksFeed(bench)) return told;
  const found = calibrationOf(asking(bench, bench.mode.calibrating));
  if (found?.kind !== 'calibration') return told;
  const { perDetent, doubt } = found;
  const feed = { name, perDetent, lostDetents: 0, perDetentStandard: mm(doubt.standard) };
  return andThen(told, (at) => withFeed(at, feed));
}

/** The board no longer counts on from the mark: the travel under way starts over, the earlier ones are kept. */
export function countBroken(bench: Bench, why: VoidReason): Outcome {
  if (bench.mode.kind !== 'calibrate') return unchanged(bench);
  const { calibrating } = bench.mode;
  if (markIn(calibrating.answers) === null) return unchanged(bench);
  const mode = {
    kind: 'calibrate',
    calibrating: { ...calibrating, answers: withoutLast(calibrating) },
  } as const;
  return notDone({ ...bench, mode }, { kind: 'count-broken', why });
}

const asking = ({ job, unit, feed }: Bench, { answers }: Calibrating): Asking => ({
  answers,
  job,
  unit,
  feed,
});

const shows = (bench: Bench, calibrating: Calibrating): Outcome =>
  becomes(bench, { mode: { kind: 'calibrate', calibrating }, ...AFRESH });

const notDone = (bench: Bench, trouble: CalibrationTrouble): Outcome =>
  refuse(bench, { kind: 'calibration', trouble });

/** Enter with nothing typed: the offered answer is used, or the gauge stands at zero and a board counts from here. */
function offerKept(bench: Bench, now: Calibrating): Outcome {
  const { feed, job } = bench;
  const asked = questionIn(asking(bench, now));
  const offer = rowOf(asking(bench, now))?.offers?.(job);
  if (asked !== 'nothing' && offer !== undefined) return withAnswer(bench, now, { to: asked, value: offer });
  if (asked !== 'detents' && asked !== 'mark') return refuse(bench, { kind: 'no-reading' });
  return feed
    ? withAnswer(bench, now, { to: 'mark', value: feed.total })
    : notDone(bench, { kind: 'no-count' });
}

function answered(bench: Bench, now: Calibrating, text: string): Outcome {
  const on = asking(bench, now);
  const question = questionIn(on);
  const parsed = rowOf(on)?.reads?.(text, on);
  if (question === 'nothing' || !parsed) return notDone(bench, { kind: 'nothing-asked', question });
  if (!parsed.ok) return badNumber(bench, text, parsed.accepted);
  return question === 'travel'
    ? withTravel(bench, now, parsed.value)
    : withAnswer(bench, now, { to: question, value: parsed.value });
}

/** A figure that is known needs nothing else. */
function withAnswer(bench: Bench, now: Calibrating, answer: Answer, given = now.answers.given): Outcome {
  const step = now.answers.way === 'known' ? 'naming' : now.step;
  return shows(bench, { ...now, step, answers: { ...now.answers, given: [...given, answer] } });
}

/** A travel belongs to a number of detents; one over another number would say something else. */
function withTravel(bench: Bench, now: Calibrating, value: number): Outcome {
  const mark = markIn(now.answers);
  const first = answerTo(asking(bench, now), 'detents');
  if (mark === null) return withAnswer(bench, now, { to: 'travel', value });
  const detents = (bench.feed?.total ?? mark) - mark;
  if (detents <= 0) return notDone(bench, { kind: 'not-fed', detents });
  if (first !== undefined && detents !== first)
    return notDone(bench, { kind: 'other-count', detents, first });
  return withAnswer(bench, now, { to: 'travel', value, over: detents }, withoutLast(now).given);
}
