// Pieces that several scenes are made of.
import type { KeptReading } from '../../core/bench/entry.ts';
import { isStale, TRACE_ENDED } from '../../core/bench/line.ts';
import type { Held } from '../../core/bench/stages/rules.ts';
import type { Bench, Place } from '../../core/bench/state.ts';
import { figure, lengthFigure, readingFigure } from '../../core/figures.ts';
import { type Along, pairTaper } from '../../core/thread/taper-and-oval.ts';
import { type Length, type LengthUnit, mm } from '../../core/units.ts';
import { silentFor } from '../line-health.ts';
import { type Big, type Figure, MARKS, type Standing } from '../scene.ts';
import type { Style } from '../styled-text.ts';

/** What to show before the first number. */
const NO_NUMBER: { readonly [unit in LengthUnit]: string } = { mm: '--.--', in: '-.----' };

export const bigLength = (value: Length, unit: LengthUnit, label: string, style: Style): Big => ({
  text: figure(value, unit),
  unit,
  label,
  style,
});

export const bigReading = (
  value: Length,
  step: Length,
  unit: LengthUnit,
  label: string,
  style: Style,
): Big => ({
  text: readingFigure(value, step, unit),
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

/** Whether a reading from the line is too old; a typed one never is. */
const isOld = (bench: Bench, last: KeptReading | undefined): boolean => isStale(bench) && last?.raw !== '';

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

/** What to do about a stale reading. */
export const wakeAdvice = ({ line }: Bench, orElse = ', or type the reading'): string =>
  `${line.open || line.port === null ? 'Switch the caliper on or check its cable' : 'Plug the board in again'}${orElse}.`;

/** The standing of a stale reading; null while it is fresh. `last` is the stage's newest, if it keeps any. */
export function staleness(bench: Bench, last?: KeptReading): Standing | null {
  if (!isOld(bench, last)) return null;
  const seconds = Math.floor((silentFor(bench) ?? 0) / 1000);
  const about = bench.line.open
    ? `the last reading is ${seconds} s old`
    : 'the board is unplugged; this is its last reading';
  return { mark: MARKS.stale, word: 'STALE', about, style: 'bad' };
}

/** A number is quiet while its reading is stale. */
export const liveStyle = (bench: Bench, last?: KeptReading, style: Style = 'value'): Style =>
  isOld(bench, last) ? 'stale' : style;

/** What the tapers of bore and spigot do to the clearance from the mouth inwards; nothing where they leave it as it is. */
export function taperFact(bore: Along | null, spigot: Along | null, unit: LengthUnit): readonly Figure[] {
  const { gains } = pairTaper(bore, spigot);
  if (gains === 0) return [];
  const way = gains < 0 ? 'tightens' : 'loosens';
  return [{ name: 'fit', value: `${way} by ${lengthFigure(mm(Math.abs(gains)), unit)} going in` }];
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

/** What is said of a reading that has no target. */
export const HELD: { readonly [held in Held]: Standing } = {
  typed: standingLine(MARKS.full, 'TYPED', 'press Enter to keep it', 'at'),
  still: standingLine(MARKS.full, 'STILL', 'the jaws are held still', 'at'),
  moving: standingLine(MARKS.half, 'MOVING', 'hold the jaws still', 'near'),
};

export const keepTyped = (where: string): string =>
  `Press Enter to keep this size ${where}, or type it again. Press n to go on.`;
