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

const sorted = (words: readonly string[]): string => [...words].sort().join(' ');

/** Each wood with the words of its names, taken apart once. */
const INDEX = WOODS.map((wood) => ({
  wood,
  words: namesOf(wood).flatMap(wordsOf),
  wholeNames: namesOf(wood).map((name) => sorted(wordsOf(name))),
}));

/**
 * Each part typed must begin a word of the wood's names. One wood when what was typed is its whole name or fits no other;
 * otherwise everything it fits, for the turner to choose.
 */
export function findWood(typed: string): Lookup {
  const parts = wordsOf(typed);
  const fits = (words: readonly string[]): boolean =>
    parts.every((part) => words.some((word) => word.startsWith(part)));
  const fitting = parts.length === 0 ? [] : INDEX.filter(({ words }) => fits(words));
  const named = fitting.filter(({ wholeNames }) => wholeNames.includes(sorted(parts)));
  const candidates = (named.length > 0 ? named : fitting).map(({ wood }) => wood);
  const [only] = candidates;
  if (!only) return { kind: 'unknown', typed };
  return candidates.length === 1 ? { kind: 'found', wood: only } : { kind: 'ambiguous', typed, candidates };
}
