// What every kind of equipment has in common: a folder, facts, a check, and how a file of it reads and is written.
import * as v from 'valibot';
import { forScreen } from '../core/safe-text.ts';
import { scalarOf, type TomlValue, tomlLine } from './toml.ts';
import type { KitTrouble } from './trouble.ts';
import { type Fact, textOf } from './value.ts';

export type KindWord = 'caliper' | 'cutter' | 'feed';

export interface Kind<T> {
  readonly word: KindWord;
  readonly folder: string;
  readonly about: string;
  /** By key of the file, in the order a new file has them; the name stands before them. */
  readonly facts: Readonly<Record<string, Fact>>;
  /** The name and facts of what is taken while none was added; null where there is no such thing. */
  readonly plain: { readonly name: string; readonly [key: string]: string } | null;
  readonly schema: v.GenericSchema<unknown, T>;
}

/** Facts as texts, by key of the file: as typed, or as the file says them. */
export type FactTexts = Readonly<Record<string, string>>;

/** A table's facts in its own words; the name is left out. */
export const textsIn = <T>(kind: Kind<T>, table: Readonly<Record<string, unknown>>): FactTexts =>
  Object.fromEntries(
    Object.keys(kind.facts).flatMap((key) => {
      const value = table[key];
      const text = Array.isArray(value) ? value.map((each) => textOf(each) ?? '').join(', ') : textOf(value);
      return text === undefined ? [] : [[key, text]];
    }),
  );

export type Found<T> =
  | { readonly ok: true; readonly value: T; readonly troubles: readonly KitTrouble[] }
  | { readonly ok: false; readonly troubles: readonly KitTrouble[] };

const keyOf = (issue: v.BaseIssue<unknown>): string => String(issue.path?.[0]?.key ?? '');
const shownValue = (value: unknown): string =>
  value === undefined ? 'nothing' : forScreen(JSON.stringify(value) ?? '?');

/** The value of a table of this kind; one wrong value leaves the whole item out, an unknown key is told and passed over. */
export function fromTable<T>(
  kind: Kind<T>,
  table: Readonly<Record<string, unknown>>,
  where: string,
): Found<T> {
  const known = ['name', ...Object.keys(kind.facts)];
  const unknown = Object.keys(table)
    .filter((key) => !known.includes(key))
    .map((key): KitTrouble => ({ kind: 'unknown-key', where, key, accepted: known }));
  const result = v.safeParse(kind.schema, table);
  if (result.success) return { ok: true, value: result.output, troubles: unknown };
  const bad = result.issues.map((issue): KitTrouble => {
    const key = keyOf(issue);
    const found = shownValue(table[key]);
    const accepted = issue.message;
    return {
      kind: 'bad-value',
      where,
      key,
      found,
      accepted,
      kept: `this ${kind.word} is left out of the kit`,
    };
  });
  return { ok: false, troubles: [...bad, ...unknown] };
}

/** What was typed for a fact, as the file writes it. */
export function tomlValueOf(fact: Fact | undefined, text: string): TomlValue {
  if (fact?.list)
    return text
      .split(',')
      .map((part) => part.trim())
      .filter((part) => part !== '');
  return scalarOf(fact?.number, text);
}

/** A new file of this kind: what was typed, each under a comment; what was not, commented out with an example. */
export function newFile<T>(kind: Kind<T>, name: string, typed: FactTexts): string {
  const facts = Object.entries(kind.facts).flatMap(([key, fact]) => {
    const text = typed[key];
    const line = tomlLine(key, tomlValueOf(fact, text ?? fact.example));
    return ['', `# ${fact.about}`, text === undefined ? `# ${line}` : line];
  });
  const head = `# ${kind.about} Copy this file into the same folder of another bench to have it there too.`;
  return [head, tomlLine('name', name), ...facts, ''].join('\n');
}
