// Readings typed by hand, or by a caliper that types like a keyboard: a number in the bench's unit, or with its own.
import { stepOf } from '../measure/reading.ts';
import { type Parsed, parseLength } from '../quantity.ts';
import type { LengthUnit } from '../units.ts';
import type { KeptReading } from './entry.ts';
import type { Bench } from './state.ts';

const unitIn = (text: string, bare: LengthUnit): LengthUnit =>
  /mm/i.test(text) ? 'mm' : /in|"/i.test(text) ? 'in' : bare;

/** The reading that this text is, as of now; its `raw` is empty, which is how a typed one is known. */
export function typedReading(bench: Bench, text: string): Parsed<KeptReading> {
  const parsed = parseLength(text, bench.unit);
  if (!parsed.ok) return parsed;
  const unit = unitIn(text, bench.unit);
  const digits = text.trim().replace(/\s*(mm|in|inch|inches|")$/i, '');
  const step = stepOf(digits, unit);
  return { ok: true, value: { text: digits, unit, step, value: parsed.value, at: bench.now, raw: '' } };
}
