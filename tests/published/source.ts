// The published figures of shared/published.json, and how a row of them becomes a check.
import { readFileSync } from 'node:fs';
import type { Check, Family, Status } from './check.ts';

export interface Row {
  readonly id: string;
  readonly group: string;
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
  return found.map((row) => ({ values: {}, ...row, group: name }));
}

/** The row of a group whose id begins so. */
export function rowCalled(name: string, start: string): Row {
  const found = group(name).find(({ id }) => id.startsWith(start));
  if (!found) throw new Error(`${name} has no row that begins with ${start}`);
  return found;
}

/** The document behind a row. */
export const sourceOf = (row: Row): string =>
  published.sources[row.source ?? ''] ?? row.source ?? 'none named';

export function statusOf({ id, status }: Row): Status {
  if (status === 'READ' || status === 'MEMORY' || status === 'DERIVED') return status;
  throw new Error(`${id}: status ${status}: say which for each figure`);
}

/** A row's figure that must be a number. */
export function figure(row: Row, key: string): number {
  const found = row.values[key] ?? row[key];
  if (typeof found !== 'number') throw new Error(`${row.id} has no number called ${key}`);
  return found;
}

/** Half a unit in this decimal place, and what binary fractions leave: 1e-9. */
export const half = (decimals: number): number => 0.5 * 10 ** -decimals + 1e-9;
const LAST_DIGIT = 'half of the last printed digit';

const halfDigit = (row: Row, key: string): number =>
  half((row.printed?.[key] ?? String(figure(row, key))).split('.')[1]?.length ?? 0);

/** Ours beside a figure of the file, and whatever differs from the usual: agreement within half of the last printed digit. */
export type Ours = Partial<Check> & Pick<Check, 'ours'>;

export const compare = (row: Row, key: string, ours: Ours): Check => {
  const expected = ours.expected ?? figure(row, key);
  return {
    what: `${row.id}: ${key}`,
    source: ours.source ?? sourceOf(row),
    status: ours.status ?? statusOf(row),
    expected,
    why: LAST_DIGIT,
    ...(typeof row.values[key] === 'number' && {
      allowed: halfDigit(row, key),
      printed: halfDigit(row, key),
    }),
    ...ours,
  };
};

type Figure = Check['ours'];

/** Figures that are not in the file, by one source. */
export const stating =
  (source: string, status: Status) =>
  (
    what: string,
    expected: Figure,
    ours: Figure,
    allowed?: number,
    why = LAST_DIGIT,
    knownMiss?: string,
  ): Check => ({
    ...{ what, source, status, expected, ours, why, knownMiss },
    ...(allowed !== undefined && { allowed }),
  });

interface Content {
  readonly count: number;
  /** Groups of the file; each figure in them is compared, or left out by name. */
  readonly groups?: readonly string[];
  readonly leftOut?: Readonly<Record<string, string>>;
  /** What the program makes of a figure; undefined where it knows no such figure, which then differs. */
  readonly ours?: (row: Row, key: string) => Ours | readonly Ours[] | undefined;
  /** Figures that are not in the file. */
  readonly more?: () => readonly Check[];
}

export function family(name: string, { count, groups = [], leftOut = {}, ours, more }: Content): Family {
  const left = Object.keys(leftOut);
  const isLeft = (truth: string): boolean => left.some((out) => truth === out || truth.startsWith(`${out}/`));
  const checks = (row: Row): readonly Check[] =>
    Object.keys(row.values)
      .filter((key) => !isLeft(`${row.group}/${row.id}/${key}`))
      .flatMap((key) =>
        [ours?.(row, key) ?? { ours: Number.NaN }].flat().map((one) => compare(row, key, one)),
      );
  return {
    name,
    count,
    leftOut,
    rows: () => [...groups.flatMap(group).flatMap(checks), ...(more?.() ?? [])],
  };
}

/** Rows that are all left out for one reason. */
export const without = (rows: readonly Row[], why: string): Record<string, string> =>
  Object.fromEntries(rows.map((row) => [`${row.group}/${row.id}`, why]));
