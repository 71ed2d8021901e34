// Readings typed by hand, or by a caliper that types like a keyboard: a number in the bench's unit, or with its own.
import { type Parsed, parseLength } from '../quantity.ts';
import type { Length, LengthUnit, Millis } from '../units.ts';
import type { KeptReading } from './entry.ts';
import type { Job } from './job.ts';

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
