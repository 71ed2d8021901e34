// Options that every question about a thread has: its form, the cutter's tip, a wanted clearance.
import { notAccepted, type Parsed, parseLength, parseUnsignedLength } from '../core/quantity.ts';
import type { Tip } from '../core/thread/form.ts';
import { type Angle, degrees, type Length } from '../core/units.ts';
import { parseFormAngle } from '../kit/value.ts';
import type { OptionReader } from './options.ts';

/** A wanted clearance of a thread: zero or more. */
export function parseClearance(text: string): Parsed<Length> {
  const parsed = parseLength(text);
  return parsed.ok && parsed.value < 0
    ? notAccepted(text, 'zero or more, such as 0.15mm; only a plain lid can have less than zero')
    : parsed;
}

export const readAngle = (options: OptionReader): Angle =>
  options.optional('--angle', parseFormAngle) ?? degrees(60);

/** A tip by its flat or its nose radius, of which zero is a sharp tip; undefined where neither was typed. */
export function readTip(options: OptionReader, prefix: '--tip' | '--spigot-tip'): Tip | undefined {
  const width = options.optional(`${prefix}-flat`, parseUnsignedLength);
  const radius = options.optional(`${prefix}-radius`, parseUnsignedLength);
  if (width !== undefined && radius !== undefined)
    options.addError(`Give ${prefix}-flat or ${prefix}-radius, not both: a tip is either flat or round.`);
  if (width === undefined && radius === undefined) return undefined;
  if (width) return { kind: 'flat', width };
  return radius ? { kind: 'radius', radius } : { kind: 'sharp' };
}
