// Figures as people read them: rounded here and nowhere else, and never finer than they are known.
import type { Pitch } from '../core/quantity.ts';
import { inches, inInches, inUnit, type Length, type LengthUnit, MM_PER_INCH, mm } from '../core/units.ts';

/** What a caliper's last digit is worth where nothing says otherwise: decimals in each unit. */
const CALIPER_DECIMALS: { readonly [unit in LengthUnit]: number } = { mm: 2, in: 4 };

/** Decimals at which one step of a reading is one of its last digit, or the next finer. */
const decimalsOf = (step: number): number => Math.max(0, Math.min(4, Math.ceil(-Math.log10(step) - 1e-9)));

/** A number with a fixed count of decimals; a minus of nothing is no minus. */
function fixed(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? text.replace('-', '') : text;
}

/** A reading as its caliper's step allows, in the unit asked for, without the unit's name. */
export const readingFigure = (value: Length, step: Length, unit: LengthUnit): string =>
  fixed(inUnit(value, unit), decimalsOf(inUnit(step, unit)));

/** A length as a caliper would show it, without the unit's name. */
export const figure = (value: Length, unit: LengthUnit): string =>
  fixed(inUnit(value, unit), CALIPER_DECIMALS[unit]);

/** The same with the unit's name. */
export const lengthFigure = (value: Length, unit: LengthUnit): string => `${figure(value, unit)} ${unit}`;

/** A span between readings: none is smaller than a step that the caliper can show. */
export const spanFigure = (span: Length, unit: LengthUnit): string =>
  lengthFigure(unit === 'mm' ? mm(Math.max(span, 0.01)) : inches(Math.max(inInches(span), 0.0005)), unit);

/** Decimals that an uncertainty warrants: its first digit, or its first two while they are under thirty. */
function warranted(uncertainty: number): number {
  if (!(uncertainty > 0)) return 4;
  const exponent = Math.floor(Math.log10(uncertainty));
  const lead = uncertainty / 10 ** exponent;
  return Math.max(0, lead < 3 ? 1 - exponent : -exponent);
}

/** A value with its 95 % interval, both rounded at the last digit that the interval warrants, and no finer than a caliper. */
export function withDoubt(value: Length, half: Length, unit: LengthUnit): string {
  const decimals = Math.min(CALIPER_DECIMALS[unit], warranted(inUnit(half, unit)));
  return `${fixed(inUnit(value, unit), decimals)} ± ${fixed(roundedUp(inUnit(half, unit), decimals), decimals)} ${unit}`;
}

/** A value finer than any caliper with its 95 % interval, each as fine as the interval warrants; without the unit's name. */
export function fineWithDoubt(
  value: Length,
  half: Length,
  unit: LengthUnit,
): { readonly value: string; readonly half: string } {
  const decimals = Math.min(6, warranted(inUnit(half, unit)));
  return {
    value: fixed(inUnit(value, unit), decimals),
    half: fixed(roundedUp(inUnit(half, unit), decimals), decimals),
  };
}

/** An interval is never told narrower than it is. */
const roundedUp = (half: number, decimals: number): number =>
  Math.ceil(half * 10 ** decimals - 1e-6) / 10 ** decimals;

/** Shares as whole percents; the last ones are told as under one or over 99. */
export function percent(share: number): string {
  if (share < 0.01) return 'under 1 %';
  return share > 0.99 ? 'over 99 %' : `${Math.round(share * 100)} %`;
}

/** A pitch as it was given: 16 TPI, 1.5 mm. */
export const pitchFigure = (pitch: Pitch): string =>
  pitch.given.kind === 'tpi'
    ? `${fixed(MM_PER_INCH / pitch.length, 2).replace(/\.?0+$/, '')} TPI`
    : `${fixed(pitch.length, 3).replace(/\.?0+$/, '')} mm`;

/** A length too small for a caliper's digits, such as what a dot of a drawing is worth. */
export const fineFigure = (value: Length, unit: LengthUnit): string =>
  unit === 'mm' ? `${fixed(value, 3)} mm` : `${fixed(inInches(value), 4)} in`;

/** How long ago, in words as coarse as they are useful. */
export function ago(milliseconds: number): string {
  const minutes = Math.floor(milliseconds / 60_000);
  if (minutes < 1) return 'just now';
  if (minutes < 60) return `${minutes} min ago`;
  if (minutes < 24 * 60) return `${Math.floor(minutes / 60)} h ago`;
  const days = Math.floor(minutes / (24 * 60));
  return days === 1 ? 'yesterday' : `${days} days ago`;
}

/** "1 detent", "2 detents". */
export const counted = (count: number, one: string, many = `${one}s`): string =>
  `${count} ${Math.abs(count) === 1 ? one : many}`;
