// Quantities as people type them: a number and its unit, refused by name when it is anything else.
import { forScreen } from './safe-text.ts';
import {
  type Angle,
  celsius,
  degrees,
  fahrenheit,
  type Humidity,
  humidityPercent,
  inches,
  type Length,
  type LengthUnit,
  length,
  type Moisture,
  moisture,
  radians,
  type Temperature,
  tpi,
} from './units.ts';

/** A value read from text, or why it was not: what was found, and what is accepted instead. */
export type Parsed<T> =
  | { readonly ok: true; readonly value: T }
  | {
      readonly ok: false;
      readonly kind: 'bad-quantity';
      readonly found: string;
      readonly accepted: string;
    };

/** A pitch as it was given, so that 16 TPI stays 16 TPI. */
export interface Pitch {
  readonly length: Length;
  readonly given: { readonly kind: 'tpi'; readonly threads: number } | { readonly kind: 'metric' };
}

const NUMBER = String.raw`[+-]?(?:\d+(?:\.\d*)?|\.\d+)`;
const WITH_UNIT = new RegExp(String.raw`^(${NUMBER})\s*([a-z%"°]*)$`, 'i');
const MIXED_INCHES = /^(?:(\d+)[ -])?(\d+)\/(\d+)\s*(?:in|inch|inches|")$/i;

/** Nothing at a bench is larger or, unless it is nothing, smaller: what is beyond could not be converted to a finite number. */
const LARGEST = 1e9;
const SMALLEST = 1e-9;
const isPossible = (value: number): boolean =>
  value === 0 || (Math.abs(value) >= SMALLEST && Math.abs(value) <= LARGEST);

/** A text that was not accepted, with what would be. */
export const notAccepted = (found: string, accepted: string): Parsed<never> => ({
  ok: false,
  kind: 'bad-quantity',
  found,
  accepted,
});

/** A value that was read, or the refusal of a text that isn't one. */
export const orNotAccepted = <T>(value: T | undefined, text: string, accepted: string): Parsed<T> =>
  value === undefined ? notAccepted(text, accepted) : { ok: true, value };

function numberAndUnit(text: string): { value: number; unit: string } | undefined {
  const match = WITH_UNIT.exec(text.trim());
  const value = match ? Number(match[1]) : Number.NaN;
  return match && isPossible(value) ? { value, unit: (match[2] ?? '').toLowerCase() } : undefined;
}

const unitOf = (word: string, bare: LengthUnit | undefined): LengthUnit | undefined => {
  if (word === 'mm') return 'mm';
  if (word === 'in' || word === '"' || word === 'inch' || word === 'inches') return 'in';
  return word === '' ? bare : undefined;
};

function mixedInches(text: string): number | undefined {
  const match = MIXED_INCHES.exec(text.trim());
  const value = match ? Number(match[1] ?? 0) + Number(match[2]) / Number(match[3]) : Number.NaN;
  return isPossible(value) ? value : undefined;
}

/**
 * A length such as `50mm`, `2.05in` or `1-1/2in`. Without a unit it is refused, unless `bare` says what a bare number means.
 * Feet, commas for points and anything else are refused with what is accepted.
 */
export function parseLength(text: string, bare?: LengthUnit): Parsed<Length> {
  const accepted = `a number with mm or in, such as 50mm, 2.05in or 1-1/2in, with a point, not a comma${bare ? ` (bare: ${bare})` : ''}`;
  const fraction = mixedInches(text);
  if (fraction !== undefined) return { ok: true, value: inches(fraction) };
  const found = numberAndUnit(text);
  const of = found && unitOf(found.unit, bare);
  return found && of ? { ok: true, value: length(found.value, of) } : notAccepted(text, accepted);
}

/** What was parsed, where it is one of the values accepted here. */
const narrowed = <T>(
  parsed: Parsed<T>,
  fits: (value: T) => boolean,
  text: string,
  accepted: string,
): Parsed<T> => (parsed.ok && !fits(parsed.value) ? notAccepted(text, accepted) : parsed);

/** A length that must be above zero. */
export const parsePositiveLength = (text: string, bare?: LengthUnit): Parsed<Length> =>
  narrowed(parseLength(text, bare), (value) => value > 0, text, 'a length above zero, such as 50mm or 2in');

/** A length that may be zero. */
export const parseUnsignedLength = (text: string, bare?: LengthUnit): Parsed<Length> =>
  narrowed(parseLength(text, bare), (value) => value >= 0, text, 'a length of zero or more, such as 0.02mm');

/** A pitch such as `16tpi`, `1.5mm` or `0.1in`; above zero. */
export function parsePitch(text: string): Parsed<Pitch> {
  const found = numberAndUnit(text);
  const pitch = found && found.value > 0 ? pitchFrom(found.value, found.unit) : undefined;
  return orNotAccepted(pitch, text, 'a pitch above zero, such as 16tpi or 1.5mm');
}

function pitchFrom(value: number, unit: string): Pitch | undefined {
  if (unit === 'tpi') return { length: tpi(value), given: { kind: 'tpi', threads: value } };
  const of = unitOf(unit, undefined);
  return of && { length: length(value, of), given: { kind: 'metric' } };
}

/** An angle such as `60deg` or `1.05rad`; a bare number is degrees. */
export function parseAngle(text: string): Parsed<Angle> {
  const found = numberAndUnit(text);
  if (found && ['', 'deg', '°', 'degrees'].includes(found.unit))
    return { ok: true, value: degrees(found.value) };
  if (found?.unit === 'rad') return { ok: true, value: radians(found.value) };
  return notAccepted(text, 'an angle such as 60deg or 1.05rad');
}

/** A temperature such as `20C` or `68F`, above absolute zero. */
export function parseTemperature(text: string): Parsed<Temperature> {
  const found = numberAndUnit(text);
  const scale = found?.unit.replace('°', '');
  const from = scale === 'c' ? celsius : scale === 'f' ? fahrenheit : undefined;
  const accepted = 'a temperature such as 20C or 68F';
  const parsed = orNotAccepted(found && from?.(found.value), text, accepted);
  return narrowed(parsed, (value) => value > -273.15, text, accepted);
}

/** A percentage from 0 to `most`, the percent sign given. */
function parsePercent<T>(
  text: string,
  most: number,
  of: (percent: number) => T,
  accepted: string,
): Parsed<T> {
  const found = numberAndUnit(text);
  const fits = found?.unit === '%' && found.value >= 0 && found.value <= most;
  return orNotAccepted(fits ? of(found.value) : undefined, text, accepted);
}

/** A relative humidity from 0% to 100%. */
export const parseHumidity = (text: string): Parsed<Humidity> =>
  parsePercent(text, 100, humidityPercent, 'a relative humidity from 0% to 100%, such as 45%');

/** A moisture content from 0% to 30% (where shrinkage starts). */
export const parseMoisture = (text: string): Parsed<Moisture> =>
  parsePercent(text, 30, moisture, 'a moisture content from 0% to 30%, such as 8.5%');

/** A whole number within bounds, such as a count of starts or detents. */
export function parseCount(text: string, least: number, most: number): Parsed<number> {
  const value = /^\d+$/.test(text.trim()) ? Number(text) : Number.NaN;
  return value >= least && value <= most
    ? { ok: true, value }
    : notAccepted(text, `a whole number from ${least} to ${most}`);
}

/** One of a few words, such as `lid` or `body`. */
export const parseWord =
  <const T extends string>(words: readonly T[]) =>
  (text: string): Parsed<T> => {
    const value = words.find((word) => word === text.trim().toLowerCase());
    return orNotAccepted(value, text, `${words.slice(0, -1).join(', ')} or ${words.at(-1)}`);
  };

/** A unit of length by any of its names: `mm`, `in`, `inch`, `inches`. */
export const parseUnit = (text: string): Parsed<LengthUnit> =>
  orNotAccepted(unitOf(text.trim().toLowerCase(), undefined), text, 'mm or in');

/** The sentence for a person: what was wrong, and what is accepted. */
export function refusal(name: string, parsed: Extract<Parsed<unknown>, { ok: false }>): string {
  return `${name}: "${forScreen(parsed.found, 40)}" isn't accepted. Give ${parsed.accepted}.`;
}
