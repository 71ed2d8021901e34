// Figures as people read them, on screen, paper and command line: rounded here and nowhere else, never finer than they are known.

import type { Pitch } from './quantity.ts';
import type { Tip } from './thread/form.ts';
import type { Taper } from './thread/taper-and-oval.ts';
import { inches, inUnit, type Length, type LengthUnit, MM_PER_INCH, mm } from './units.ts';

type ByUnit<T> = { readonly [unit in LengthUnit]: T };

/** What a caliper's last digit is worth where nothing says otherwise: decimals in each unit. */
const CALIPER_DECIMALS: ByUnit<number> = { mm: 2, in: 4 };
/** Decimals of a length known finer than by a caliper, such as a feed. */
const FINE_DECIMALS: ByUnit<number> = { mm: 3, in: 4 };
/** Decimals of a length that nobody measured. */
const ROUGH_DECIMALS: ByUnit<number> = { mm: 1, in: 2 };
/** What a cut is stopped at: a hundredth of a millimetre, a thousandth of an inch. */
const CUT_DECIMALS: ByUnit<number> = { mm: 2, in: 3 };
/** The smallest span between readings that a caliper can show. */
const LEAST_SPAN: ByUnit<Length> = { mm: mm(0.01), in: inches(0.0005) };

/** The unit on its own. */
export const UNIT_WORDS: ByUnit<string> = { mm: 'mm', in: 'inches' };

/** A number with a fixed count of decimals, and no minus before a zero. */
function fixed(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? text.replace('-', '') : text;
}

/** A number with up to `decimals` decimals, without trailing zeros. */
const trimmed = (value: number, decimals: number): string => String(Number(value.toFixed(decimals)) + 0);

/** Decimals at which one step of a reading is one of its last digit, or the next finer. */
const decimalsOf = (step: number): number => Math.max(0, Math.min(4, Math.ceil(-Math.log10(step) - 1e-9)));

/** A reading as its caliper's step allows, without the unit's name. */
export const readingFigure = (value: Length, step: Length, unit: LengthUnit): string =>
  fixed(inUnit(value, unit), decimalsOf(inUnit(step, unit)));

/** A length as a caliper would show it, without the unit's name. */
export const figure = (value: Length, unit: LengthUnit): string =>
  fixed(inUnit(value, unit), CALIPER_DECIMALS[unit]);

/** The same with the unit's name. */
export const lengthFigure = (value: Length, unit: LengthUnit): string => `${figure(value, unit)} ${unit}`;

/** A span between readings: none is smaller than a step that the caliper can show. */
export const spanFigure = (span: Length, unit: LengthUnit): string =>
  lengthFigure(mm(Math.max(span, LEAST_SPAN[unit])), unit);

/** A length known finer than by a caliper, with the unit's name. */
export const fineFigure = (value: Length, unit: LengthUnit): string =>
  `${trimmed(inUnit(value, unit), FINE_DECIMALS[unit])} ${unit}`;

/** A length nobody measured, without the unit's name. */
export const roughFigure = (value: Length, unit: LengthUnit): string =>
  fixed(inUnit(value, unit), ROUGH_DECIMALS[unit]);

/**
 * Decimals that an uncertainty warrants: its first digit, or its first two while they are under thirty
 * (JCGM 100:2008, 7.2.6 asks for at most two; from memory).
 */
function warranted(uncertainty: number): number {
  if (!(uncertainty > 0)) return 4;
  const exponent = Math.floor(Math.log10(uncertainty));
  const lead = uncertainty / 10 ** exponent;
  return Math.max(0, lead < 3 ? 1 - exponent : -exponent);
}

/** An interval is never shown narrower than it is. */
const roundedUp = (half: number, decimals: number): number =>
  Math.ceil(half * 10 ** decimals - 1e-6) / 10 ** decimals;

const doubted = (value: Length, half: Length, unit: LengthUnit, finest: number) => {
  const decimals = Math.min(finest, warranted(inUnit(half, unit)));
  return {
    value: fixed(inUnit(value, unit), decimals),
    half: fixed(roundedUp(inUnit(half, unit), decimals), decimals),
  };
};

/** A value with the half-width of its 95 % interval, both as fine as the interval warrants and no finer than a caliper. */
export function withDoubt(value: Length, half: Length, unit: LengthUnit): string {
  const shown = doubted(value, half, unit, CALIPER_DECIMALS[unit]);
  return `${shown.value} ± ${shown.half} ${unit}`;
}

/** A value as fine as its 95 % interval lets it be, without the interval. */
export const asKnown = (value: Length, half: Length, unit: LengthUnit): string =>
  `${doubted(value, half, unit, CALIPER_DECIMALS[unit]).value} ${unit}`;

/** A value finer than any caliper with its 95 % interval, each as fine as the interval warrants; without the unit's name. */
export const fineWithDoubt = (
  value: Length,
  half: Length,
  unit: LengthUnit,
): { readonly value: string; readonly half: string } => doubted(value, half, unit, 6);

/** Decimals of a size that is cut to: as its 95 % interval warrants, from what a cut is stopped at to a caliper's. */
const cutDecimals = (unit: LengthUnit, half?: Length): number =>
  half === undefined
    ? CUT_DECIMALS[unit]
    : Math.max(CUT_DECIMALS[unit], Math.min(CALIPER_DECIMALS[unit], warranted(inUnit(half, unit))));

/** A size that is cut to, without the unit's name. */
export const cutFigure = (size: Length, unit: LengthUnit, half?: Length): string =>
  fixed(inUnit(size, unit), cutDecimals(unit, half));

/** The same with the unit's name, as nobody asked how well it is known. */
export const cutLength = (size: Length, unit: LengthUnit): string => `${cutFigure(size, unit)} ${unit}`;

/** A least size, rounded up. */
export function cutLengthUp(size: Length, unit: LengthUnit): string {
  const fine = 10 ** CUT_DECIMALS[unit];
  return `${fixed(Math.ceil(inUnit(size, unit) * fine - 1e-4) / fine, CUT_DECIMALS[unit])} ${unit}`;
}
/** How much wider a part is at one end than at the other, and at which. */
export const taperFigure = (
  { by, widerAt }: Taper,
  names: { readonly [end in Taper['widerAt']]: string },
  unit: LengthUnit,
): string =>
  by === 0 ? 'the same at both ends' : `${lengthFigure(by, unit)} wider at the ${names[widerAt]}`;

/** What is left to such a size, no finer than its caliper's step either. Without the unit's name. */
export const leftFigure = (left: Length, step: Length, unit: LengthUnit, half?: Length): string =>
  fixed(inUnit(left, unit), Math.min(decimalsOf(inUnit(step, unit)), cutDecimals(unit, half)));

/** A band of such sizes, rounded toward its middle so that no end shown lies outside it; as it is where it is narrower than a step. */
export function band(low: Length, high: Length, unit: LengthUnit, half?: Length): string {
  const decimals = cutDecimals(unit, half);
  const step = 10 ** -decimals;
  const [from, to] = [
    Math.ceil(inUnit(low, unit) / step - 1e-6),
    Math.floor(inUnit(high, unit) / step + 1e-6),
  ];
  const ends = from <= to ? [from * step, to * step] : [inUnit(low, unit), inUnit(high, unit)];
  return `${ends.map((end) => fixed(end, decimals)).join(' to ')} ${unit}`;
}

/** Shares as whole percents; the last ones show as under one or over 99. */
export function percent(share: number): string {
  if (share < 0.01) return 'under 1 %';
  return share > 0.99 ? 'over 99 %' : `${Math.round(share * 100)} %`;
}

/** A share with the half-width of its interval, in whole percents, or in tens where it is known no better. */
export function percentWithDoubt(share: number, half: number): string {
  const coarse = half >= 0.3 ? 10 : 1;
  const give = Math.max(1, Math.ceil((half * 100) / coarse - 1e-6) * coarse);
  return `${fixed(Math.round((share * 100) / coarse) * coarse, 0)} ± ${give} %`;
}

/** A pitch as it was given: 16 TPI, 1.5 mm. */
export const pitchFigure = (pitch: Pitch): string =>
  pitch.given.kind === 'tpi'
    ? `${trimmed(MM_PER_INCH / pitch.length, 2)} TPI`
    : `${trimmed(pitch.length, 3)} mm`;

/** A pitch or a lead as a length: chosen, not measured; without the unit's name. */
export const pitchLength = (value: Length, unit: LengthUnit): string => trimmed(inUnit(value, unit), 4);

/** A cutter's tip: sharp, flat 0.20 mm, nose 0.10 mm. */
export function tipFigure(tip: Tip, unit: LengthUnit): string {
  switch (tip.kind) {
    case 'sharp':
      return 'sharp';
    case 'flat':
      return `flat ${lengthFigure(tip.width, unit)}`;
    case 'radius':
      return `nose ${lengthFigure(tip.radius, unit)}`;
    default:
      return tip satisfies never;
  }
}

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
