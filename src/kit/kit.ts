// The turner's equipment, one item a file: read, the chosen items first; and what is written when one is added, changed or removed.
import { existsSync, renameSync } from 'node:fs';
import { join } from 'node:path';
import type { CaliperFacts, Cutter, Kit, KitFeed } from '../core/bench/setup.ts';
import { plainName } from '../core/safe-text.ts';
import {
  type Caliper,
  caliperKind,
  cutterKind,
  type FactTexts,
  type Feed,
  factsOf,
  feedKind,
  fromTable,
  KINDS,
  type Kind,
  type KindWord,
  type Named,
  newItemFile,
  textsIn,
} from './equipment.ts';
import { asWritten } from './quantities.ts';
import { type ConfigHome, type Resolved, readSettings } from './setting-sources.ts';
import {
  type Edited,
  editedFile,
  type TomlTable,
  tableIn,
  tableOf,
  textOfFile,
  tomlFilesIn,
  withKey,
} from './toml.ts';
import type { KitTrouble } from './trouble.ts';

/** Where the files of a kind lie: `kit/feeds`. */
export const kitFolder = (home: ConfigHome, kind: KindWord): string => join(home.config, 'kit', `${kind}s`);

/** A piece of equipment with the file that says so. */
interface Item<T> {
  readonly kind: KindWord;
  readonly facts: T;
  /** The same in the file's own words, by key. */
  readonly texts: FactTexts;
  /** Null for a built-in item. */
  readonly file: string | null;
}

interface ItemsRead<T> {
  readonly items: readonly Item<T>[];
  readonly troubles: readonly KitTrouble[];
}

/** The item in a table of this kind; it counts as built in when it has no file. */
function itemIn<T extends Named>(kind: Kind<T>, table: TomlTable, file: string | null): ItemsRead<T> {
  const { value, troubles } = fromTable(kind, table, file ?? 'built in');
  const items = value ? [{ kind: kind.word, facts: value, texts: textsIn(kind, table), file }] : [];
  return { items, troubles };
}

/** Two names that a person would read as the same. */
export const sameName = (a: string, b: string): boolean =>
  a.normalize('NFC').trim().toLowerCase() === b.normalize('NFC').trim().toLowerCase();

/** Every item of a kind; a name that comes again is reported and ignored. */
function readFolder<T extends Named>(kind: Kind<T>, home: ConfigHome): ItemsRead<T> {
  const folder = kitFolder(home, kind.word);
  const files = tomlFilesIn(folder);
  if ('trouble' in files) return { items: [], troubles: [files.trouble] };
  const items: Item<T>[] = [];
  const troubles: KitTrouble[] = [];
  for (const where of (files.found ?? []).map((file) => join(folder, file))) {
    const table = tableOf(where);
    if ('trouble' in table) troubles.push(table.trouble);
    if (!('found' in table) || !table.found) continue;
    const read = itemIn(kind, table.found, where);
    troubles.push(...read.troubles);
    for (const item of read.items) {
      const { name } = item.facts;
      const before = items.find(({ facts }) => sameName(facts.name, name));
      if (!before) items.push(item);
      else troubles.push({ kind: 'same-name', where, other: before.file ?? '', name });
    }
  }
  return { items, troubles };
}

export type AnyItem = Item<Caliper> | Item<Cutter> | Item<Feed>;

/** The equipment and the settings that hold, with all that was wrong in their files. */
export interface KitRead {
  /** For the new-job form: the chosen ones come first. */
  readonly kit: Kit;
  readonly calipers: readonly Item<Caliper>[];
  readonly cutters: readonly Item<Cutter>[];
  readonly feeds: readonly Item<Feed>[];
  readonly settings: Resolved;
  readonly troubles: readonly KitTrouble[];
}

/** The chosen item first, the others in their order, built-in ones where none was added; a choice that is not there is reported. */
function chosenFirst<T extends Named>(kind: Kind<T>, home: ConfigHome, settings: Resolved): ItemsRead<T> {
  const what = kind.word;
  const read = readFolder(kind, home);
  const { items } = read.items.length === 0 && kind.plain ? itemIn(kind, kind.plain, null) : read;
  const name = settings.values[what];
  const chosen = items.find(({ facts }) => sameName(facts.name, name));
  if (chosen) return { items: [chosen, ...items.filter((item) => item !== chosen)], troubles: read.troubles };
  if (name === '') return { items, troubles: read.troubles };
  const names = items.map(({ facts }) => facts.name);
  const missing: KitTrouble = { kind: 'not-in-kit', where: settings.from[what], what, name, names };
  return { items, troubles: [...read.troubles, missing] };
}

/** The facts of a caliper and a feed that a job keeps; the others tell how to read their lines. */
const caliperFacts = ({ unit: _, ...facts }: Caliper): CaliperFacts => facts;
const kitFeed = ({ deeper: _, ...facts }: Feed): KitFeed => facts;

/** The whole kit, from a home's files, the environment and the flags. Never fails: what is wrong is among the troubles. */
export function readKit(home: ConfigHome, given: Parameters<typeof readSettings>[1]): KitRead {
  const settings = readSettings(home, given);
  const calipers = chosenFirst(caliperKind, home, settings);
  const cutters = chosenFirst(cutterKind, home, settings);
  const feeds = chosenFirst(feedKind, home, settings);
  const { unit, runningFrom, looseFrom, wanted, tolerance, leastPeaks, tilt } = settings.values;
  return {
    kit: {
      calipers: calipers.items.map(({ facts }) => caliperFacts(facts)),
      cutters: cutters.items.map(({ facts }) => facts),
      feeds: feeds.items.map(({ facts }) => kitFeed(facts)),
      unit,
      bounds: { runningFrom, looseFrom },
      wanted,
      measuring: { tolerance, leastTops: leastPeaks, tilt },
    },
    calipers: calipers.items,
    cutters: cutters.items,
    feeds: feeds.items,
    settings,
    troubles: [settings, calipers, cutters, feeds].flatMap(({ troubles }) => troubles),
  };
}

/** Every item, chosen ones first within their kind. */
export const itemsOf = ({ calipers, cutters, feeds }: KitRead): readonly AnyItem[] => [
  ...calipers,
  ...cutters,
  ...feeds,
];

/** A file name for `name` that none of `taken` has; a name without any plain letter or digit becomes `item`. */
export function freeFileName(name: string, taken: readonly string[]): string {
  const slug = plainName(name) || 'item';
  for (let number = 1; ; number += 1) {
    const file = number === 1 ? `${slug}.toml` : `${slug}-${number}.toml`;
    if (!taken.includes(file)) return file;
  }
}

/** What a file of this kind would say, or why it would not be accepted. */
function judged(word: KindWord, path: string, text: string): Edited {
  const read = tableIn(text, path);
  if ('trouble' in read) return { ok: false, troubles: [read.trouble] };
  const { value, troubles } = fromTable(KINDS[word], read.found, path);
  return value ? { ok: true, path, text } : { ok: false, troubles };
}

/** The file of a new item under a file name that is free. Writes nothing. */
export function addedItem(home: ConfigHome, word: KindWord, name: string, typed: FactTexts): Edited {
  const folder = kitFolder(home, word);
  const taken = tomlFilesIn(folder);
  if ('trouble' in taken) return { ok: false, troubles: [taken.trouble] };
  const path = join(folder, freeFileName(name, taken.found ?? []));
  return judged(word, path, newItemFile(KINDS[word], name, typed));
}

/**
 * The item's file with facts changed; an empty text takes a fact out. Its comments stay. What is there
 * by default has no file yet, and gets one. Writes nothing.
 */
export function changedItem(home: ConfigHome, item: Item<Named>, typed: FactTexts): Edited {
  if (item.file === null) {
    const whole = Object.entries({ ...item.texts, ...typed }).filter(([, text]) => text !== '');
    return addedItem(home, item.kind, item.facts.name, Object.fromEntries(whole));
  }
  const read = textOfFile(item.file);
  if ('trouble' in read) return { ok: false, troubles: [read.trouble] };
  let text: string | undefined = read.found ?? '';
  for (const { key, of } of factsOf(KINDS[item.kind])) {
    const { [key]: word } = typed;
    if (word !== undefined) text &&= withKey(text, key, word === '' ? undefined : asWritten(of, word));
  }
  return text ? judged(item.kind, item.file, text) : editedFile(item.file, undefined);
}

/** Removes an item from the kit: its file is renamed, so that it isn't read but can be brought back. Gives the new path. */
export function removeItem(item: { readonly file: string }): string {
  const stem = `${item.file}.removed`;
  let aside = stem;
  for (let number = 2; existsSync(aside); number += 1) aside = `${stem}-${number}`;
  renameSync(item.file, aside);
  return aside;
}
