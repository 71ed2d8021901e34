// Reads TOML 1.0 and writes single keys of it: the one file that knows the library.
import { parse, stringify, TomlError } from 'smol-toml';

/** What a key of ours may hold. */
export type TomlValue = string | number | readonly string[];

export type TomlRead =
  | { readonly ok: true; readonly table: Readonly<Record<string, unknown>> }
  | { readonly ok: false; readonly line: number; readonly column: number; readonly why: string };

/** The top table of a text, or where and why it is no TOML; lines and columns count from 1. */
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

/** A text as a file writes it: as a number where it is one and is asked to be, else in quotes. */
export const scalarOf = (asNumber: boolean | undefined, text: string): string | number =>
  asNumber && /^\d+$/.test(text.trim()) ? Number(text) : text.trim();
