// Reads the files of one kind of equipment from its folder, one item a file, by the order of their names.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type FactTexts, fromTable, type Kind, type KindWord, textsIn } from './kind.ts';
import { sameName } from './names.ts';
import { readToml } from './toml.ts';
import type { KitTrouble } from './trouble.ts';

/** A piece of equipment as it stands in its file. */
export interface Item<T> {
  readonly kind: KindWord;
  readonly facts: T;
  /** The same in the file's own words, by key. */
  readonly texts: FactTexts;
  /** Null for what is taken while nothing of its kind was added. */
  readonly file: string | null;
}

export interface FolderRead<T> {
  readonly items: readonly Item<T>[];
  readonly troubles: readonly KitTrouble[];
}

const codeOf = (error: unknown): string =>
  error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : String(error);

/** The text of a file; null where there is none; trouble where it cannot be read. */
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
export function tomlFilesIn(folder: string): readonly string[] | KitTrouble {
  try {
    return readdirSync(folder)
      .filter((name) => name.endsWith('.toml') && !name.startsWith('.'))
      .sort();
  } catch (error) {
    const code = codeOf(error);
    return code === 'ENOENT' ? [] : { kind: 'unreadable', where: folder, why: code };
  }
}

/** The top table of a TOML file; undefined where there is no file. */
export function tableOf(
  path: string,
): { readonly table: Readonly<Record<string, unknown>> | undefined } | { readonly trouble: KitTrouble } {
  const read = textOfFile(path);
  if ('trouble' in read) return read;
  if (read.text === null) return { table: undefined };
  const toml = readToml(read.text);
  if (toml.ok) return { table: toml.table };
  const { line, column, why } = toml;
  return { trouble: { kind: 'not-toml', where: path, line, column, why } };
}

function itemOf<T>(kind: Kind<T>, path: string): FolderRead<T> {
  const read = tableOf(path);
  if ('trouble' in read) return { items: [], troubles: [read.trouble] };
  if (!read.table) return { items: [], troubles: [] };
  const found = fromTable(kind, read.table, path);
  const items = found.ok
    ? [{ kind: kind.word, facts: found.value, texts: textsIn(kind, read.table), file: path }]
    : [];
  return { items, troubles: found.troubles };
}

/** Every item of a kind under `folder` (that of the kit); a name met again is told and passed over. */
export function readFolder<T extends { readonly name: string }>(
  kind: Kind<T>,
  folder: string,
): FolderRead<T> {
  const own = join(folder, kind.folder);
  const files = tomlFilesIn(own);
  if ('kind' in files) return { items: [], troubles: [files] };
  return files
    .map((file) => itemOf(kind, join(own, file)))
    .reduce<FolderRead<T>>(merged, { items: [], troubles: [] });
}

function merged<T extends { readonly name: string }>(so: FolderRead<T>, next: FolderRead<T>): FolderRead<T> {
  const [item] = next.items;
  const before = item && so.items.find(({ facts }) => sameName(facts.name, item.facts.name));
  if (!item?.file || !before?.file)
    return { items: [...so.items, ...next.items], troubles: [...so.troubles, ...next.troubles] };
  const twice: KitTrouble = {
    kind: 'same-name',
    where: item.file,
    other: before.file,
    name: item.facts.name,
  };
  return { items: so.items, troubles: [...so.troubles, ...next.troubles, twice] };
}

/** What is taken while nothing of a kind was added. */
export function plainItems<T>(kind: Kind<T>): readonly Item<T>[] {
  if (!kind.plain) return [];
  const found = fromTable(kind, kind.plain, 'built in');
  if (!found.ok) throw new TypeError(`the plain ${kind.word} is not one`);
  return [{ kind: kind.word, facts: found.value, texts: textsIn(kind, kind.plain), file: null }];
}
