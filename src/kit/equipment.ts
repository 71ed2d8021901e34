// Calipers, cutters and feeds as facts: one table for each kind, from which files, flags, help, checks and JSON are made.
import type { CaliperFacts, Cutter, KitFeed, Proven } from '../core/bench/setup.ts';
import { capitalised, forScreen } from '../core/safe-text.ts';
import { givenStandard } from '../core/thread/calibrate.ts';
import { type LengthUnit, mm } from '../core/units.ts';
import {
  asTyped,
  asWritten,
  countOf,
  cutterTip,
  dashed,
  decimalOf,
  formAngle,
  itemName,
  lengthAboveZero,
  lengthFromZero,
  lengthUnit,
  oneOf,
  provenDetents,
  type Quantity,
} from './quantities.ts';
import { type TomlTable, tomlLine } from './toml.ts';
import type { KitTrouble } from './trouble.ts';

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

export interface Named {
  readonly name: string;
}

/** One fact of an item: what it is, for comments, help and flags, in lower case without a full stop. */
interface ItemFact<T, V> {
  readonly of: Quantity<V>;
  readonly about: string;
  /** A value that would be accepted, shown commented out in a new file. */
  readonly example: string;
  readonly needed: boolean;
  /** What counts where the file says nothing, if anything does. */
  usual?(facts: Partial<T>): V;
}

export const KIND_WORDS = ['caliper', 'cutter', 'feed'] as const;
export type KindWord = (typeof KIND_WORDS)[number];

export interface Kind<T extends Named> {
  readonly word: KindWord;
  readonly about: string;
  /** In the order of a new file, where the name comes first. A file and a flag write `limitOfError` as `limit-of-error`. */
  readonly facts: { readonly [K in Exclude<keyof T, 'name'>]-?: ItemFact<T, NonNullable<T[K]>> };
  /** The built-in item, used until one is added; null where a bench can do without. */
  readonly plain: FactTexts | null;
}

/** Facts as texts, by key of the file: as typed, or as the file says them. */
export type FactTexts = Readonly<Record<string, string>>;

const needed = <V>(of: Quantity<V>, example: string, about: string) => ({ of, about, example, needed: true });
const optional = <V, U extends object = object>(
  of: Quantity<V>,
  example: string,
  about: string,
  usual?: U,
) => ({
  of,
  about,
  example,
  needed: false,
  ...usual,
});

export const caliperKind: Kind<Caliper> = {
  word: 'caliper',
  about: 'A caliper.',
  facts: {
    step: needed(lengthAboveZero, '0.01mm', 'one step of its display'),
    limitOfError: needed(
      lengthFromZero,
      '0.03mm',
      'how far off it may be, plus or minus, from its data sheet',
    ),
    jawLand: optional(
      lengthFromZero,
      '0.3mm',
      'width of the flat on its inside jaws, measured with a ring of known size',
    ),
    unit: optional(
      lengthUnit,
      'mm',
      'unit its display is set to, mm or in. A bare number from it is read in this unit',
      { usual: () => 'mm' as const },
    ),
  },
  // Limit of error: DIN 862, digital, up to 200 mm; from memory.
  plain: { name: '0.01 mm caliper', step: '0.01mm', 'limit-of-error': '0.03mm', unit: 'mm' },
};

const MOST_TOP_SPEED = 200_000;

export const cutterKind: Kind<Cutter> = {
  word: 'cutter',
  about: 'A thread cutter.',
  facts: {
    angle: needed(formAngle, '60deg', 'included angle of the form it cuts'),
    tip: needed(cutterTip, 'flat 0.2mm', 'its tip: sharp, or flat or radius with its size'),
    diameter: optional(lengthAboveZero, '20mm', 'diameter over its tips'),
    topSpeed: optional(
      countOf('turns', 1, MOST_TOP_SPEED),
      '8000',
      "its maker's top speed in turns a minute. Never run it faster",
    ),
  },
  plain: { name: '60 degree sharp', angle: '60deg', tip: 'sharp' },
};

const MOST_LOST = 1000;

export const feedKind: Kind<Feed> = {
  word: 'feed',
  about: 'A feed handle.',
  facts: {
    perDetent: needed(lengthAboveZero, '0.05mm', 'radial feed of one detent'),
    perDetentStandard: optional(
      lengthFromZero,
      '0.0005mm',
      "standard uncertainty of a detent's feed; if left out, 2 % of the detent. `lidwright kit calibrate` finds both",
      { usual: ({ perDetent = mm(0) }: Partial<Feed>) => givenStandard(perDetent) },
    ),
    perDetentFreedom: optional(
      decimalOf('number', 1, Number.MAX_VALUE, 'a number from 1, such as 2'),
      '2',
      'degrees of freedom of that uncertainty: one less than the number of travels measured; infinite if left out',
    ),
    touchOff: optional(
      lengthAboveZero,
      '0.03mm',
      'accuracy of a touch-off, plus or minus; one detent if left out',
    ),
    lostDetents: optional(
      countOf('count', 0, MOST_LOST),
      '2',
      'detents to turn after reversing before the slide moves',
      { usual: () => 0 },
    ),
    deeper: optional(
      oneOf('way', ['up', 'down']),
      'up',
      "which way the board's count goes as the cutter goes deeper: up or down",
      { usual: () => 'up' as const },
    ),
    proven: optional(provenDetents, '14 at 16tpi', 'detents that gave a thread that runs, and its pitch', {
      usual: () => [],
    }),
  },
  plain: null,
};

export const KINDS: { readonly [word in KindWord]: Kind<Named> } = {
  caliper: caliperKind,
  cutter: cutterKind,
  feed: feedKind,
};

/** Every fact of a kind by its key in a file. */
export const factsOf = <T extends Named>(kind: Kind<T>) =>
  Object.entries<ItemFact<T, unknown>>(kind.facts).map(([key, fact]) => ({
    ...fact,
    name: key,
    key: dashed(key),
  }));

/** A table's facts in its own words; the name is left out. */
export const textsIn = <T extends Named>(kind: Kind<T>, table: TomlTable): FactTexts =>
  Object.fromEntries(
    factsOf(kind).flatMap(({ key, of }) => {
      const text = asTyped(of, table[key]);
      return text === undefined ? [] : [[key, text]];
    }),
  );

/** `value` is undefined where the item is left out. */
interface ReadItem<T> {
  readonly value: T | undefined;
  readonly troubles: readonly KitTrouble[];
}

const shownValue = (value: unknown): string =>
  value === undefined ? 'nothing' : forScreen(JSON.stringify(value) ?? '?');

/** The item in a table of this kind; one wrong value leaves the whole item out, an unknown key is reported and ignored. */
export function fromTable<T extends Named>(kind: Kind<T>, table: TomlTable, where: string): ReadItem<T> {
  const bad: KitTrouble[] = [];
  const name = { of: itemName, name: 'name', key: 'name', needed: true, usual: undefined };
  const facts = [name, ...factsOf(kind)];
  const read: Record<string, unknown> = {};
  for (const { of, name, key, needed, usual } of facts) {
    const found = table[key];
    const parsed = found === undefined && !needed ? undefined : of.parse(asTyped(of, found) ?? '\u0000');
    if (parsed?.ok) read[name] = parsed.value;
    else if (parsed) {
      const kept = `this ${kind.word} is left out of the kit`;
      bad.push({ kind: 'bad-value', where, key, found: shownValue(found), accepted: parsed.accepted, kept });
    } else if (usual) read[name] = usual(read as Partial<T>);
  }
  const isWhole = (_: object): _ is T => bad.length === 0;
  const known = facts.map(({ key }) => key);
  const unknown = Object.keys(table)
    .filter((key) => !known.includes(key))
    .map((key): KitTrouble => ({ kind: 'unknown-key', where, key, accepted: known }));
  return { value: isWhole(read) ? read : undefined, troubles: [...bad, ...unknown] };
}

/** A new file of this kind: each typed fact under a comment, the others commented out with an example. */
export function newItemFile<T extends Named>(kind: Kind<T>, name: string, typed: FactTexts): string {
  const lines = factsOf(kind).flatMap(({ key, of, about, example }) => {
    const text = typed[key];
    const line = tomlLine(key, asWritten(of, text ?? example));
    return ['', `# ${capitalised(about)}.`, text === undefined ? `# ${line}` : line];
  });
  const head = `# ${kind.about} Copy this file into the same folder on another bench to use it there too.`;
  return [head, tomlLine('name', name), ...lines, ''].join('\n');
}
