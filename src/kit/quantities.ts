// What can be typed, in a file, a flag or the environment: each quantity with its name in help, its reader and its form in JSON.
import type { Proven } from '../core/bench/setup.ts';
import {
  notAccepted,
  orNotAccepted,
  type Parsed,
  type Pitch,
  parseAngle,
  parseCount,
  parseLength,
  parsePitch,
  parsePositiveLength,
  parseUnit,
  parseUnsignedLength,
  parseWord,
} from '../core/quantity.ts';
import type { Tip } from '../core/thread/form.ts';
import { leastAngle, mostAngle } from '../core/thread/pair.ts';
import { type Angle, inDegrees, type Length, type LengthUnit } from '../core/units.ts';
import type { TomlValue } from './toml.ts';

export interface Quantity<T> {
  /** The value's name in help: `<length>`. */
  readonly placeholder: string;
  readonly parse: (text: string) => Parsed<T>;
  /** What a shell offers; the reader may know more names for them. */
  readonly choices?: readonly string[];
  /** How a file writes it where not as a text: as a number, or as a list whose texts a flag separates by commas. */
  readonly written?: 'number' | 'list';
  /** What the key of its value in JSON ends in, and the value there where it isn't the same. */
  readonly suffix?: 'Mm' | 'Deg';
  json?(value: T): unknown;
}

/** A quantity whose reader gives undefined for a text that it refuses. */
export const quantity = <T>(
  placeholder: string,
  read: (text: string) => T | undefined,
  accepted: string,
): Quantity<T> => ({ placeholder, parse: (text) => orNotAccepted(read(text), text, accepted) });

export type ValueOf<Q> = Q extends Quantity<infer T> ? T : never;

const lengthBy = (parse: (text: string) => Parsed<Length>): Quantity<Length> => ({
  placeholder: 'length',
  parse: (text) => parse(text),
  suffix: 'Mm',
});
export const signedLength = lengthBy(parseLength);
export const lengthAboveZero = lengthBy(parsePositiveLength);
export const lengthFromZero = lengthBy(parseUnsignedLength);

export const oneOf = <const T extends string>(placeholder: string, words: readonly T[]): Quantity<T> => ({
  placeholder,
  parse: parseWord(words),
  choices: words,
});
export const onOff = oneOf('on|off', ['on', 'off']);
export const lengthUnit: Quantity<LengthUnit> = {
  placeholder: 'unit',
  parse: parseUnit,
  choices: ['mm', 'in'],
};

export const countOf = (placeholder: string, least: number, most: number): Quantity<number> => ({
  placeholder,
  parse: (text) => parseCount(text, least, most),
  written: 'number',
});

export const threadPitch: Quantity<Pitch> = { placeholder: 'pitch', parse: parsePitch };

/** The same quantity, of which only some values are accepted. */
export const only = <T>(of: Quantity<T>, fits: (value: T) => boolean, accepted: string): Quantity<T> => ({
  ...of,
  parse: (text) => {
    const parsed = of.parse(text);
    return parsed.ok && fits(parsed.value) ? parsed : notAccepted(text, accepted);
  },
});

export const anyAngle: Quantity<Angle> = {
  placeholder: 'angle',
  parse: parseAngle,
  suffix: 'Deg',
  json: (value) => Number(inDegrees(value).toFixed(9)),
};

/** An included angle that a turned thread may have. */
export const formAngle = only(
  anyAngle,
  (angle) => angle >= leastAngle && angle <= mostAngle,
  `an included angle from ${inDegrees(leastAngle).toFixed(0)}deg to ${inDegrees(mostAngle).toFixed(0)}deg, such as 60deg`,
);

function tipIn(text: string): Tip | undefined {
  const [, word = '', size = ''] = /^\s*(sharp|flat|radius)\b\s*(.*)$/i.exec(text) ?? [];
  const kind = word.toLowerCase();
  if (kind === 'sharp' && size === '') return { kind };
  const parsed = parsePositiveLength(size);
  if (!parsed.ok) return undefined;
  if (kind === 'flat') return { kind, width: parsed.value };
  return kind === 'radius' ? { kind, radius: parsed.value } : undefined;
}

/** A cutter's end: `sharp`, `flat 0.2mm` or `radius 0.1mm`. */
export const cutterTip: Quantity<Tip> = {
  ...quantity('tip', tipIn, 'sharp, or flat or radius with its size, such as "flat 0.2mm"'),
  json: (tip) => {
    if (tip.kind === 'sharp') return tip;
    return tip.kind === 'flat'
      ? { kind: tip.kind, widthMm: tip.width }
      : { kind: tip.kind, radiusMm: tip.radius };
  },
};

/** A decimal number without a unit. */
export const decimalOf = (
  placeholder: string,
  least: number,
  most: number,
  accepted: string,
): Quantity<number> => {
  const read = (text: string): number | undefined => {
    const value = /^(?:\d+(?:\.\d*)?|\.\d+)$/.test(text.trim()) ? Number(text) : Number.NaN;
    return value >= least && value <= most ? value : undefined;
  };
  return { ...quantity(placeholder, read, accepted), written: 'number' };
};

function provenIn(text: string): readonly Proven[] | undefined {
  const items = itemsIn(text);
  const proven = items.flatMap((item) => {
    const [, count = '', at = ''] = /^(\d+)\s+at\s+(.+)$/.exec(item) ?? [];
    const [detents, pitch] = [parseCount(count, 1, 10_000), parsePitch(at)];
    return detents.ok && pitch.ok ? [{ detents: detents.value, pitch: pitch.value }] : [];
  });
  return proven.length === items.length ? proven : undefined;
}

/** Detents proven at a pitch, `14 at 16tpi`, and more of them after commas. */
export const provenDetents: Quantity<readonly Proven[]> = {
  ...quantity('list', provenIn, 'detents and a pitch, such as "14 at 16tpi"'),
  written: 'list',
  json: (all) => all.map(({ detents, pitch }) => ({ detents, pitchMm: pitch.length })),
};

/** The items of a list that is typed with commas. */
export const itemsIn = (text: string): readonly string[] =>
  text
    .split(',')
    .map((item) => item.trim())
    .filter((item) => item !== '');

const MOST_NAME = 40;
const NAME = /^[\p{L}\p{N}][\p{L}\p{M}\p{N} .,:+/°"'()_-]*$/u;

/** The name of a piece of equipment, as it is shown and chosen by. */
export const itemName = quantity(
  'name',
  (text) => {
    const name = text.normalize('NFC').trim();
    return name.length <= MOST_NAME && NAME.test(name) && name.toLowerCase() !== 'none' ? name : undefined;
  },
  `a name of up to ${MOST_NAME} letters, digits and spaces, starting with a letter or digit, other than "none"`,
);

/** A value of a file as it would be typed; `on` and `off` for booleans. Undefined for what nobody could type. */
export function asTyped({ written }: Quantity<unknown>, value: unknown): string | undefined {
  if (typeof value === 'string') return value;
  if (typeof value === 'boolean') return value ? 'on' : 'off';
  if (written === 'list' && Array.isArray(value) && value.every((each) => typeof each === 'string'))
    return value.join(', ');
  return typeof value === 'number' ? String(value) : undefined;
}

/** The typed text as a file writes it. */
export function asWritten({ written }: Quantity<unknown>, text: string): TomlValue {
  if (written === 'list') return itemsIn(text);
  return written === 'number' && /^\d+(\.\d+)?$/.test(text.trim()) ? Number(text) : text.trim();
}

/** `runningFrom` as `running-from`: a key of this program as files and flags write it. */
export const dashed = (key: string): string => key.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);
