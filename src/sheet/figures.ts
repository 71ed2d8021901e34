// Figures on paper: rounded here and nowhere else, as a caliper would show them or as far as their doubt warrants.
import type { Pitch } from '../core/quantity.ts';
import { inUnit, type Length, type LengthUnit, MM_PER_INCH, mm } from '../core/units.ts';

/** A caliper's decimals where no caliper is named. */
const CALIPER: { readonly [unit in LengthUnit]: number } = { mm: 2, in: 4 };
/** Decimals of a length that is only suggested. */
const ROUGH: { readonly [unit in LengthUnit]: number } = { mm: 1, in: 2 };

/** A minus of nothing is no minus. */
function fixed(value: number, decimals: number): string {
  const shown = value.toFixed(decimals);
  return Number(shown) === 0 ? shown.replace('-', '') : shown;
}

/** A length as a caliper would show it. */
export const figure = (value: Length, unit: LengthUnit): string => fixed(inUnit(value, unit), CALIPER[unit]);

export const withUnit = (value: Length, unit: LengthUnit): string => `${figure(value, unit)} ${unit}`;

/** A length nobody measured. */
export const roughly = (value: Length, unit: LengthUnit): string => fixed(inUnit(value, unit), ROUGH[unit]);

/** Decimals that an uncertainty warrants: its first digit, or its first two while they are under thirty (JCGM 100 7.2.6). */
function warranted(half: number): number {
  if (!(half > 0)) return 4;
  const exponent = Math.floor(Math.log10(half));
  return Math.max(0, half / 10 ** exponent < 3 ? 1 - exponent : -exponent);
}

const roundedUp = (half: number, decimals: number): number =>
  Math.ceil(half * 10 ** decimals - 1e-6) / 10 ** decimals;

/** A value with the half-width of its 95 % interval, both rounded at the last digit that the interval warrants. */
export function withDoubt(value: Length, half: Length, unit: LengthUnit): string {
  const decimals = Math.min(CALIPER[unit], warranted(inUnit(half, unit)));
  const give = fixed(roundedUp(inUnit(half, unit), decimals), decimals);
  return `${fixed(inUnit(value, unit), decimals)} ± ${give} ${unit}`;
}

/** A value as fine as its doubt lets it be, without the doubt. */
export const asKnown = (value: Length, half: Length, unit: LengthUnit): string =>
  withDoubt(value, half, unit).replace(/ ±.*$/, ` ${unit}`);

/** A band rounded toward its middle, so that no printed end lies outside it; as it is where it is narrower than a step. */
export function band(low: Length, high: Length, unit: LengthUnit): string {
  const step = mm(unit === 'mm' ? 0.01 : 0.0001 * MM_PER_INCH);
  const [from, to] = [Math.ceil(low / step - 1e-6) * step, Math.floor(high / step + 1e-6) * step];
  const [least, most] = from <= to ? [from, to] : [low, high];
  return `${figure(mm(least), unit)} to ${withUnit(mm(most), unit)}`;
}

/** A share with the half-width of its interval, in whole percents, or in tens where it is known no better. */
export function percentWithDoubt(share: number, half: number): string {
  const coarse = half >= 0.3 ? 10 : 1;
  const give = Math.max(1, Math.ceil((half * 100) / coarse - 1e-6) * coarse);
  return `${fixed(Math.round((share * 100) / coarse) * coarse, 0)} ± ${give} %`;
}

/** Whole percents; the last ones are told as under one or over 99. */
export function percent(share: number): string {
  if (share < 0.01) return 'under 1 %';
  return share > 0.99 ? 'over 99 %' : `${Math.round(share * 100)} %`;
}

const trimmed = (value: number, decimals: number): string => String(Number(value.toFixed(decimals)));

/** A pitch as it was given: 16 TPI, 1.5 mm. */
export const pitchFigure = (pitch: Pitch): string =>
  pitch.given.kind === 'tpi'
    ? `${trimmed(MM_PER_INCH / pitch.length, 2)} TPI`
    : `${trimmed(pitch.length, 3)} mm`;

/** A length known finer than by a caliper, such as a feed: to a micrometre, or to a ten-thousandth of an inch. */
const fineFigure = (value: Length, unit: LengthUnit): string =>
  trimmed(inUnit(value, unit), unit === 'mm' ? 3 : 4);

export const fineWithUnit = (value: Length, unit: LengthUnit): string => `${fineFigure(value, unit)} ${unit}`;

/** A pitch or a lead as a length: chosen, not measured. */
export const pitchLength = (value: Length, unit: LengthUnit): string => trimmed(inUnit(value, unit), 4);

/** The unit where it stands alone. */
export const UNIT_WORDS: { readonly [unit in LengthUnit]: string } = { mm: 'mm', in: 'inches' };
