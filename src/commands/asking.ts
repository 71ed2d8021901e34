// Reads a command's typed options and collects what is wrong with them, so that all of it is told at once.
import { type Parsed, refusal } from '../core/quantity.ts';
import type { LengthUnit } from '../core/units.ts';
import type { ExitCode, Output, Typed } from './command.ts';

type Parse<T> = (text: string) => Parsed<T>;

export interface Asking {
  /** The option's value; nothing, and no complaint, when it was not typed. */
  optional<T>(flag: string, parse: Parse<T>): T | undefined;
  /** The same, with a complaint that names `example` when it was not typed. */
  needed<T>(flag: string, parse: Parse<T>, example: string): T | undefined;
  complain(sentence: string): void;
  readonly complaints: readonly string[];
}

const camel = (flag: string): string =>
  flag.replace(/^--/, '').replace(/-([a-z])/g, (_, letter: string) => letter.toUpperCase());

/** An asker over what was typed; flags are given as they are typed, `--made-mc`. */
export function askOf(typed: Typed): Asking {
  const complaints: string[] = [];
  const optional = <T>(flag: string, parse: Parse<T>): T | undefined => {
    const text = typed.options[camel(flag)];
    if (typeof text !== 'string') return undefined;
    const parsed = parse(text);
    if (parsed.ok) return parsed.value;
    complaints.push(refusal(flag, parsed));
    return undefined;
  };
  return {
    optional,
    needed: (flag, parse, example) => {
      if (typed.options[camel(flag)] === undefined) complaints.push(`${flag}: missing; give ${example}.`);
      return optional(flag, parse);
    },
    complain: (sentence) => complaints.push(sentence),
    complaints,
  };
}

/** The unit that a length was typed in: answers for people come in it. */
export function unitTyped(typed: Typed, flag: string): LengthUnit {
  const text = typed.options[camel(flag)];
  return typeof text === 'string' && /in|"/i.test(text) ? 'in' : 'mm';
}

/** One of a few words, such as `lid` or `body`. */
export const parseWord =
  <const T extends string>(words: readonly T[]): Parse<T> =>
  (text) => {
    const value = words.find((word) => word === text.trim().toLowerCase());
    const accepted = `${words.slice(0, -1).join(', ')} or ${words.at(-1)}`;
    return value ? { ok: true, value } : { ok: false, kind: 'bad-quantity', found: text, accepted };
  };

/** Wrong use: every complaint on its own line, then where help is. */
export function wrongUse(command: string, complaints: readonly string[], output: Output): ExitCode {
  for (const sentence of complaints) output.message(sentence);
  output.message(
    `Nothing was computed. \`lidwright ${command} --help\` shows what is accepted, with an example.`,
  );
  return 2;
}
