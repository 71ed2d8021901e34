// Quantities as a turner types them, bare or with their unit: read, and written so that they can be typed back.
import { type Parsed, type Pitch, parseHumidity, parseLength } from '../quantity.ts';
import { inInches, inPercent, type Length, type LengthUnit, type Millis, MM_PER_INCH } from '../units.ts';
import type { KeptReading } from './entry.ts';
import type { Job } from './job.ts';
import type { SeasonWanted } from './setup.ts';

/** No measurement is longer than this; what is longer is refused whole. */
export const TYPED_AT_MOST = 40;

const FRACTION = /^(?:\d+[ -])?\d+\/\d+$/;

/** One comma is a decimal mark like a point, and a bare fraction on an inch bench is inches. */
function asMeant(text: string, bare: LengthUnit): string {
  const single = (text.match(/[.,]/g)?.length ?? 0) === 1;
  const pointed = (single ? text.replace(',', '.') : text).trim();
  return bare === 'in' && FRACTION.test(pointed) ? `${pointed}in` : pointed;
}

const ACCEPTED: { readonly [unit in LengthUnit]: string } = {
  mm: 'a number such as 42.3, 42,3mm, 1.665in or 1-1/2in',
  in: 'a number such as 1.665, 1 1/2, 1-1/2in or 42.3mm',
};

/** A length as a turner types it. */
export function typedLength(text: string, bare: LengthUnit): Parsed<Length> {
  const parsed = parseLength(asMeant(text, bare), bare);
  return parsed.ok ? parsed : { ...parsed, found: text.trim(), accepted: ACCEPTED[bare] };
}

/** The same, above zero. */
export function typedSize(text: string, bare: LengthUnit): Parsed<Length> {
  const parsed = typedLength(text, bare);
  return parsed.ok && parsed.value <= 0
    ? { ok: false, kind: 'bad-quantity', found: text.trim(), accepted: 'a length above zero' }
    : parsed;
}

const unitIn = (text: string, bare: LengthUnit): LengthUnit =>
  /mm/i.test(text) ? 'mm' : /in|"|\//i.test(text) ? 'in' : bare;

/**
 * The reading that this text is, as of now. Its `raw` is empty, which is how a typed one is known. Its step is the
 * caliper's: how many decimals somebody types says nothing of how fine the caliper is.
 */
export function typedReading(
  bench: { readonly unit: LengthUnit; readonly now: Millis; readonly job: Job },
  text: string,
): Parsed<KeptReading> {
  const parsed = typedLength(text, bench.unit);
  if (!parsed.ok) return parsed;
  const unit = unitIn(text, bench.unit);
  const digits = text.trim().replace(/\s*(mm|in|inch|inches|")$/i, '');
  const { step } = bench.job.setup.caliper;
  return { ok: true, value: { text: digits, unit, step, value: parsed.value, at: bench.now, raw: '' } };
}

const plain = (value: number, decimals: number): string => String(Number(value.toFixed(decimals)));

/** A length in the unit, to a micrometre or its like. */
export const lengthText = (value: Length, unit: LengthUnit): string =>
  unit === 'mm' ? `${plain(value, 3)}mm` : `${plain(inInches(value), 4)}in`;

/** A pitch as it was given: 16tpi stays 16tpi. */
export const pitchText = (pitch: Pitch): string =>
  pitch.given.kind === 'tpi' ? `${plain(MM_PER_INCH / pitch.length, 4)}tpi` : `${plain(pitch.length, 4)}mm`;

/** A range of room humidity, drier end first, as text and back; null for anything else. */
export const seasonText = ({ from, to }: SeasonWanted): string =>
  `${plain(inPercent(from), 1)}%-${plain(inPercent(to), 1)}%`;

export function seasonIn(text: string): SeasonWanted | null {
  const [from, to, ...more] = text.split('-').map((part) => parseHumidity(part));
  if (!from?.ok || !to?.ok || more.length > 0 || from.value >= to.value) return null;
  return { from: from.value, to: to.value };
}
