// A command's options as a table of quantities (it makes the help and reads what was typed), and the settings that count beside them.
import { refusal } from '../core/quantity.ts';
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

/** The typed flags that are settings of a command. */
export const flagsAmong = ({ options }: Typed, keys: readonly SettingKey[]): Typed['options'] =>
  Object.fromEntries(keys.map((key) => [key, options[key]]));

/** Reads what was typed, and gathers what is wrong with it, so that all of it is said at once. */
export class OptionReader {
  readonly errors: string[] = [];
  readonly #typed: Typed;

  constructor(typed: Typed) {
    this.#typed = typed;
  }

  /** Every value of the table that was typed and is sound; the errors hold the rest. */
  read<A extends Asks>(asks: A): Partial<AnswersTo<A>> {
    const found = Object.entries(asks).map(([key, { of, needed }]) => [key, this.one(key, of, needed)]);
    return Object.fromEntries(found) as Partial<AnswersTo<A>>;
  }

  /** One value; undefined where it wasn't typed, or is among the errors. */
  one<T>(key: string, of: Quantity<T>, needed?: string): T | undefined {
    const { [key]: text } = this.#typed.options;
    if (needed !== undefined && text === undefined)
      this.addError(`${flagOf(key)} is missing. Give ${needed}.`);
    return typeof text === 'string' ? this.#parsed(key, text, of) : undefined;
  }

  /** Every value of an option that takes several; undefined where it wasn't typed. */
  list<T>(key: string, of: Quantity<T>): readonly T[] | undefined {
    const { [key]: texts } = this.#typed.options;
    return Array.isArray(texts)
      ? texts.flatMap((text) => this.#parsed(key, String(text), of) ?? [])
      : undefined;
  }

  #parsed<T>(key: string, text: string, of: Quantity<T>): T | undefined {
    const parsed = of.parse(text);
    return parsed.ok ? parsed.value : this.addError(refusal(flagOf(key), parsed));
  }

  /** True where nothing is wrong: then all that is needed is there. */
  isWhole<T extends object>(_: Partial<T>): _ is T {
    return this.errors.length === 0;
  }

  isTyped(key: string): boolean {
    return this.#typed.options[key] !== undefined;
  }

  /** Answers nothing, so that a reader can end with it. */
  addError(sentence: string): undefined {
    this.errors.push(sentence);
    return undefined;
  }

  /**
   * The settings that count, by the flags among `flags`, the environment and the settings file. What is wrong with those of
   * `keys` is among the errors; trouble with any other setting does not concern this command.
   */
  settings(keys: readonly SettingKey[], flags = keys): Resolved {
    const sources = { flags: flagsAmong(this.#typed, flags), env: process.env };
    const resolved = readSettings(homeOf(process.env), sources);
    const own = new Set(keys.flatMap((key) => [flagOf(key), variableOf(key), dashed(key)]));
    const isOwn = (trouble: KitTrouble): boolean =>
      trouble.kind === 'crossed'
        ? keys.includes('runningFrom')
        : trouble.kind === 'bad-value' && own.has(trouble.key);
    this.errors.push(...resolved.troubles.filter(isOwn).map(kitTroubleText));
    return resolved;
  }

  /** The unit for people: as set, else what this length was typed in. */
  unitFor({ values, from }: Resolved, key: string): LengthUnit {
    const { [key]: text } = this.#typed.options;
    if (from.unit !== 'default') return values.unit;
    return typeof text === 'string' && /in|"/i.test(text) ? 'in' : 'mm';
  }

  /** `--clearance`, or else the clearance that is set; one that this question cannot have is an error that says where it is set. */
  clearance({ values, from, texts }: Resolved, of: Quantity<Length>): Length {
    if (this.isTyped('clearance')) return this.one('clearance', of) ?? values.wanted;
    const parsed = of.parse(texts.wanted);
    if (parsed.ok) return parsed.value;
    this.addError(
      `wanted, set in the ${from.wanted}: "${forScreen(texts.wanted)}" isn't accepted here. Give --clearance: ${parsed.accepted}.`,
    );
    return values.wanted;
  }
}
