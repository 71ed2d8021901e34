// How one value of a file, a flag or the environment is read: a text by core's readers, refused with what is accepted.

import type { Proven } from '../core/bench/setup.ts';
import {
  notAccepted,
  type Parsed,
  parseAngle,
  parseCount,
  parseLength,
  parsePitch,
} from '../core/quantity.ts';
import type { Tip } from '../core/thread/form.ts';
import { leastAngle, mostAngle } from '../core/thread/pair.ts';
import { type Angle, inDegrees } from '../core/units.ts';

export type Parse<T> = (text: string) => Parsed<T>;

/** A scalar as text; `on` and `off` for booleans. Undefined for anything else. */
export function textOf(value: unknown): string | undefined {
  if (typeof value === 'string') return value;
  if (typeof value === 'boolean') return value ? 'on' : 'off';
  return typeof value === 'number' ? String(value) : undefined;
}

/** An included angle that a turned thread may have. */
export const parseFormAngle: Parse<Angle> = (text) => {
  const parsed = parseAngle(text);
  const fits = parsed.ok && parsed.value >= leastAngle && parsed.value <= mostAngle;
  const [least, most] = [inDegrees(leastAngle).toFixed(0), inDegrees(mostAngle).toFixed(0)];
  return fits ? parsed : notAccepted(text, `an included angle from ${least}deg to ${most}deg, such as 60deg`);
};

/** A cutter's end: `sharp`, `flat 0.2mm` or `radius 0.1mm`. */
export const parseTip: Parse<Tip> = (text) => {
  const accepted = 'sharp, or flat or radius with its size, such as "flat 0.2mm"';
  const [, word, size] = /^\s*(sharp|flat|radius)\b\s*(.*)$/i.exec(text) ?? [];
  if (word?.toLowerCase() === 'sharp')
    return size === '' ? { ok: true, value: { kind: 'sharp' } } : notAccepted(text, accepted);
  const parsed = parseLength(size ?? '');
  if (!word || !parsed.ok || parsed.value <= 0) return notAccepted(text, accepted);
  if (word.toLowerCase() === 'flat') return { ok: true, value: { kind: 'flat', width: parsed.value } };
  return { ok: true, value: { kind: 'radius', radius: parsed.value } };
};

/** Degrees of freedom: 1 or more, not always whole. */
export const parseFreedom: Parse<number> = (text) => {
  const found = /^\s*\d+(\.\d+)?\s*$/.test(text) ? Number(text) : Number.NaN;
  return found >= 1 ? { ok: true, value: found } : notAccepted(text, 'a number from 1, such as 2');
};

/** Detents proven at a pitch: `14 at 16tpi`. */
export const parseProven: Parse<Proven> = (text) => {
  const [, count, at] = /^\s*(\d+)\s+at\s+(.+)$/.exec(text) ?? [];
  const [detents, pitch] = [parseCount(count ?? '', 1, 10_000), parsePitch(at ?? '')];
  if (!detents.ok || !pitch.ok) return notAccepted(text, 'detents and a pitch, such as "14 at 16tpi"');
  return { ok: true, value: { detents: detents.value, pitch: pitch.value } };
};

const MOST_NAME = 40;
const NAME = /^[\p{L}\p{N}][\p{L}\p{M}\p{N} .,:+/°"'()_-]*$/u;

/** The name of a piece of equipment, as it is shown and chosen by. */
export const parseName: Parse<string> = (text) => {
  const name = text.normalize('NFC').trim();
  const fits = name.length <= MOST_NAME && NAME.test(name) && name.toLowerCase() !== 'none';
  return fits
    ? { ok: true, value: name }
    : notAccepted(
        text,
        `a name of up to ${MOST_NAME} letters, digits and spaces, starting with a letter or digit, other than "none"`,
      );
};
