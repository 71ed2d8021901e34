// TOML 1.0 files: read, listed, and one key changed without touching any other character. The one file that knows the library.
import { readdirSync, readFileSync } from 'node:fs';
import { isDeepStrictEqual } from 'node:util';
import { parse, stringify, TomlError } from 'smol-toml';
import type { KitTrouble } from './trouble.ts';

/** What a key of ours may hold. */
export type TomlValue = string | number | readonly string[];
export type TomlTable = Readonly<Record<string, unknown>>;

/** What was read, or why it can't be; undefined where the file or folder does not exist. */
type Read<T> = { readonly found: T | undefined } | { readonly trouble: KitTrouble };

function reading<T>(where: string, read: () => T): Read<T> {
  try {
    return { found: read() };
  } catch (error) {
    const why = error instanceof Error && 'code' in error ? String(error.code) : String(error);
    return why === 'ENOENT' ? { found: undefined } : { trouble: { kind: 'unreadable', where, why } };
  }
}

export const textOfFile = (path: string): Read<string> => reading(path, () => readFileSync(path, 'utf8'));

/** File names of a folder that end in .toml, in order. */
export const tomlFilesIn = (folder: string): Read<readonly string[]> =>
  reading(folder, () =>
    readdirSync(folder)
      .filter((name) => name.endsWith('.toml') && !name.startsWith('.'))
      .sort(),
  );

/** The top table of a text, or where and why it isn't TOML; lines and columns count from 1. */
export function tableIn(
  text: string,
  where = '',
): { readonly found: TomlTable } | { readonly trouble: KitTrouble } {
  try {
    return { found: parse(text) };
  } catch (error) {
    if (!(error instanceof TomlError)) throw error;
    const { line, column } = error;
    const why = (error.message.split('\n')[0] ?? '').replace(/^Invalid TOML document: /, '');
    return { trouble: { kind: 'not-toml', where, line, column, why } };
  }
}

/** The top table of a file. */
export function tableOf(path: string): Read<TomlTable> {
  const read = textOfFile(path);
  if ('trouble' in read) return read;
  return read.found === undefined ? { found: undefined } : tableIn(read.found, path);
}

/** `key = value` on one line, escaped as TOML asks. */
export const tomlLine = (key: string, value: TomlValue): string => stringify({ [key]: value }).trimEnd();

/** First and last line of a key's value. */
interface Span {
  readonly from: number;
  readonly to: number;
}

const holdsOnly = (text: string, key: string): boolean => {
  const read = tableIn(text);
  return 'found' in read && isDeepStrictEqual(Object.keys(read.found), [key]);
};

const startsKey = (key: string): RegExp => new RegExp(`^\\s*(?:${key}|"${key}"|'${key}')\\s*=`);
const TABLE = /^\s*\[/;

function spanOf(lines: readonly string[], key: string): Span | undefined {
  const from = lines.findIndex((line) => startsKey(key).test(line));
  if (from < 0) return undefined;
  const to = lines.findIndex(
    (_, at) => at >= from && holdsOnly(`${lines.slice(from, at + 1).join('\n')}\n`, key),
  );
  return to < 0 ? undefined : { from, to };
}

/** The comment that ends a line, with the spaces before it; empty without one. */
function commentOf(line: string, key: string): string {
  for (let at = line.indexOf('#'); at >= 0; at = line.indexOf('#', at + 1))
    if (holdsOnly(line.slice(0, at), key))
      return (/\s*$/.exec(line.slice(0, at))?.[0] ?? '') + line.slice(at);
  return '';
}

/** Where a new key goes: under its own commented-out line, else before the first table, else at the end. */
function placeFor(lines: readonly string[], key: string): number {
  const quiet = new RegExp(`^\\s*#\\s*${key}\\s*=`);
  const shown = lines.findLastIndex((line) => quiet.test(line));
  if (shown >= 0) return shown + 1;
  const table = lines.findIndex((line) => TABLE.test(line));
  if (table >= 0) return table;
  return lines.at(-1) === '' ? lines.length - 1 : lines.length;
}

/** The text, if it is the old one with this key changed and nothing else. */
function checked(
  before: string,
  after: string,
  key: string,
  value: TomlValue | undefined,
): string | undefined {
  const [old, made] = [tableIn(before), tableIn(after)];
  if ('trouble' in old || 'trouble' in made) return undefined;
  const { [key]: _, ...rest } = old.found;
  const wanted = value === undefined ? rest : { ...rest, [key]: value };
  return isDeepStrictEqual({ ...made.found }, wanted) ? after : undefined;
}

/**
 * `text` with the top-level `key` set to `value`, or taken away when `value` is undefined; comments stay.
 * Undefined when that cannot be done without touching anything else, or the text isn't TOML: then write nothing.
 * `key` is one of ours: lower-case letters and hyphens.
 */
export function withKey(text: string, key: string, value: TomlValue | undefined): string | undefined {
  const lines = text.split('\n');
  const end = lines[0]?.endsWith('\r') ? '\r' : '';
  const span = spanOf(lines, key);
  const last = span && lines[span.to]?.replace(/\r$/, '');
  const comment = span && span.from === span.to && last !== undefined ? commentOf(last, key) : '';
  const made = value === undefined ? comment.trim() : tomlLine(key, value) + comment;
  const at = span?.from ?? placeFor(lines, key);
  lines.splice(at, span ? span.to - span.from + 1 : 0, ...(made === '' ? [] : [made + end]));
  return checked(text, lines.join('\n'), key, value);
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
