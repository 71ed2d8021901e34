// Reads TOML 1.0, and changes one key of a text without touching any other character: the one file that knows the library.
import { isDeepStrictEqual } from 'node:util';
import { parse, stringify, TomlError } from 'smol-toml';

/** What a key of ours may hold. */
export type TomlValue = string | number | readonly string[];

type TomlRead =
  | { readonly ok: true; readonly table: Readonly<Record<string, unknown>> }
  | { readonly ok: false; readonly line: number; readonly column: number; readonly why: string };

/** The top table of a text, or where and why it isn't TOML; lines and columns count from 1. */
export function readToml(text: string): TomlRead {
  try {
    return { ok: true, table: parse(text) };
  } catch (error) {
    if (!(error instanceof TomlError)) throw error;
    const why = (error.message.split('\n')[0] ?? '').replace(/^Invalid TOML document: /, '');
    return { ok: false, line: error.line, column: error.column, why };
  }
}

/** `key = value` on one line, escaped as TOML asks. */
export const tomlLine = (key: string, value: TomlValue): string => stringify({ [key]: value }).trimEnd();

/** First and last line of a key's value. */
interface Span {
  readonly from: number;
  readonly to: number;
}

const holdsOnly = (text: string, key: string): boolean => {
  const read = readToml(text);
  return read.ok && isDeepStrictEqual(Object.keys(read.table), [key]);
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
  const [old, made] = [readToml(before), readToml(after)];
  if (!old.ok || !made.ok) return undefined;
  const { [key]: _, ...rest } = old.table;
  const wanted = value === undefined ? rest : { ...rest, [key]: value };
  return isDeepStrictEqual({ ...made.table }, wanted) ? after : undefined;
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
