// One answer of a calibration given or taken back: typed, counted by the board, or offered and taken.
import { type Parsed, parseCount, parseLength } from '../quantity.ts';
import type { Length } from '../units.ts';
import {
  type Answers,
  type ByPair,
  type ByTravel,
  type Calibrating,
  type CalibrationTrouble,
  isOffered,
  noPair,
  noTravel,
  offeredFor,
  type Question,
  questionIn,
} from './calibration.ts';
import { becomes, type Outcome, refused } from './outcome.ts';
import type { Bench } from './state.ts';

const MOST_DETENTS = 100_000;

export const shows = (bench: Bench, calibrating: Calibrating): Outcome =>
  becomes(bench, { mode: { kind: 'calibrate', calibrating }, typed: '', notice: null });

export const notDone = (bench: Bench, trouble: CalibrationTrouble): Outcome =>
  refused(bench, { kind: 'calibration', trouble });

export const bad = (bench: Bench, found: string, accepted: string): Outcome =>
  refused(bench, { kind: 'bad-number', found, accepted });

/** Enter with nothing typed: what is offered is taken, the gauge stands at zero, or all is answered. */
export function taken(bench: Bench, now: Calibrating): Outcome {
  const question = questionIn(now.answers);
  if (isOffered(question)) return withLength(bench, now, question, offeredFor(question, bench.job));
  const { answers } = now;
  if (answers.way === 'travel' && (question === 'detents' || question === 'mark'))
    return marked(bench, now, answers);
  return refused(bench, { kind: 'no-reading' });
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
      return count.ok ? withCount(bench, now, question, count.value) : bad(bench, text, count.accepted);
    }
    case 'gauge within':
    case 'travel':
    case 'play':
    case 'play within':
    case 'touch-off within': {
      const length = lengthFor(question, text, bench);
      return length.ok ? withLength(bench, now, question, length.value) : bad(bench, text, length.accepted);
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
  if (detents !== null) return { ...noTravel, gaugeWithin };
  return gaugeWithin === null ? null : noTravel;
}

function pairBack({ job }: Bench, answers: ByPair): Answers | null {
  if (answers.touchOffWithin !== null) return { ...answers, touchOffWithin: null };
  if (answers.playWithin !== null) return { ...answers, playWithin: null };
  if (answers.play !== null) return { ...answers, play: null };
  const known = noPair(job);
  const typed = (['female', 'male'] as const).some((part) => answers.detents[part] !== known.detents[part]);
  return typed ? known : null;
}
