// Calibrating the feed under the turner's hands: a way chosen, questions answered one by one, the answer named and kept.

import { type Parsed, parseCount, parseLength } from '../../quantity.ts';
import { firstCharacters } from '../../safe-text.ts';
import { calibrationRefusalText } from '../../thread/calibrate.ts';
import type { VoidReason } from '../../thread/feed.ts';
import { type Length, mm } from '../../units.ts';
import type { Action, HandEvent } from '../event.ts';
import { becomes, type Outcome, refuse, unchanged } from '../outcome.ts';
import type { Kit } from '../setup.ts';
import type { Bench } from '../state.ts';
import {
  type Answers,
  type ByPair,
  type ByTravel,
  type Calibrating,
  type CalibrationTrouble,
  calibrationOf,
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

export const startCalibrating = (bench: Bench, kit: Kit): Outcome =>
  shows(bench, {
    step: 'way',
    answers: emptyTravelAnswers,
    name: bench.job?.setup.feed?.name ?? kit.feeds[0]?.name ?? UNNAMED,
    untouched: true,
  });

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
      return bench.typed.trim() === '' ? acted(bench, now, 'take') : entered(bench, now, bench.typed);
    case 'escaped':
      return bench.typed === '' ? outOf(bench, now) : becomes(bench, { typed: '', notice: null });
    case 'moved':
      return now.step === 'way' ? acted(bench, now, 'again') : unchanged(bench);
    case 'undo-asked':
      return acted(bench, now, 'back');
    case 'action':
      return acted(bench, now, event.action);
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
    const other: Way = now.answers.way === 'travel' ? 'pair' : 'travel';
    if (action === 'again') return shows(bench, { ...now, answers: answersFor(bench, other) });
    return begun(bench, now, now.answers.way);
  }
  if (action === 'again') return shows(bench, { ...now, answers: answersFor(bench, now.answers.way) });
  const all = questionIn(now.answers) === 'nothing';
  return action === 'next' || all ? finished(bench, now) : taken(bench, now);
}

const answersFor = ({ job }: Bench, way: Way): Answers =>
  way === 'travel' ? emptyTravelAnswers : emptyPairAnswers(job);

function entered(bench: Bench, now: Calibrating, text: string): Outcome {
  if (now.step !== 'way') return answered(bench, now, text);
  const way = text.trim() === '1' ? 'travel' : text.trim() === '2' ? 'pair' : null;
  return way ? begun(bench, now, way) : badAnswer(bench, text, '1 or 2');
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
      if (event.action === 'take') return keeps(bench, now);
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
export const feedKept = (bench: Bench, name: string): Outcome =>
  becomes(leaves(bench).bench, { notice: { kind: 'feed-kept', name } });

/** A board that no longer counts on from the mark: the travel under way is measured anew, those before it stand. */
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

/** Enter with nothing typed: what is offered is taken, the gauge stands at zero, or all is answered. */
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
    case 'touch-off within': {
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
  const parsed = parseLength(text, unit);
  if (!parsed.ok) return parsed;
  const fits = question === 'travel' ? parsed.value > 0 : parsed.value >= 0;
  const accepted = question === 'travel' ? 'a travel above zero' : 'zero or more';
  return fits ? parsed : { ok: false, kind: 'bad-quantity', found: text, accepted };
}

function withCount(bench: Bench, now: Calibrating, question: Question, count: number): Outcome {
  const { answers } = now;
  if (answers.way === 'travel') return shows(bench, { ...now, answers: { ...answers, detents: count } });
  const part = question === 'bore detents' ? 'female' : 'male';
  return shows(bench, { ...now, answers: { ...answers, detents: { ...answers.detents, [part]: count } } });
}

function withLength(bench: Bench, now: Calibrating, question: Question, value: Length): Outcome {
  const { answers } = now;
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
  const answers = now.answers.way === 'travel' ? travelBack(now.answers) : pairBack(bench, now.answers);
  return shows(bench, answers ? { ...now, answers } : { ...now, step: 'way' });
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
