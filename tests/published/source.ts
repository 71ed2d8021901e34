// The published figures of shared/published.json, with the names of their sources.
import { readFileSync } from 'node:fs';
import type { Status } from './check.ts';

export interface Row {
  readonly id: string;
  /** A key of the sources, or the source itself. */
  readonly source: string | null;
  readonly status: string;
  readonly values: Readonly<Record<string, unknown>>;
  readonly printed?: Readonly<Record<string, string>>;
  readonly [more: string]: unknown;
}

interface Published {
  readonly sources: Readonly<Record<string, string>>;
  readonly groups: Readonly<Record<string, unknown>>;
}

const published: Published = JSON.parse(
  readFileSync(new URL('../../shared/published.json', import.meta.url), 'utf8'),
);

/** The rows of a group, in the file's order; a row of words only has no values. */
export function group(name: string): readonly Row[] {
  const found = published.groups[name];
  if (!Array.isArray(found)) throw new Error(`shared/published.json has no list of rows called ${name}`);
  return found.map((row) => ({ values: {}, ...row }));
}

/** The document behind a row. */
export const sourceOf = (row: Row): string =>
  published.sources[row.source ?? ''] ?? row.source ?? 'none named';

export function statusOf(row: Row): Status {
  if (row.status === 'READ' || row.status === 'MEMORY' || row.status === 'DERIVED') return row.status;
  throw new Error(`${row.id}: status ${row.status}: say which for each figure`);
}

/** A row's figure that must be a number. */
export function figure(row: Row, key: string): number {
  const found = row.values[key] ?? row[key];
  if (typeof found !== 'number') throw new Error(`${row.id} has no number called ${key}`);
  return found;
}

/** Half a unit of the last printed digit, and what binary fractions leave: 1e-9. */
export function halfDigit(row: Row, key: string): number {
  const decimals = (row.printed?.[key] ?? String(figure(row, key))).split('.')[1]?.length ?? 0;
  return 0.5 * 10 ** -decimals + 1e-9;
}
