// The woods of shared/woods.json: each with the source and standing of its figures.
import table from '../../../shared/woods.json' with { type: 'json' };
import { type Swell, swellOf } from './movement.ts';

/** Whether a figure was read in a reproduction of its source or recalled from memory; `none` has no figure. */
export type Standing = 'read' | 'memory' | 'none';

/** Swelling across the grain, and what it rests on. */
export interface Figures {
  readonly radial: Swell;
  readonly tangential: Swell;
  readonly source: string;
  readonly status: Standing;
  readonly note: string | null;
}

/** One wood with the figures known of it, best known first; a wood without any is kept, so that nobody looks in vain. */
export interface Wood {
  readonly id: string;
  readonly trade: string;
  readonly botanical: string | null;
  readonly also: readonly string[];
  readonly figures: readonly Figures[];
}

interface Row {
  readonly id: string;
  readonly trade: string;
  readonly botanical: string | null;
  readonly also: readonly string[];
  readonly radial: number | readonly number[] | null;
  readonly tangential: number | readonly number[] | null;
  readonly radialPerPoint: number | null;
  readonly tangentialPerPoint: number | null;
  readonly source: string | null;
  readonly status: string;
  readonly note: string | null;
}

const isStanding = (status: string): status is Standing => ['read', 'memory', 'none'].includes(status);
const nameOfSource = (key: string): string => new Map(Object.entries(table.sources)).get(key) ?? key;

/** A source that gives a range is taken at its middle; the row's note says so. */
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
  if (!radial || !tangential || row.source === null || !isStanding(row.status)) return undefined;
  return { radial, tangential, source: nameOfSource(row.source), status: row.status, note: row.note };
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
