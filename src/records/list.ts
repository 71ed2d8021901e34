// The list of jobs, from one summary row each: filtered, newest first, and found by number, id or name.
import type { Stage } from '../core/bench/entry.ts';
import { STAGES } from '../core/bench/entry.ts';
import type { FitWord } from '../core/thread/fit.ts';
import { type Length, type LengthUnit, mm } from '../core/units.ts';
import type { Cell, Database, Row } from './database.ts';
import { column, DamageFound, sumOf } from './log.ts';
import { folded } from './summary.ts';

export interface JobSummary {
  /** Counts up in this database; other benches may number the same job differently. */
  readonly number: number;
  readonly id: string;
  readonly name: string;
  /** Milliseconds since 1970 of the first entry and of the last that holds. */
  readonly begun: number;
  readonly touched: number;
  readonly stage: Stage;
  readonly status: 'open' | 'runs' | 'given-up' | 'untried';
  readonly removed: boolean;
  readonly wood: string | null;
  readonly unit: LengthUnit;
  readonly fit: 'threaded' | 'plain';
  readonly bore: Length | null;
  readonly target: Length | null;
  readonly spigot: Length | null;
  readonly clearance: Length | null;
  /** The fit that the spigot is expected to give. */
  readonly word: FitWord | null;
  readonly trials: number;
  /** The result of the last trial. */
  readonly verdict: FitWord | null;
}

export interface JobFilter {
  readonly state?: 'open' | 'closed';
  /** True for removed jobs only; they are hidden otherwise. */
  readonly removed?: boolean;
  /** Part of the name, and of the wood of either part. Case does not matter. */
  readonly name?: string;
  readonly wood?: string;
  /** Touched at or after this, in milliseconds since 1970. */
  readonly since?: number;
  readonly limit?: number;
}

export interface JobList {
  readonly jobs: readonly JobSummary[];
  /** How many match, also those beyond the limit; counted no further than COUNTED_AT_MOST. */
  readonly total: number;
}

const oneOf = <W extends string>(words: readonly W[], found: unknown): W | null =>
  words.find((known) => known === found) ?? null;
const lengthIn = (value: unknown): Length | null => (typeof value === 'number' ? mm(value) : null);
const FITS: readonly FitWord[] = ['seized', 'tight', 'running', 'loose'];

/** Refuses a row that isn't what was written. `SELECT *` gives the cells in the order they were summed, the sum last. */
function refuseChanged(row: Row): void {
  const cells = Object.values(row).slice(0, -1);
  const plain = cells.filter((cell) => cell === null || typeof cell === 'string' || typeof cell === 'number');
  if (plain.length < cells.length || sumOf(plain) !== row.crc)
    throw new DamageFound(`the summary of job ${column.number(row, 'job')} isn't what was written`);
}

function summaryIn(row: Row): JobSummary {
  refuseChanged(row);
  return {
    number: column.number(row, 'job'),
    id: column.text(row, 'id'),
    name: column.text(row, 'name'),
    begun: column.number(row, 'begun'),
    touched: column.number(row, 'touched'),
    stage: oneOf(STAGES, row.stage) ?? 'record',
    status: oneOf(['open', 'runs', 'given-up', 'untried'], row.status) ?? 'open',
    removed: row.removed === 1,
    wood: column.textOrNull(row, 'wood'),
    unit: row.unit === 'in' ? 'in' : 'mm',
    fit: row.fit === 'plain' ? 'plain' : 'threaded',
    bore: lengthIn(row.bore),
    target: lengthIn(row.target),
    spigot: lengthIn(row.spigot),
    clearance: lengthIn(row.clearance),
    word: oneOf(FITS, row.word),
    trials: column.number(row, 'trials'),
    verdict: oneOf(FITS, row.verdict),
  };
}

interface Condition {
  readonly sql: string;
  readonly cells: readonly Cell[];
}

/** `look` holds the name, then the woods, one a line. */
const NAME_IN_LOOK = 'substr(look, 1, instr(look, char(10)))';
const WOOD_IN_LOOK = 'substr(look, instr(look, char(10)))';

function conditionsOf(filter: JobFilter): readonly Condition[] {
  const conditions: Condition[] = [{ sql: 'removed = ?', cells: [filter.removed ? 1 : 0] }];
  if (filter.state === 'open') conditions.push({ sql: "status = 'open'", cells: [] });
  if (filter.state === 'closed') conditions.push({ sql: "status <> 'open'", cells: [] });
  if (filter.name !== undefined)
    conditions.push({ sql: `instr(${NAME_IN_LOOK}, ?) > 0`, cells: [folded(filter.name)] });
  if (filter.wood !== undefined)
    conditions.push({ sql: `instr(${WOOD_IN_LOOK}, ?) > 0`, cells: [folded(filter.wood)] });
  if (filter.since !== undefined) conditions.push({ sql: 'touched >= ?', cells: [filter.since] });
  return conditions;
}

/** "20 of more than 10000" says as much as a count of a hundred thousand, and stays quick. */
export const COUNTED_AT_MOST = 10_000;

/** Jobs that match, the one changed last first. */
export function listJobs(database: Database, filter: JobFilter): JobList {
  const conditions = conditionsOf(filter);
  const where = conditions.map(({ sql }) => sql).join(' AND ');
  const cells = conditions.flatMap((condition) => condition.cells);
  const rows = database.all(
    `SELECT * FROM summary WHERE ${where} ORDER BY touched DESC, job DESC LIMIT ?`,
    ...cells,
    filter.limit ?? -1,
  );
  const jobs = rows.map(summaryIn);
  if (filter.limit === undefined || jobs.length < filter.limit) return { jobs, total: jobs.length };
  const counted = `SELECT count(*) AS total FROM (SELECT 1 FROM summary WHERE ${where} LIMIT ?)`;
  return { jobs, total: Number(database.get(counted, ...cells, COUNTED_AT_MOST)?.total) };
}

const MOST_FOUND = 20;

/** Jobs by number, else by the start of an id, else by name or part of it; removed jobs only where no other matches. */
export function findJobs(database: Database, words: string): readonly JobSummary[] {
  const all = (where: string, ...cells: readonly Cell[]): readonly JobSummary[] =>
    database
      .all(
        `SELECT * FROM summary WHERE ${where} ORDER BY touched DESC, job DESC LIMIT ${MOST_FOUND}`,
        ...cells,
      )
      .map(summaryIn);
  const byNumber = /^\d{1,15}$/.test(words) ? all('job = ?', Number(words)) : [];
  if (byNumber.length > 0) return byNumber;
  const byId = /^[\w-]{4,64}$/.test(words)
    ? all('job IN (SELECT number FROM job WHERE id >= ? AND id < ?)', words, `${words}\uffff`)
    : [];
  if (byId.length > 0) return byId;
  const named = (removed: 0 | 1): readonly JobSummary[] => {
    const exact = all('name = ? AND +removed = ?', words, removed);
    if (exact.length > 0) return exact;
    return all(`removed = ? AND instr(${NAME_IN_LOOK}, ?) > 0`, removed, folded(words));
  };
  const present = named(0);
  return present.length > 0 ? present : named(1);
}

/** The open job last worked on at this bench; an imported one only where this bench has written none. */
export function latestOpen(database: Database): JobSummary | undefined {
  const own = database.get(
    `SELECT * FROM summary INDEXED BY summary_left_open
     WHERE status = 'open' AND removed = 0 AND here IS NOT NULL ORDER BY here DESC LIMIT 1`,
  );
  if (own) return summaryIn(own);
  if (database.get('SELECT 1 FROM summary WHERE here IS NOT NULL LIMIT 1')) return undefined;
  const any = database.get(
    "SELECT * FROM summary WHERE removed = 0 AND status = 'open' ORDER BY touched DESC, job DESC LIMIT 1",
  );
  return any && summaryIn(any);
}
