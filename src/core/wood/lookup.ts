// Finds a wood by what was typed: part-words in any order, trade or botanical, `sug map` for sugar maple.
import { WOODS, type Wood } from './species.ts';

/** The one wood meant, the several it could be, or none. */
export type Lookup =
  | { readonly kind: 'found'; readonly wood: Wood }
  | { readonly kind: 'ambiguous'; readonly typed: string; readonly candidates: readonly Wood[] }
  | { readonly kind: 'unknown'; readonly typed: string };

const wordsOf = (text: string): readonly string[] =>
  text
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .split(/[^a-z0-9]+/)
    .filter((word) => word !== '' && word !== 'spp');

const namesOf = (wood: Wood): readonly string[] => [
  wood.trade,
  ...wood.also,
  ...(wood.botanical === null ? [] : [wood.botanical]),
];

const allWordsOf = (wood: Wood): readonly string[] => namesOf(wood).flatMap(wordsOf);

/** Each typed word must begin a word of the wood's names. */
const matches = (wood: Wood, typed: readonly string[]): boolean =>
  typed.every((part) => allWordsOf(wood).some((word) => word.startsWith(part)));

/** The words typed are those of one of its names, no more and no fewer, in any order. */
function isNamed(wood: Wood, typed: readonly string[]): boolean {
  const sorted = [...typed].sort().join(' ');
  return namesOf(wood).some((name) => [...wordsOf(name)].sort().join(' ') === sorted);
}

/** One wood when what was typed is its whole name or fits no other; otherwise everything it fits, for the turner to choose. */
export function findWood(typed: string, among: readonly Wood[] = WOODS): Lookup {
  const parts = wordsOf(typed);
  const fitting = parts.length === 0 ? [] : among.filter((wood) => matches(wood, parts));
  const named = fitting.filter((wood) => isNamed(wood, parts));
  const left = named.length > 0 ? named : fitting;
  const only = left[0];
  if (!only) return { kind: 'unknown', typed };
  return left.length === 1 ? { kind: 'found', wood: only } : { kind: 'ambiguous', typed, candidates: left };
}
