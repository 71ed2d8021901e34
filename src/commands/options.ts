// A command's options as a table of quantities (it makes the help and reads what was typed), and the settings that count beside them.
import { type Parsed, refusal } from '../core/quantity.ts';
import { forScreen } from '../core/safe-text.ts';
import type { Length, LengthUnit } from '../core/units.ts';
import { dashed, type Quantity, type ValueOf } from '../kit/quantities.ts';
import { type Resolved, readSettings } from '../kit/setting-sources.ts';
import { flagOf, SETTINGS, type SettingKey, variableOf } from '../kit/settings.ts';
import { type KitTrouble, kitTroubleText } from '../kit/trouble.ts';
import { homeOf } from '../records/home.ts';
import type { OptionSpec, Typed } from './command.ts';

interface OptionAsked<T> {
  readonly of: Quantity<T>;
  readonly about: string;
  /** Set where the command can't do without: what to give, with an example. */
  readonly needed?: string;
}

/** Options that take a value, by camel-cased name: `boreDoubt` is `--bore-doubt`. */
export type Asks = { readonly [key: string]: OptionAsked<unknown> };

export type AnswersTo<A extends Asks> = {
  readonly [K in keyof A]: A[K] extends { readonly needed: string }
    ? ValueOf<A[K]['of']>
    : ValueOf<A[K]['of']> | undefined;
};

export const option = <T>(of: Quantity<T>, about: string) => ({ of, about });
export const neededOption = <T>(of: Quantity<T>, about: string, needed: string) => ({ of, about, needed });

const specOf = (key: string, { placeholder, choices }: Quantity<unknown>, about: string): OptionSpec => ({
  flags: `${flagOf(key)} <${placeholder}>`,
  about,
  ...(choices && { offers: choices }),
});

export const askOptions = (asks: Asks): readonly OptionSpec[] =>
  Object.entries(asks).map(([key, { of, about }]) => specOf(key, of, about));

/** Options for settings, each with what counts where nothing is said. */
export const settingOptions = (keys: readonly SettingKey[]): readonly OptionSpec[] =>
  keys.map((key) => {
    const { of, about, fallback } = SETTINGS[key];
    return specOf(key, of, fallback === '' ? about : `${about} (${fallback})`);
  });

export const JSON_OPTION: OptionSpec = { flags: '--json', about: 'print JSON, lengths in mm' };

export const JSON_LINES: OptionSpec = { flags: '--json', about: 'print one JSON object a line' };

export interface OptionReader {
  /** Every value of the table that was typed and is sound; the errors hold the rest. */
  read<A extends Asks>(asks: A): Partial<AnswersTo<A>>;
  /** One value; undefined where it wasn't typed, or is among the errors. */
  one<T>(key: string, of: Quantity<T>): T | undefined;
  /** Every value of an option that takes several; undefined where it wasn't typed. */
  list<T>(key: string, of: Quantity<T>): readonly T[] | undefined;
  /** True where nothing is wrong: then all that is needed is there. */
  isWhole<T extends object>(asked: Partial<T>): asked is T;
  isTyped(key: string): boolean;
  /** AnswersTo nothing, so that a reader can end with it. */
  addError(sentence: string): undefined;
  readonly errors: readonly string[];
}

export function readOptions({ options }: Typed): OptionReader {
  const errors: string[] = [];
  const read = <T>(key: string, text: string, of: Quantity<T>): T | undefined => {
    const parsed: Parsed<T> = of.parse(text);
    if (parsed.ok) return parsed.value;
    errors.push(refusal(flagOf(key), parsed));
    return undefined;
  };
  const one = <T>(key: string, of: Quantity<T>, needed?: string): T | undefined => {
    const { [key]: text } = options;
    if (needed !== undefined && text === undefined) errors.push(`${flagOf(key)} is missing. Give ${needed}.`);
    return typeof text === 'string' ? read(key, text, of) : undefined;
  };
  return {
    read: <A extends Asks>(asks: A) => {
      const found = Object.entries(asks).map(([key, { of, needed }]) => [key, one(key, of, needed)]);
      return Object.fromEntries(found) as Partial<AnswersTo<A>>;
    },
    one,
    list: (key, of) => {
      const { [key]: texts } = options;
      return Array.isArray(texts) ? texts.flatMap((text) => read(key, String(text), of) ?? []) : undefined;
    },
    isWhole: <T extends object>(_: Partial<T>): _ is T => errors.length === 0,
    isTyped: (key) => options[key] !== undefined,
    addError: (sentence) => {
      errors.push(sentence);
      return undefined;
    },
    errors,
  };
}

/** The unit that a length was typed in: answers for people come in it. */
export function unitTyped({ options }: Typed, key: string): LengthUnit {
  const { [key]: text } = options;
  return typeof text === 'string' && /in|"/i.test(text) ? 'in' : 'mm';
}

export interface CommandSettings extends Resolved {
  /** What is wrong with these settings; a command with any error doesn't run. */
  readonly errors: readonly string[];
}

/** The typed flags that are settings of a command. */
export const flagsAmong = ({ options }: Typed, keys: readonly SettingKey[]): Typed['options'] =>
  Object.fromEntries(keys.map((key) => [key, options[key]]));

/** Only the typed `keys` are settings here; trouble with any other setting does not concern this command. */
export function commandSettings(typed: Typed, keys: readonly SettingKey[]): CommandSettings {
  const resolved = readSettings(homeOf(process.env), { flags: flagsAmong(typed, keys), env: process.env });
  const own = new Set(keys.flatMap((key) => [flagOf(key), variableOf(key), dashed(key)]));
  const isOwn = (trouble: KitTrouble): boolean =>
    trouble.kind === 'crossed'
      ? keys.includes('runningFrom')
      : trouble.kind === 'bad-value' && own.has(trouble.key);
  return { ...resolved, errors: resolved.troubles.filter(isOwn).map(kitTroubleText) };
}

/** For commands that read their other flags themselves: the values of `keys` by `--unit`, the environment and the settings file. */
export function settingsBeside(
  options: OptionReader,
  typed: Typed,
  keys: readonly SettingKey[],
): CommandSettings {
  const settings = commandSettings({ args: [], options: flagsAmong(typed, ['unit']) }, keys);
  for (const error of settings.errors) options.addError(error);
  return settings;
}

/** The unit for people: as set, else what a length was typed in. */
export const unitFor = ({ values, from }: CommandSettings, typedIn: LengthUnit): LengthUnit =>
  from.unit === 'default' ? typedIn : values.unit;

/** `--clearance`, or else the clearance that is set; one that this question cannot have is an error that says where it is set. */
export function clearanceFor(
  options: OptionReader,
  { values, from, texts }: CommandSettings,
  of: Quantity<Length>,
): Length {
  if (options.isTyped('clearance')) return options.one('clearance', of) ?? values.wanted;
  const parsed = of.parse(texts.wanted);
  if (parsed.ok) return parsed.value;
  options.addError(
    `wanted, set in the ${from.wanted}: "${forScreen(texts.wanted)}" isn't accepted here. Give --clearance: ${parsed.accepted}.`,
  );
  return values.wanted;
}
