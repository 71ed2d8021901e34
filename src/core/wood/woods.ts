// The woods of shared/woods.json, each with the source of its figures, and the wood that a few typed letters mean.
import table from '../../../shared/woods.json' with { type: 'json' };
import { type Swell, swellOf } from './movement.ts';

/** Whether a figure was read in a reproduction of its source or recalled from memory; `none` has no figure. */
const STANDINGS = ['read', 'memory', 'none'] as const;

/** Swelling across the grain, and what it rests on. */
export interface Figures {
  readonly radial: Swell;
  readonly tangential: Swell;
  readonly source: string;
  readonly status: (typeof STANDINGS)[number];
  readonly note: string | null;
}

/** One wood with its known figures, the best known first; woods without any are listed too. */
export interface Wood {
  readonly id: string;
  readonly trade: string;
  readonly botanical: string | null;
  readonly also: readonly string[];
  readonly figures: readonly Figures[];
}

type Row = (typeof table.woods)[number];

const nameOfSource = (key: string): string => new Map(Object.entries(table.sources)).get(key) ?? key;

/** A source that gives a range counts by its middle; the row's note says so. */
function middle(figure: number | readonly number[] | null): number | undefined {
  if (figure === null || typeof figure === 'number') return figure ?? undefined;
  return figure.reduce((sum, end) => sum + end, 0) / figure.length;
}

function figuresIn(row: Row): Figures | undefined {
  const radial = swellOf({ shrinkage: middle(row.radial), coefficient: row.radialPerPoint ?? undefined });
  const tangential = swellOf({
    shrinkage: middle(row.tangential),
    coefficient: row.tangentialPerPoint ?? undefined,
  });
  const status = STANDINGS.find((standing) => standing === row.status);
  if (!radial || !tangential || row.source === null || !status) return undefined;
  return { radial, tangential, source: nameOfSource(row.source), status, note: row.note };
}

function woodsIn(rows: readonly Row[]): readonly Wood[] {
  return [...new Set(rows.map((row) => row.trade))].map((trade) => {
    const of = rows.filter((row) => row.trade === trade);
    return {
      id: (of[0]?.id ?? trade).replace(/\/.*/, ''),
      trade,
      botanical: of.find((row) => row.botanical !== null)?.botanical ?? null,
      also: [...new Set(of.flatMap((row) => row.also))],
      figures: of.flatMap((row) => figuresIn(row) ?? []),
    };
  });
}

/** Every wood of the table, in its order. */
export const WOODS: readonly Wood[] = woodsIn(table.woods);

/** The one wood meant, the several it could be, or none. */
type Lookup =
  | { readonly kind: 'found'; readonly wood: Wood }
  | { readonly kind: 'ambiguous'; readonly typed: string; readonly candidates: readonly Wood[] }
  | { readonly kind: 'unknown'; readonly typed: string };

const wordsOf = (text: string): readonly string[] =>
  text
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .split(/[^a-z0-9]/)
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
