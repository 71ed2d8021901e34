// The kit's files, one item a file: read from their folders, and what is written when one is added, changed or removed.
import { existsSync, readdirSync, readFileSync, renameSync } from 'node:fs';
import { join } from 'node:path';
import { plainName } from '../core/safe-text.ts';
import {
  type FactTexts,
  factsOf,
  fromTable,
  KINDS,
  type Kind,
  type KindWord,
  type Named,
  newItemFile,
  textsIn,
} from './equipment.ts';
import { asWritten } from './quantities.ts';
import { readToml, withKey } from './toml.ts';
import type { KitTrouble } from './trouble.ts';

/** Where the turner's own files lie: `config` of the bench's folders. */
export interface ConfigHome {
  readonly config: string;
}

/** A file's new text, or why it can't be written. */
export type Edited =
  | { readonly ok: true; readonly path: string; readonly text: string }
  | { readonly ok: false; readonly troubles: readonly KitTrouble[] };

/** The file with its new text; without one, since the edit would have touched more, it is to stay as it is. */
export function editedFile(path: string, text: string | undefined): Edited {
  if (text !== undefined) return { ok: true, path, text };
  const why = "this can't be changed without touching more of the file, so edit it by hand";
  const kept = 'the file is unchanged';
  return { ok: false, troubles: [{ kind: 'crossed', where: path, why, kept }] };
}

export const kitFolder = (home: ConfigHome): string => join(home.config, 'kit');

/** A piece of equipment with the file that says so. */
export interface Item<T> {
  readonly kind: KindWord;
  readonly facts: T;
  /** The same in the file's own words, by key. */
  readonly texts: FactTexts;
  /** Null for a built-in item. */
  readonly file: string | null;
}

export interface FolderRead<T> {
  readonly items: readonly Item<T>[];
  readonly troubles: readonly KitTrouble[];
}

const codeOf = (error: unknown): string =>
  error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : String(error);

/** The text of a file; null where it does not exist; trouble where it cannot be read. */
export function textOfFile(
  path: string,
): { readonly text: string | null } | { readonly trouble: KitTrouble } {
  try {
    return { text: readFileSync(path, 'utf8') };
  } catch (error) {
    const code = codeOf(error);
    return code === 'ENOENT' ? { text: null } : { trouble: { kind: 'unreadable', where: path, why: code } };
  }
}

/** File names of a folder that end in .toml, in order; none where the folder is not there. */
function tomlFilesIn(folder: string): readonly string[] | KitTrouble {
  try {
    return readdirSync(folder)
      .filter((name) => name.endsWith('.toml') && !name.startsWith('.'))
      .sort();
  } catch (error) {
    const code = codeOf(error);
    return code === 'ENOENT' ? [] : { kind: 'unreadable', where: folder, why: code };
  }
}

type TableRead =
  | { readonly table: Readonly<Record<string, unknown>> | undefined }
  | { readonly trouble: KitTrouble };

function tableIn(path: string, text: string): TableRead {
  const toml = readToml(text);
  if (toml.ok) return { table: toml.table };
  const { line, column, why } = toml;
  return { trouble: { kind: 'not-toml', where: path, line, column, why } };
}

/** The top table of a TOML file; undefined where the file does not exist. */
export function tableOf(path: string): TableRead {
  const read = textOfFile(path);
  if ('trouble' in read) return read;
  return read.text === null ? { table: undefined } : tableIn(path, read.text);
}

/** What is found in a file of this kind; undefined where the file does not exist. */
function itemOf<T extends Named>(kind: Kind<T>, path: string): FolderRead<T> {
  const read = tableOf(path);
  if ('trouble' in read) return { items: [], troubles: [read.trouble] };
  if (!read.table) return { items: [], troubles: [] };
  const found = fromTable(kind, read.table, path);
  const item = found.ok && {
    kind: kind.word,
    facts: found.value,
    texts: textsIn(kind, read.table),
    file: path,
  };
  return { items: item ? [item] : [], troubles: found.troubles };
}

/** Every item of a kind under `folder` (that of the kit); a name that comes again is reported and ignored. */
export function readFolder<T extends Named>(kind: Kind<T>, folder: string): FolderRead<T> {
  const own = join(folder, kind.folder);
  const files = tomlFilesIn(own);
  if ('kind' in files) return { items: [], troubles: [files] };
  const items: Item<T>[] = [];
  const troubles: KitTrouble[] = [];
  for (const where of files.map((file) => join(own, file))) {
    const read = itemOf(kind, where);
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

/** The built-in items of a kind, used until one is added. */
export function plainItems<T extends Named>(kind: Kind<T>): readonly Item<T>[] {
  if (!kind.plain) return [];
  const found = fromTable(kind, kind.plain, 'built in');
  if (!found.ok) throw new TypeError(`the plain ${kind.word} is not one`);
  return [{ kind: kind.word, facts: found.value, texts: textsIn(kind, kind.plain), file: null }];
}

/** A file name for `name` that none of `taken` has; a name without any plain letter or digit becomes `item`. */
export function freeFileName(name: string, taken: readonly string[]): string {
  const slug = plainName(name) || 'item';
  for (let number = 1; ; number += 1) {
    const file = number === 1 ? `${slug}.toml` : `${slug}-${number}.toml`;
    if (!taken.includes(file)) return file;
  }
}

/** Two names that a person would read as the same. */
export const sameName = (a: string, b: string): boolean =>
  a.normalize('NFC').trim().toLowerCase() === b.normalize('NFC').trim().toLowerCase();

/** What a file of this kind would say, or why it would not be accepted. */
function judged(word: KindWord, path: string, text: string): Edited {
  const read = tableIn(path, text);
  if ('trouble' in read) return { ok: false, troubles: [read.trouble] };
  const found = fromTable(KINDS[word], read.table ?? {}, path);
  return found.ok ? { ok: true, path, text } : found;
}

/** The file of a new item under a file name that is free. Writes nothing. */
export function addedItem(home: ConfigHome, word: KindWord, name: string, typed: FactTexts): Edited {
  const kind = KINDS[word];
  const folder = join(kitFolder(home), kind.folder);
  const taken = tomlFilesIn(folder);
  if ('kind' in taken) return { ok: false, troubles: [taken] };
  return judged(word, join(folder, freeFileName(name, taken)), newItemFile(kind, name, typed));
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
  let text: string | undefined = read.text ?? '';
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
