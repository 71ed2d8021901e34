// Pieces that several scenes are made of.
import { clearanceInDoubt } from '../../core/bench/doubt.ts';
import type { KeptReading } from '../../core/bench/entry.ts';
import type { Job } from '../../core/bench/job.ts';
import { isStale, TRACE_ENDED } from '../../core/bench/line.ts';
import type { Held } from '../../core/bench/stages/readings.ts';
import type { Bench, Place } from '../../core/bench/state.ts';
import { type Aim, aimOf, type NoAim } from '../../core/bench/target.ts';
import { figure, lengthFigure, readingFigure } from '../../core/figures.ts';
import type { ClearanceDoubt } from '../../core/thread/chances.ts';
import { type Along, pairTaper } from '../../core/thread/taper-and-oval.ts';
import { type Length, type LengthUnit, mm } from '../../core/units.ts';
import { silentFor } from '../line-health.ts';
import { type Big, type Figure, MARKS, type Scene, type Standing } from '../scene.ts';
import type { Style } from '../text.ts';

/** What to show before the first number. */
const NO_NUMBER: { readonly [unit in LengthUnit]: string } = { mm: '--.--', in: '-.----' };

export const bigLength = (value: Length, unit: LengthUnit, label: string, style: Style): Big => ({
  text: figure(value, unit),
  unit,
  label,
  style,
});

export const bigNothing = (unit: LengthUnit, label: string): Big => ({
  text: NO_NUMBER[unit],
  unit,
  label,
  style: 'quiet',
});

/** A reading as it was shown, with the line it came on. */
type Read = Pick<KeptReading, 'value' | 'step' | 'raw'>;

/** The newest from the line, kept or not. */
export const liveRead = ({ live }: Bench): Read | undefined =>
  live?.reading && { ...live.reading, raw: live.raw };

/** Whether a reading from the line is too old; a typed one never is. */
const isOld = (bench: Bench, last: Read | undefined): boolean =>
  last !== undefined && last.raw !== '' && isStale(bench);

/** A number is quiet while its reading is stale. */
export const liveStyle = (bench: Bench, last: Read | undefined, style: Style = 'value'): Style =>
  isOld(bench, last) ? 'stale' : style;

/** A reading, or the value that it comes to; before any, what stands for none. */
export function bigRead(bench: Bench, last: Read | undefined, label: string, value = last?.value): Big {
  if (!last || value === undefined) return bigNothing(bench.unit, label);
  const text = readingFigure(value, last.step, bench.unit);
  return { text, unit: bench.unit, label, style: liveStyle(bench, last) };
}

/** Readings come by themselves: a board is on the line, and it speaks what is understood. */
export const isReceiving = ({ line }: Bench): boolean => line.open && line.versionRefused === null;

/** Why nothing is read, where nothing was. */
export function whyNothing(bench: Bench): string {
  const { open, trouble, versionRefused } = bench.line;
  if (versionRefused) return "can't read this board's messages";
  if (open) return 'waiting for the caliper';
  if (trouble === null) return 'no board is plugged in';
  if (trouble === 'unplugged') return 'the board is unplugged';
  return trouble === TRACE_ENDED ? trouble : 'port not open: run lidwright doctor';
}

/** Where a scene stands, and what to do. */
export type Saying = Pick<Scene, 'standing' | 'next'>;
/** What only this stage shows; the rest is the same at every stage. */
export type StageScene = Saying & Partial<Scene>;
/** The same of what is shown instead of a stage. */
export type OwnScene = Pick<Scene, 'title' | 'next' | 'keys'> & Partial<Scene>;

/** The words for a stale reading; null while it is fresh, or before the first. */
export function staleSaying(
  bench: Bench,
  last: Read | undefined,
  orElse = ', or type the reading',
): Saying | null {
  if (!isOld(bench, last)) return null;
  const { open, port } = bench.line;
  const seconds = Math.floor((silentFor(bench) ?? 0) / 1000);
  const about = open
    ? `the last reading is ${seconds} s old`
    : 'the board is unplugged; this is its last reading';
  const cure = open || port === null ? 'Switch the caliper on or check its cable' : 'Plug the board in again';
  return { standing: standingLine(MARKS.stale, 'STALE', about, 'bad'), next: `${cure}${orElse}.` };
}

/** Figures by name in their order; null for what is not known. */
export interface FactsByName {
  readonly [name: string]: string | null;
}

/** Those that are known. */
export const factsFrom = (known: FactsByName): readonly Figure[] =>
  Object.entries(known).flatMap(([name, value]) => (value === null ? [] : [{ name, value }]));

/** A length as such a figure. */
export const knownLength = (length: Length | null | undefined, unit: LengthUnit): string | null =>
  typeof length === 'number' ? lengthFigure(length, unit) : null;

/** What the tapers of bore and spigot do to the clearance from the mouth inwards; null where they leave it as it is. */
export function taperWords(bore: Along | null, spigot: Along | null, unit: LengthUnit): string | null {
  const { gains } = pairTaper(bore, spigot);
  const way = gains < 0 ? 'tightens' : 'loosens';
  return gains === 0 ? null : `${way} by ${lengthFigure(mm(Math.abs(gains)), unit)} going in`;
}

const SIZES: { readonly [place in Place]: string } = {
  first: 'first size',
  across: 'quarter turn',
  end: 'its end',
};
/** What again measures, on the last line: the same size, or another of the part. */
export const againHint = ({ place }: Bench, next: Place): string => (next === place ? 'again' : SIZES[next]);

export const standingLine = (mark: string, word: string, about: string, style: Style): Standing => ({
  mark,
  word,
  about,
  style,
});
export const notRead = (about: string): Standing =>
  standingLine(MARKS.open, 'NO READING YET', about, 'quiet');

/** What is said of a reading that has no target. */
export const HELD: { readonly [held in Held]: Standing } = {
  typed: standingLine(MARKS.full, 'TYPED', 'press Enter to keep it', 'at'),
  still: standingLine(MARKS.full, 'STILL', 'the jaws are held still', 'at'),
  moving: standingLine(MARKS.half, 'MOVING', 'hold the jaws still', 'near'),
};

export const keepTyped = (where: string): string =>
  `Press Enter to keep this size ${where}, or type it again. Press n to go on.`;

/** What scenes ask of a job again and again, worked out once for each version of the job. */
function remembered<Answer>(ask: (job: Job) => Answer): (job: Job) => Answer {
  const answers = new WeakMap<Job, { readonly answer: Answer }>();
  return (job) => {
    const known = answers.get(job);
    if (known) return known.answer;
    const answer = ask(job);
    answers.set(job, { answer });
    return answer;
  };
}

export const aimFor: (job: Job) => Aim | NoAim = remembered(aimOf);
export const doubtFor: (job: Job) => ClearanceDoubt | null = remembered(clearanceInDoubt);

/** Half-width of the 95 % interval of what this job's spigot gives, and so of its target. */
export const halfOf = (job: Job): Length => mm(doubtFor(job)?.expanded95 ?? 0);

export const signed = (value: Length, unit: LengthUnit): string =>
  `${value > 0 ? '+' : ''}${figure(value, unit)}`;
