// Calibrating the feed under the turner's hands: a way chosen, questions answered one by one, the answer named and kept.

import { type Parsed, parseCount } from '../../quantity.ts';
import { firstCharacters } from '../../safe-text.ts';
import { calibrationRefusalText } from '../../thread/calibrate.ts';
import type { VoidReason } from '../../thread/feed.ts';
import { type Length, mm } from '../../units.ts';
import type { Action, HandEvent } from '../event.ts';
import { feedFactsOf } from '../new-job-form.ts';
import { andThen, becomes, keep, type Outcome, refuse, unchanged } from '../outcome.ts';
import type { FeedFacts, Kit, Part } from '../setup.ts';
import { isFeedUnused } from '../stages/thread.ts';
import type { Bench } from '../state.ts';
import { typedLength } from '../typed-reading.ts';
import {
  type Answers,
  type ByPair,
  type ByTravel,
  type Calibrating,
  type CalibrationTrouble,
  calibrationOf,
  emptyKnownAnswers,
  emptyPairAnswers,
  emptyTravelAnswers,
  isOffered,
  missingFor,
  offeredFor,
  provenFrom,
  type Question,
  questionIn,
  type Way,
} from './model.ts';

const MOST_NAME = 40;
/** What a feed is called that nobody named. */
const UNNAMED = 'feed';

/** A job without the feed that a board counts gets the kit's at once; where the kit has none, the quickest way is offered first. */
export function startCalibrating(bench: Bench, kit: Kit): Outcome {
  const [feed] = kit.feeds;
  const lacks = lacksFeed(bench);
  if (feed && lacks) return withFeed(bench, feedFactsOf(feed));
  return shows(bench, {
    step: 'way',
    answers: lacks ? emptyKnownAnswers : emptyTravelAnswers,
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

const leaves = (bench: Bench): Outcome =>
  becomes(bench, { mode: { kind: bench.job ? 'stage' : 'welcome' }, typed: '', notice: null });

export function stepCalibrating(bench: Bench, now: Calibrating, event: HandEvent): Outcome {
  if (event.kind === 'unit-switched') return becomes(bench, { unit: bench.unit === 'mm' ? 'in' : 'mm' });
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
  now.step === 'way' ? leaves(bench) : shows(bench, { ...now, step: 'way' });

function acted(bench: Bench, now: Calibrating, action: Action): Outcome {
  if (action === 'back') return now.step === 'way' ? leaves(bench) : takenBack(bench, now);
  if (now.step === 'way') {
    const other = NEXT_WAY[now.answers.way];
    if (action === 'again') return shows(bench, { ...now, answers: answersFor(bench, other) });
    return begun(bench, now, now.answers.way);
  }
  if (action === 'again') return shows(bench, { ...now, answers: answersFor(bench, now.answers.way) });
  const all = questionIn(now.answers) === 'nothing';
  return action === 'next' || all ? finished(bench, now) : taken(bench, now);
}

const NEXT_WAY = { travel: 'pair', pair: 'known', known: 'travel' } as const;

function answersFor({ job }: Bench, way: Way): Answers {
  if (way === 'known') return emptyKnownAnswers;
  return way === 'travel' ? emptyTravelAnswers : emptyPairAnswers(job);
}

function entered(bench: Bench, now: Calibrating, text: string): Outcome {
  if (now.step !== 'way') return answered(bench, now, text);
  const way = (['travel', 'pair', 'known'] as const)[Number(text) - 1];
  return way ? begun(bench, now, way) : badAnswer(bench, text, '1, 2 or 3');
}

function begun(bench: Bench, now: Calibrating, way: Way): Outcome {
  const lack = way === 'pair' ? missingFor(bench.job) : null;
  if (lack) return notDone(bench, { kind: 'no-pair', lack });
  const answers = now.answers.way === way ? now.answers : answersFor(bench, way);
  return shows(bench, { ...now, step: 'asking', answers });
}

function finished(bench: Bench, now: Calibrating): Outcome {
  const found = calibrationOf(now.answers, bench.job);
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
      return named(now.untouched ? '' : [...now.name].slice(0, -1).join(''));
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

/** Ordered kept; what is shown changes when the answer comes, so that nothing is lost where it cannot be written. */
function keeps(bench: Bench, { answers, name }: Calibrating): Outcome {
  const found = calibrationOf(answers, bench.job);
  if (found?.kind !== 'calibration') return notDone(bench, { kind: 'not-answered' });
  if (name.trim() === '') return notDone(bench, { kind: 'no-name' });
  const { perDetent, doubt } = found;
  const feed = {
    name: name.trim(),
    perDetent,
    standard: mm(doubt.standard),
    freedom: doubt.degreesOfFreedom,
  };
  return becomes(bench, {}, { kind: 'keep-feed', feed: { ...feed, ...provenFrom(answers, bench.job) } });
}

/** The kit has it: back to where the turner came from. */
export function feedKept(bench: Bench, name: string): Outcome {
  const told = becomes(leaves(bench).bench, { notice: { kind: 'feed-kept', name } });
  if (bench.mode.kind !== 'calibrate' || !lacksFeed(bench)) return told;
  const found = calibrationOf(bench.mode.calibrating.answers, bench.job);
  if (found?.kind !== 'calibration') return told;
  const { perDetent, doubt } = found;
  const feed = { name, perDetent, lostDetents: 0, perDetentStandard: mm(doubt.standard) };
  return andThen(told, (at) => withFeed(at, feed));
}

/** The board no longer counts on from the mark: the travel under way starts over, the earlier ones are kept. */
export function countBroken(bench: Bench, why: VoidReason): Outcome {
  if (bench.mode.kind !== 'calibrate') return unchanged(bench);
  const { calibrating } = bench.mode;
  const { answers } = calibrating;
  if (answers.way !== 'travel' || answers.mark === null) return unchanged(bench);
  const back = travelBack(answers) ?? emptyTravelAnswers;
  const mode = { kind: 'calibrate', calibrating: { ...calibrating, answers: back } } as const;
  return notDone({ ...bench, mode }, { kind: 'count-broken', why });
}

const MOST_DETENTS = 100_000;

export const shows = (bench: Bench, calibrating: Calibrating): Outcome =>
  becomes(bench, { mode: { kind: 'calibrate', calibrating }, typed: '', notice: null });

export const notDone = (bench: Bench, trouble: CalibrationTrouble): Outcome =>
  refuse(bench, { kind: 'calibration', trouble });

export const badAnswer = (bench: Bench, found: string, accepted: string): Outcome =>
  refuse(bench, { kind: 'bad-number', found, accepted });

/** Enter with nothing typed: the offered answer is used, the gauge stands at zero, or all is answered. */
export function taken(bench: Bench, now: Calibrating): Outcome {
  const question = questionIn(now.answers);
  if (isOffered(question)) return withLength(bench, now, question, offeredFor(question, bench.job));
  const { answers } = now;
  if (answers.way === 'travel' && (question === 'detents' || question === 'mark'))
    return marked(bench, now, answers);
  return refuse(bench, { kind: 'no-reading' });
}

/** The gauge stands at zero: a board counts from here. */
function marked(bench: Bench, now: Calibrating, answers: ByTravel): Outcome {
  const { feed } = bench;
  if (!feed) return notDone(bench, { kind: 'no-count' });
  return shows(bench, { ...now, answers: { ...answers, mark: feed.total, counted: true } });
}

export function answered(bench: Bench, now: Calibrating, text: string): Outcome {
  const question = questionIn(now.answers);
  switch (question) {
    case 'detents':
    case 'bore detents':
    case 'spigot detents': {
      const count = parseCount(text, 1, MOST_DETENTS);
      return count.ok ? withCount(bench, now, question, count.value) : badAnswer(bench, text, count.accepted);
    }
    case 'gauge within':
    case 'travel':
    case 'play':
    case 'play within':
    case 'touch-off within':
    case 'per detent': {
      const length = lengthFor(question, text, bench);
      return length.ok
        ? withLength(bench, now, question, length.value)
        : badAnswer(bench, text, length.accepted);
    }
    case 'mark':
    case 'nothing':
      return notDone(bench, { kind: 'nothing-asked', question });
    default:
      return question satisfies never;
  }
}

function lengthFor(question: Question, text: string, { unit }: Bench): Parsed<Length> {
  const parsed = typedLength(text, unit);
  if (!parsed.ok) return parsed;
  const isMove = question === 'travel' || question === 'per detent';
  const fits = isMove ? parsed.value > 0 : parsed.value >= 0;
  const accepted = isMove ? 'a travel above zero' : 'zero or more';
  return fits ? parsed : { ok: false, kind: 'bad-quantity', found: text, accepted };
}

function withCount(bench: Bench, now: Calibrating, question: Question, count: number): Outcome {
  const { answers } = now;
  if (answers.way === 'travel') return shows(bench, { ...now, answers: { ...answers, detents: count } });
  if (answers.way === 'known') return unchanged(bench);
  const part = question === 'bore detents' ? 'female' : 'male';
  return shows(bench, { ...now, answers: { ...answers, detents: { ...answers.detents, [part]: count } } });
}

function withLength(bench: Bench, now: Calibrating, question: Question, value: Length): Outcome {
  const { answers } = now;
  if (answers.way === 'known')
    return shows(bench, { ...now, step: 'naming', answers: { ...answers, perDetent: value } });
  if (answers.way === 'travel')
    return question === 'travel'
      ? withTravel(bench, now, answers, value)
      : shows(bench, { ...now, answers: { ...answers, gaugeWithin: value } });
  const key = question === 'play' ? 'play' : question === 'play within' ? 'playWithin' : 'touchOffWithin';
  return shows(bench, { ...now, answers: { ...answers, [key]: value } });
}

/** A travel belongs to a number of detents; one over another number would say something else. */
function withTravel(bench: Bench, now: Calibrating, answers: ByTravel, travel: Length): Outcome {
  const { mark, detents: first, travels } = answers;
  const detents = mark === null ? first : (bench.feed?.total ?? mark) - mark;
  if (detents === null || detents <= 0) return notDone(bench, { kind: 'not-fed', detents: detents ?? 0 });
  if (first !== null && detents !== first) return notDone(bench, { kind: 'other-count', detents, first });
  return shows(bench, {
    ...now,
    answers: { ...answers, detents, mark: null, travels: [...travels, travel] },
  });
}

/** One answer back; before the first, back to the choice of the way. */
export function takenBack(bench: Bench, now: Calibrating): Outcome {
  const answers = backIn(bench, now.answers);
  return shows(bench, answers ? { ...now, answers } : { ...now, step: 'way' });
}

function backIn(bench: Bench, answers: Answers): Answers | null {
  if (answers.way === 'known') return answers.perDetent === null ? null : emptyKnownAnswers;
  return answers.way === 'travel' ? travelBack(answers) : pairBack(bench, answers);
}

export function travelBack(answers: ByTravel): Answers | null {
  const { mark, travels, detents, gaugeWithin, counted } = answers;
  if (mark !== null) return { ...answers, mark: null, counted: detents !== null };
  if (travels.length > (counted ? 1 : 0)) return { ...answers, travels: travels.slice(0, -1) };
  if (detents !== null) return { ...emptyTravelAnswers, gaugeWithin };
  return gaugeWithin === null ? null : emptyTravelAnswers;
}

function pairBack({ job }: Bench, answers: ByPair): Answers | null {
  if (answers.touchOffWithin !== null) return { ...answers, touchOffWithin: null };
  if (answers.playWithin !== null) return { ...answers, playWithin: null };
  if (answers.play !== null) return { ...answers, play: null };
  const known = emptyPairAnswers(job);
  const typed = (['female', 'male'] as const).some((part) => answers.detents[part] !== known.detents[part]);
  return typed ? known : null;
}
