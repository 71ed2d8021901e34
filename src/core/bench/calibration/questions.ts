// The questions of a calibration, one row each in the order they are asked, and the answers so far.
import { counted, fineFigure, lengthFigure } from '../../figures.ts';
import { notAccepted, type Parsed, parseCount } from '../../quantity.ts';
import { USUAL_WITHIN } from '../../thread/calibrate.ts';
import { TOUCH_OFF_BY_EYE } from '../../thread/chances.ts';
import { type Length, type LengthUnit, mm } from '../../units.ts';
import type { Job } from '../job.ts';
import { typedLength } from '../typed-quantity.ts';

/** By travels on a gauge, by a pair that runs, or by a figure that the turner knows. */
export type Way = 'travel' | 'pair' | 'known';

/** `mark`: the gauge is set to zero where a board counts, and its count stands at this. */
const KEYS = [
  'gauge within',
  'detents',
  'mark',
  'travel',
  'bore detents',
  'spigot detents',
  'play',
  'play within',
  'touch-off within',
  'per detent',
] as const;
type Key = (typeof KEYS)[number];

/** What is asked now; `nothing`: all is answered. */
export type Asked = Key | 'nothing';

/** An answer in millimetres or as a count; of a travel also the detents that a board counted for it. */
export interface Answer {
  readonly to: Key;
  readonly value: number;
  readonly over?: number;
}

/** The oldest answer first, so that going back takes off the last one. */
export interface Answers {
  readonly way: Way;
  readonly given: readonly Answer[];
}

/** The answers so far, and what else is known on the bench: the job knows some itself, `feed` is set where a board counts. */
export interface Asking {
  readonly answers: Answers;
  readonly job: Job | null;
  readonly unit: LengthUnit;
  readonly feed: object | null;
}

interface CalibrationQuestion {
  readonly way: Way;
  /** What the screen says of it. */
  readonly asks: (on: Asking) => string;
  /** When it is asked, where that isn't just while it has no answer. */
  readonly isAsked?: (on: Asking) => boolean;
  /** Left out where nothing is typed. */
  readonly reads?: (text: string, on: Asking) => Parsed<number>;
  /** What its answer is called beside the others, and how it looks there. */
  readonly name?: string;
  readonly shows?: (value: number, unit: LengthUnit) => string;
  /** What Enter alone answers; our own figures, each shown before it is used. */
  readonly offers?: (job: Job | null) => Length;
  /** What is known without asking. */
  readonly known?: (on: Asking) => number | null | undefined;
}

const MOST_DETENTS = 100_000;

const detentCount = {
  reads: (text: string) => parseCount(text, 1, MOST_DETENTS),
  shows: (value: number) => counted(value, 'detent'),
};

const lengthThat = (fits: (value: Length) => boolean, accepted: string) => ({
  reads(text: string, { unit }: Asking): Parsed<number> {
    const parsed = typedLength(text, unit);
    return parsed.ok && !fits(parsed.value) ? notAccepted(text, accepted) : parsed;
  },
  shows: (value: number, unit: LengthUnit) => fineFigure(mm(value), unit),
});
const move = lengthThat((value) => value > 0, 'a travel above zero');
const span = lengthThat((value) => value >= 0, 'zero or more');

/** How well something is known: a figure is offered for it. */
const within = (way: Way, name: string, asks: string, offers: (job: Job | null) => Length) => ({
  ...{ way, name, offers, ...span },
  shows: (value: number, unit: LengthUnit) => `± ${span.shows(value, unit)}`,
  asks: ({ job, unit }: Asking) =>
    `${asks} (plus or minus)? Type it, or press Enter for ${fineFigure(offers(job), unit)}.`,
});

const QUESTIONS: { readonly [key in Key]: CalibrationQuestion } = {
  'gauge within': within('travel', 'gauge', 'How accurate is the gauge', () => USUAL_WITHIN.gauge),
  detents: {
    ...{ way: 'travel', name: 'over', ...detentCount },
    known: ({ answers }) => answers.given.find(({ over }) => over !== undefined)?.over,
    isAsked: (on) => answerTo(on, 'detents') === undefined && markIn(on.answers) === null,
    asks: ({ feed }) =>
      feed
        ? 'Stop the lathe. Turn the feed deeper until the gauge moves, zero the gauge and press Enter. The board counts from there.'
        : 'Stop the lathe and set a gauge on the slide. How many detents will you feed each time? Type it.',
  },
  mark: {
    way: 'travel',
    isAsked: (on) => on.answers.given.some(({ over }) => over !== undefined) && markIn(on.answers) === null,
    asks: () =>
      'To measure again, back off well past zero, come deeper until the gauge moves, zero it and press Enter. Or press n to keep it.',
  },
  travel: {
    ...{ way: 'travel', name: 'travels', ...move },
    isAsked: () => true,
    asks: asksTravel,
  },
  'bore detents': {
    ...{ way: 'pair', name: 'bore cut', ...detentCount },
    known: ({ job }) => job?.threads.female.cut?.detents,
    asks: () => 'How many detents deep was the bore cut, from touch-off? Type it.',
  },
  'spigot detents': {
    ...{ way: 'pair', name: 'spigot cut', ...detentCount },
    known: ({ job }) => job?.threads.male.cut?.detents,
    asks: () => 'How many detents deep was the spigot cut, from touch-off? Type it.',
  },
  play: {
    ...{ way: 'pair', name: 'shake', ...span },
    shows: (value, unit) => lengthFigure(mm(value), unit),
    asks: () => 'Close the lid and back it off a little: how far does it shake along its axis? Type it.',
  },
  'play within': within('pair', 'known', 'How accurate is that', () => USUAL_WITHIN.play),
  'touch-off within': within(
    'pair',
    'touch-off',
    'How accurate was each touch-off',
    (job) => job?.setup.feed?.touchOff ?? TOUCH_OFF_BY_EYE,
  ),
  'per detent': {
    ...{ way: 'known', ...move },
    asks: () => 'How far does one detent move the cutter into the wood? Type it and press Enter.',
  },
};

function asksTravel({ answers, feed }: Asking): string {
  const { length } = travelsIn(answers);
  if (length > 1) return 'Measure once more from zero and type that travel, or press n to keep it.';
  if (length === 1)
    return "One measurement isn't enough. Repeat from zero and type that travel, or press n to keep it.";
  return feed
    ? 'Feed some detents deeper, then read the gauge and type the travel.'
    : 'Take up the slack and zero the gauge. Feed that many detents deeper, then type the travel.';
}

/** All answers to a question: those given, or what is known without. */
function answersTo(on: Asking, key: Key): readonly number[] {
  const given = on.answers.given.flatMap(({ to, value }) => (to === key ? [value] : []));
  const known = QUESTIONS[key].known?.(on) ?? null;
  return given.length > 0 || known === null ? given : [known];
}

export const answerTo = (on: Asking, key: Key): number | undefined => answersTo(on, key)[0];

export const travelsIn = ({ given }: Answers): readonly Length[] =>
  given.flatMap(({ to, value }) => (to === 'travel' ? [mm(value)] : []));

/** Where the board's count stood when the gauge was set to zero; null between two travels. */
export function markIn({ given }: Answers): number | null {
  const last = given.at(-1);
  return last?.to === 'mark' ? last.value : null;
}

const keysOf = ({ way }: Answers): readonly Key[] => KEYS.filter((key) => QUESTIONS[key].way === way);

export const questionIn = (on: Asking): Asked =>
  keysOf(on.answers).find((key) => QUESTIONS[key].isAsked?.(on) ?? answerTo(on, key) === undefined) ??
  'nothing';

/** The row of what is asked now; null where nothing is. */
export function rowOf(on: Asking): CalibrationQuestion | null {
  const asked = questionIn(on);
  return asked === 'nothing' ? null : QUESTIONS[asked];
}

/** The answers as the screen shows them, the last few of a question that is asked again and again. */
export const answersShown = (on: Asking): readonly { readonly name: string; readonly value: string }[] =>
  keysOf(on.answers).flatMap((key) => {
    const { name, shows } = QUESTIONS[key];
    const values = answersTo(on, key).slice(-4);
    return name && shows && values.length > 0
      ? [{ name, value: values.map((value) => shows(value, on.unit)).join(', ') }]
      : [];
  });
