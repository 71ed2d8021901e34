// A command's options as a table of quantities: it makes the help and reads the typed values, with every error at once.
import type { Parsed } from '../core/quantity.ts';
import { refusal } from '../core/quantity.ts';
import type { LengthUnit } from '../core/units.ts';
import type { Quantity, ValueOf } from '../kit/quantities.ts';
import { flagOf, SETTINGS, type SettingKey } from '../kit/settings.ts';
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
