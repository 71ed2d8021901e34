// Calipers, cutters and feeds as facts: one table of keys for each kind, from which files, flags, help and checks are made.
import type { CaliperFacts, Cutter, KitFeed, Proven } from '../core/bench/setup.ts';
import {
  parseCount,
  parsePositiveLength,
  parseUnit,
  parseUnsignedLength,
  parseWord,
} from '../core/quantity.ts';
import { forScreen } from '../core/safe-text.ts';
import { type LengthUnit, mm } from '../core/units.ts';
import { scalarOf, type TomlValue, tomlLine } from './toml.ts';
import type { KitTrouble } from './trouble.ts';
import {
  type Parse,
  parseFormAngle,
  parseFreedom,
  parseName,
  parseProven,
  parseTip,
  textOf,
} from './value.ts';

export interface Caliper extends CaliperFacts {
  /** What its display is switched to, and so what a bare number from it means. */
  readonly unit: LengthUnit;
}

export interface Feed extends KitFeed {
  /** Which way the board's count goes as the cutter goes deeper; the bench line says `up` (protocol: deeper is positive). */
  readonly deeper: 'up' | 'down';
  /** Detents that gave a thread that ran, by pitch. */
  readonly proven: readonly Proven[];
}

export type KindWord = 'caliper' | 'cutter' | 'feed';

/** One key of a file: what it is, for comments, help and flags. */
export interface FileKey {
  readonly about: string;
  /** What stands for the value in help: `<length>`. */
  readonly placeholder: string;
  /** A value that would be accepted, shown commented out in a new file. */
  readonly example: string;
  /** True where a file writes it as a number, without quotes. */
  readonly number?: boolean;
  /** True where a file writes a list of texts; as a flag they are separated by commas. */
  readonly list?: boolean;
  readonly choices?: readonly string[];
  readonly needed?: boolean;
}

/** Reads keys of one table and collects what is wrong with them. */
interface TableReader {
  needed<T>(key: string, parse: Parse<T>): T | undefined;
  optional<T>(key: string, parse: Parse<T>): T | undefined;
  list<T>(key: string, parse: Parse<T>): readonly T[];
}

export interface Kind<T> {
  readonly word: KindWord;
  readonly folder: string;
  readonly about: string;
  /** By key of the file, in the order a new file has them; the name stands before them. */
  readonly keys: Readonly<Record<string, FileKey>>;
  /** What is used while none was added; null where a bench can do without. */
  readonly plain: { readonly name: string; readonly [key: string]: string } | null;
  /** The item; undefined where anything it needs is missing or wrong. */
  readonly read: (table: TableReader) => T | undefined;
}

export const caliperKind: Kind<Caliper> = {
  word: 'caliper',
  folder: 'calipers',
  about: 'A caliper.',
  keys: {
    step: { about: 'One step of its display.', placeholder: 'length', example: '0.01mm', needed: true },
    'limit-of-error': {
      about: 'How far off it may be, plus or minus, from its data sheet.',
      placeholder: 'length',
      example: '0.03mm',
      needed: true,
    },
    'jaw-land': {
      about: 'Width of the flat on its inside jaws, measured with a ring of known size.',
      placeholder: 'length',
      example: '0.3mm',
    },
    unit: {
      about: 'Unit its display is set to, mm or in. A bare number from it is read in this unit.',
      placeholder: 'unit',
      example: 'mm',
      choices: ['mm', 'in'],
    },
  },
  // Limit of error: DIN 862, digital, up to 200 mm; from memory.
  plain: { name: '0.01 mm caliper', step: '0.01mm', 'limit-of-error': '0.03mm', unit: 'mm' },
  read: (table) => {
    const name = table.needed('name', parseName);
    const step = table.needed('step', parsePositiveLength);
    const limitOfError = table.needed('limit-of-error', parseUnsignedLength);
    const jawLand = table.optional('jaw-land', parseUnsignedLength);
    const unit = table.optional('unit', parseUnit) ?? 'mm';
    if (name === undefined || step === undefined || limitOfError === undefined) return undefined;
    return { name, step, limitOfError, unit, ...(jawLand === undefined ? {} : { jawLand }) };
  },
};

const MOST_TOP_SPEED = 200_000;

export const cutterKind: Kind<Cutter> = {
  word: 'cutter',
  folder: 'cutters',
  about: 'A thread cutter.',
  keys: {
    angle: {
      about: 'Included angle of the form it cuts.',
      placeholder: 'angle',
      example: '60deg',
      needed: true,
    },
    tip: {
      about: 'Its tip: sharp, or flat or radius with its size.',
      placeholder: 'tip',
      example: 'flat 0.2mm',
      needed: true,
    },
    diameter: { about: 'Diameter over its tips.', placeholder: 'length', example: '20mm' },
    'top-speed': {
      about: "Its maker's top speed in turns a minute. Never run it faster.",
      placeholder: 'turns',
      example: '8000',
      number: true,
    },
  },
  plain: { name: '60 degree sharp', angle: '60deg', tip: 'sharp' },
  read: (table) => {
    const name = table.needed('name', parseName);
    const angle = table.needed('angle', parseFormAngle);
    const tip = table.needed('tip', parseTip);
    const diameter = table.optional('diameter', parsePositiveLength);
    const topSpeed = table.optional('top-speed', (text) => parseCount(text, 1, MOST_TOP_SPEED));
    if (name === undefined || angle === undefined || tip === undefined) return undefined;
    return {
      name,
      angle,
      tip,
      ...(diameter === undefined ? {} : { diameter }),
      ...(topSpeed === undefined ? {} : { topSpeed }),
    };
  },
};

/** What a detent's worth is in doubt by where nobody calibrated it, as a share of it; our own choice. */
const UNCALIBRATED = 0.01;
const MOST_LOST = 1000;

export const feedKind: Kind<Feed> = {
  word: 'feed',
  folder: 'feeds',
  about: 'A feed handle.',
  keys: {
    'per-detent': {
      about: 'Radial feed of one detent.',
      placeholder: 'length',
      example: '0.05mm',
      needed: true,
    },
    'per-detent-standard': {
      about:
        "Standard uncertainty of a detent's feed, 1 % if left out. `lidwright kit calibrate` finds both.",
      placeholder: 'length',
      example: '0.0005mm',
    },
    'per-detent-freedom': {
      about:
        'Degrees of freedom of that uncertainty: one less than the travels measured; infinite if left out.',
      placeholder: 'number',
      example: '2',
      number: true,
    },
    'touch-off': {
      about: 'Accuracy of a touch-off, plus or minus; one detent if left out.',
      placeholder: 'length',
      example: '0.03mm',
    },
    'lost-detents': {
      about: 'Detents to turn after reversing before the slide moves.',
      placeholder: 'count',
      example: '2',
      number: true,
    },
    deeper: {
      about: "Which way the board's count goes as the cutter goes deeper: up or down.",
      placeholder: 'way',
      example: 'up',
      choices: ['up', 'down'],
    },
    proven: {
      about: 'Detents that gave a thread that ran, by pitch.',
      placeholder: 'list',
      example: '14 at 16tpi',
      list: true,
    },
  },
  plain: null,
  read: (table) => {
    const name = table.needed('name', parseName);
    const perDetent = table.needed('per-detent', parsePositiveLength);
    const standard = table.optional('per-detent-standard', parseUnsignedLength);
    const freedom = table.optional('per-detent-freedom', parseFreedom);
    const touchOff = table.optional('touch-off', parsePositiveLength);
    const lostDetents = table.optional('lost-detents', (text) => parseCount(text, 0, MOST_LOST)) ?? 0;
    const deeper = table.optional('deeper', parseWord(['up', 'down'])) ?? 'up';
    const proven = table.list('proven', parseProven);
    if (name === undefined || perDetent === undefined) return undefined;
    return {
      name,
      perDetent,
      perDetentStandard: standard ?? mm(UNCALIBRATED * perDetent),
      lostDetents,
      ...(freedom === undefined ? {} : { perDetentFreedom: freedom }),
      ...(touchOff === undefined ? {} : { touchOff }),
      deeper,
      proven,
    };
  },
};

export const KINDS: { readonly [word in KindWord]: Kind<{ readonly name: string }> } = {
  caliper: caliperKind,
  cutter: cutterKind,
  feed: feedKind,
};
export const KIND_WORDS: readonly KindWord[] = ['caliper', 'cutter', 'feed'];

/** Facts as texts, by key of the file: as typed, or as the file says them. */
export type FactTexts = Readonly<Record<string, string>>;

/** A table's facts in its own words; the name is left out. */
export const textsIn = <T>(kind: Kind<T>, table: Readonly<Record<string, unknown>>): FactTexts =>
  Object.fromEntries(
    Object.keys(kind.keys).flatMap((key) => {
      const value = table[key];
      const text = Array.isArray(value) ? value.map((each) => textOf(each) ?? '').join(', ') : textOf(value);
      return text === undefined ? [] : [[key, text]];
    }),
  );

type ReadItem<T> =
  | { readonly ok: true; readonly value: T; readonly troubles: readonly KitTrouble[] }
  | { readonly ok: false; readonly troubles: readonly KitTrouble[] };

const shownValue = (value: unknown): string =>
  value === undefined ? 'nothing' : forScreen(JSON.stringify(value) ?? '?');

const listed = (value: unknown): readonly unknown[] | undefined => {
  if (typeof value === 'string') return value.split(',').filter((part) => part.trim() !== '');
  return Array.isArray(value) ? value : undefined;
};

/** The item in a table of this kind; one wrong value leaves the whole item out, an unknown key is reported and ignored. */
export function fromTable<T>(
  kind: Kind<T>,
  table: Readonly<Record<string, unknown>>,
  where: string,
): ReadItem<T> {
  const bad: KitTrouble[] = [];
  const refuse = (key: string, accepted: string): undefined => {
    const kept = `this ${kind.word} is left out of the kit`;
    bad.push({ kind: 'bad-value', where, key, found: shownValue(table[key]), accepted, kept });
  };
  const read = <P>(key: string, value: unknown, parse: Parse<P>): P | undefined => {
    const parsed = parse(textOf(value) ?? '');
    return parsed.ok ? parsed.value : refuse(key, parsed.accepted);
  };
  const value = kind.read({
    needed: (key, parse) => read(key, table[key], parse),
    optional: (key, parse) => (table[key] === undefined ? undefined : read(key, table[key], parse)),
    list: (key, parse) => {
      const texts = table[key] === undefined ? [] : listed(table[key]);
      if (!texts) refuse(key, 'a list of texts in square brackets');
      return (texts ?? []).flatMap((text) => read(key, text, parse) ?? []);
    },
  });
  const known = ['name', ...Object.keys(kind.keys)];
  const unknown = Object.keys(table)
    .filter((key) => !known.includes(key))
    .map((key): KitTrouble => ({ kind: 'unknown-key', where, key, accepted: known }));
  return value !== undefined && bad.length === 0
    ? { ok: true, value, troubles: unknown }
    : { ok: false, troubles: [...bad, ...unknown] };
}

/** What was typed for a key, as the file writes it. */
export const itemValue = (key: FileKey | undefined, text: string): TomlValue =>
  key?.list
    ? text
        .split(',')
        .map((part) => part.trim())
        .filter((part) => part !== '')
    : scalarOf(key?.number, text);

/** A new file of this kind: what was typed, each under a comment; what was not, commented out with an example. */
export function newItemFile<T>(kind: Kind<T>, name: string, typed: FactTexts): string {
  const lines = Object.entries(kind.keys).flatMap(([key, of]) => {
    const text = typed[key];
    const line = tomlLine(key, itemValue(of, text ?? of.example));
    return ['', `# ${of.about}`, text === undefined ? `# ${line}` : line];
  });
  const head = `# ${kind.about} Copy this file into the same folder on another bench to use it there too.`;
  return [head, tomlLine('name', name), ...lines, ''].join('\n');
}
