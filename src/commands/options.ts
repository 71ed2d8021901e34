// Reads a command's typed options and collects what is wrong with them, so that everything is said at once.
import { notAccepted, type Parsed, refusal } from '../core/quantity.ts';
import type { LengthUnit } from '../core/units.ts';
import type { ExitCode, Output, Typed } from './command.ts';

type Parse<T> = (text: string) => Parsed<T>;

export interface OptionReader {
  /** The option's value; undefined, without an error, where it was not typed. */
  optional<T>(flag: string, parse: Parse<T>): T | undefined;
  /** The option's value; an error that names `example` where it was not typed. */
  required<T>(flag: string, parse: Parse<T>, example: string): T | undefined;
  /** Every value of an option that takes several; undefined where it was not typed. */
  list<T>(flag: string, parse: Parse<T>): readonly T[] | undefined;
  isTyped(flag: string): boolean;
  addError(sentence: string): void;
  readonly errors: readonly string[];
}

const camel = (flag: string): string =>
  flag.replace(/^--/, '').replace(/-([a-z])/g, (_, letter: string) => letter.toUpperCase());

/** A reader of what was typed; flags are given as they are typed, `--made-mc`. */
export function readOptions(typed: Typed): OptionReader {
  const errors: string[] = [];
  const typedFor = (flag: string) => typed.options[camel(flag)];
  const read = <T>(flag: string, text: string, parse: Parse<T>): T | undefined => {
    const parsed = parse(text);
    if (parsed.ok) return parsed.value;
    errors.push(refusal(flag, parsed));
    return undefined;
  };
  const optional = <T>(flag: string, parse: Parse<T>): T | undefined => {
    const text = typedFor(flag);
    return typeof text === 'string' ? read(flag, text, parse) : undefined;
  };
  return {
    optional,
    required: (flag, parse, example) => {
      if (typedFor(flag) === undefined) errors.push(`${flag} is missing. Give ${example}.`);
      return optional(flag, parse);
    },
    list: (flag, parse) => {
      const texts = typedFor(flag);
      if (!Array.isArray(texts)) return undefined;
      return texts.flatMap((text) => read(flag, String(text), parse) ?? []);
    },
    isTyped: (flag) => typedFor(flag) !== undefined,
    addError: (sentence) => errors.push(sentence),
    errors,
  };
}

/** The unit that a length was typed in: answers for people come in it. */
export function unitTyped(typed: Typed, flag: string): LengthUnit {
  const text = typed.options[camel(flag)];
  return typeof text === 'string' && /in|"/i.test(text) ? 'in' : 'mm';
}

/** A decimal number without a unit, above zero and up to `most`. */
export const parseNumber =
  (most: number, accepted: string): Parse<number> =>
  (text) => {
    const value = /^(?:\d+(?:\.\d*)?|\.\d+)$/.test(text.trim()) ? Number(text) : Number.NaN;
    return value > 0 && value <= most ? { ok: true, value } : notAccepted(text, accepted);
  };

/** Wrong use: every error on its own line, then where help is. */
export function wrongUse(command: string, errors: readonly string[], output: Output): ExitCode {
  for (const sentence of errors) output.message(sentence);
  output.message(
    `Nothing was worked out. \`lidwright ${command} --help\` shows what is accepted, with an example.`,
  );
  return 2;
}
