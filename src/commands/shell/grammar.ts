// The command line as a tree of what may be typed where: what completions and the man page are made from.
import type { ArgumentSpec, CommandSpec, OptionSpec } from '../command.ts';

/** What a shell may offer for a value. */
export type Offer =
  | { readonly kind: 'words'; readonly words: readonly string[] }
  | { readonly kind: 'files' }
  | { readonly kind: 'folders' }
  | { readonly kind: 'nothing' };

export interface Flag {
  /** `--bore`, and before it `-b` where there is one. */
  readonly names: readonly string[];
  /** The value's name, `length`; none for a switch. */
  readonly value: { readonly name: string; readonly offer: Offer; readonly many: boolean } | null;
  readonly about: string;
}

export interface Positional {
  readonly name: string;
  readonly about: string;
  readonly offer: Offer;
  readonly needed: boolean;
  readonly many: boolean;
}

export interface Place {
  /** The words that lead here: none for the program itself, then `['kit', 'add']`. */
  readonly path: readonly string[];
  readonly summary: string;
  readonly flags: readonly Flag[];
  readonly positionals: readonly Positional[];
  readonly subs: readonly Place[];
}

const HELP: Flag = { names: ['-h', '--help'], value: null, about: 'what it does, with a worked example' };
const VERSION: Flag = { names: ['-V', '--version'], value: null, about: 'which version this is' };

function offerOf(name: string, choices: readonly string[] | undefined): Offer {
  if (choices) return { kind: 'words', words: choices };
  if (name === 'file' || name === 'path') return { kind: 'files' };
  return { kind: name === 'folder' ? 'folders' : 'nothing' };
}

/** The parts of `-o, --out <file...>` (the form of commander's options). */
export function flagOf({ flags, about, choices }: OptionSpec): Flag {
  const [, value] = /[<[]([^>\]]+)[>\]]/.exec(flags) ?? [];
  const names = flags
    .replace(/[<[].*$/, '')
    .split(/[ ,|]+/)
    .filter((name) => name !== '');
  if (value === undefined) return { names, value: null, about };
  const name = value.replace(/\.\.\.$/, '');
  return { names, value: { name, offer: offerOf(name, choices), many: value.endsWith('...') }, about };
}

function positionalOf({ name: shape, about, choices }: ArgumentSpec): Positional {
  const bare = shape.replace(/^[<[]|[>\]]$/g, '');
  const name = bare.replace(/\.\.\.$/, '');
  return {
    name,
    about,
    offer: offerOf(name, choices),
    needed: shape.startsWith('<'),
    many: bare.endsWith('...'),
  };
}

function placeOf(spec: CommandSpec, above: readonly string[], everywhere: readonly Flag[]): Place {
  const path = [...above, spec.name];
  return {
    path,
    summary: spec.summary,
    flags: [...spec.options.map(flagOf), ...everywhere],
    positionals: (spec.arguments ?? []).map(positionalOf),
    subs: (spec.sub ?? []).map((sub) => placeOf(sub, path, everywhere)),
  };
}

/** The whole tree; the first command is what the program alone does, so that its flags stand at the root too. */
export function grammarOf(
  specs: readonly CommandSpec[],
  about: string,
  everywhere: readonly OptionSpec[],
): Place {
  const shared = [...everywhere.map(flagOf), HELP];
  const subs = specs.map((spec) => placeOf(spec, [], shared));
  return {
    path: [],
    summary: about,
    flags: [...(subs[0]?.flags ?? shared), VERSION],
    positionals: [],
    subs,
  };
}

/** Every place, the program itself first. */
export const placesIn = (place: Place): readonly Place[] => [place, ...place.subs.flatMap(placesIn)];

/** Text without the marks of code and without characters that could do something to a terminal. */
export const plainText = (text: string): string => text.replace(/[`\p{C}]/gu, '');
