// Quantities that only a fit is asked with: angles of a form, sizes of a tip, clearances of a thread.
import { type Parsed, parseAngle, parseLength } from '../core/quantity.ts';
import { leastAngle, mostAngle } from '../core/thread/pair.ts';
import { type Angle, inDegrees, type Length } from '../core/units.ts';

/** An included angle that a thread may have. */
export function parseThreadAngle(text: string): Parsed<Angle> {
  const parsed = parseAngle(text);
  const [least, most] = [inDegrees(leastAngle).toFixed(0), inDegrees(mostAngle).toFixed(0)];
  if (parsed.ok && parsed.value >= leastAngle - 1e-12 && parsed.value <= mostAngle + 1e-12) return parsed;
  return {
    ok: false,
    kind: 'bad-quantity',
    found: text,
    accepted: `an angle from ${least} to ${most} degrees, such as 60 or 55deg`,
  };
}

/** Nothing of a flat or a nose is a sharp tip. */
export function parseTipSize(text: string): Parsed<Length> {
  const parsed = parseLength(text);
  if (!parsed.ok || parsed.value >= 0) return parsed;
  return {
    ok: false,
    kind: 'bad-quantity',
    found: text,
    accepted: 'a length of zero (sharp) or more, such as 0.1mm',
  };
}

/** A wanted clearance of a thread: zero or more. */
export function parseClearance(text: string): Parsed<Length> {
  const parsed = parseLength(text);
  if (!parsed.ok || parsed.value >= 0) return parsed;
  return {
    ok: false,
    kind: 'bad-quantity',
    found: text,
    accepted: 'zero or more for a thread; less than nothing only with --plain',
  };
}
