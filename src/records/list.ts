// The list of jobs: one summary row per job, written in the same transaction as the log it comes from, and found by number, id or name.
import { type Entry, STAGES } from '../core/bench/entry.ts';
import { type Job, jobOf, withEntry } from '../core/bench/job.ts';
import { FIT_ORDER } from '../core/thread/fit.ts';
import { CLOSEST_TO_ZERO, factOf } from './codec/row.ts';
import type { Cell, Database, Row } from './database.ts';
import { DamageFound, ENTRIES, entryIn, sumOf } from './log.ts';

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

type TargetSet = Extract<Entry['fact'], { kind: 'target-set' }>;

/** The columns of a summary's row in the order of their table, without the checksum that ends it. */
const cellsOf = (number: number, job: Job, set: TargetSet | null, here: number | null) => ({
  job: number,
  id: job.id,
  name: job.name,
  /** Milliseconds since 1970 of the first entry, and of the last that holds. */
  begun: job.begun,
  touched: job.touched,
  stage: job.stage,
  status: job.closed?.how ?? ('open' as const),
  removed: job.removed ? 1 : 0,
  wood: job.setup.wood ?? null,
  unit: job.setup.unit,
  fit: job.setup.fit,
  bore: job.bore?.diameter ?? null,
  // Two benches on one job: a target is listed only beside the bore that it was worked out for.
  target: set !== null && set.bore === job.bore?.diameter ? set.target : null,
  spigot: job.spigot?.diameter ?? null,
  // A fit worked out from planned depths only isn't this job's fit.
  clearance: job.spigot?.asPlanned ? null : (job.spigot?.clearance ?? null),
  word: job.spigot?.asPlanned ? null : (job.spigot?.fit ?? null),
  trials: job.trials.length,
  verdict: job.trials.at(-1)?.verdict ?? null,
  look: folded(`${job.name.replaceAll('\n', ' ')}\n${job.setup.wood ?? ''}\n${job.setup.lidWood ?? ''}`),
  here,
});

/** A job as listed. Its number counts up in this database; other benches may number the same job differently. */
export type JobSummary = Readonly<Omit<ReturnType<typeof cellsOf>, 'job' | 'removed' | 'look' | 'here'>> & {
  readonly number: number;
  readonly removed: boolean;
};

/** A cell as the driver keeps it: a text without NUL, and nothing closer to zero than it can write. */
const kept = (cell: Cell): Cell => {
  if (typeof cell === 'string') return cell.replaceAll('\0', '');
  return cell !== null && Math.abs(cell) < CLOSEST_TO_ZERO ? 0 : cell;
};

const PUT = `INSERT OR REPLACE INTO summary VALUES (${'?, '.repeat(20)}?)`;

function put(database: Database, number: number, job: Job, set: TargetSet | null, here: number | null): void {
  const cells = Object.values<Cell>(cellsOf(number, job, set, here)).map(kept);
  database.run(PUT, ...cells, sumOf(cells));
}

const oneOf = <W extends string>(words: readonly W[], found: unknown): W | null =>
  words.find((known) => known === found) ?? null;

function summaryIn(row: Row): JobSummary {
  const { job: number, look: _look, here: _here, crc, ...cells } = row;
  // `SELECT *` gives the cells in the order they were summed, the sum last; where it holds, they are what `put` wrote.
  if (sumOf(Object.values(row).slice(0, -1) as readonly Cell[]) !== crc)
    throw new DamageFound(`the summary of job ${number} isn't what was written`);
  const { stage, removed, word, verdict, ...rest } = cells as unknown as ReturnType<typeof cellsOf>;
  const known = {
    stage: oneOf(STAGES, stage) ?? 'record',
    word: oneOf(FIT_ORDER, word),
    verdict: oneOf(FIT_ORDER, verdict),
  };
  return { number: Number(number), ...rest, ...known, removed: removed === 1 };
}

/** The log of a job without feed counts and readings: enough for a summary, or for reading many jobs. */
export function briefLog(database: Database, job: number): readonly Entry[] {
  const rows = database.all(
    `${ENTRIES} WHERE e.job = ? AND e.kind <> 'feed-counted' ORDER BY e.n, e.at, e.id`,
    job,
  );
  return rows.flatMap((found) => {
    const { row } = entryIn(found);
    const fact = factOf(row);
    return fact ? [{ id: row.id, job: row.job, at: row.at, fact, readings: [] }] : [];
  });
}

/** Text to search in: case, and the different ways to write one letter, make no difference. */
export const folded = (text: string): string => text.normalize('NFC').toLowerCase();

/** An entry with its place in the job's log. */
export interface Placed {
  readonly n: number;
  readonly entry: Entry;
}

/** The order of a log, as the database keeps it too: by place, then time, then id. */
const inOrder = (one: Placed, other: Placed): number =>
  one.n - other.n || one.entry.at - other.entry.at || (one.entry.id < other.entry.id ? -1 : 1);

/** A job as folded from its rows, so that one more row doesn't fold them all again. */
export interface FoldedJob {
  readonly number: number;
  readonly rows: number;
  readonly job: Job | undefined;
  /** The target that was set last. */
  readonly target: TargetSet | null;
}

const rowsIn = (database: Database, number: number): number =>
  Number(database.get('SELECT count(*) AS rows FROM entry WHERE job = ?', number)?.rows);

function targetIn(log: readonly Entry[]): TargetSet | null {
  const undone = new Set(log.flatMap(({ fact }) => (fact.kind === 'undone' ? [fact.entry] : [])));
  const last = log.findLast(({ id, fact }) => fact.kind === 'target-set' && !undone.has(id));
  return last?.fact.kind === 'target-set' ? last.fact : null;
}

function standingOf(database: Database, number: number): FoldedJob {
  const log = briefLog(database, number);
  return { number, rows: rowsIn(database, number), job: jobOf(log), target: targetIn(log) };
}

/** A job after the entry just added: from what it was before, or folded again where another program added a row in between. */
function standingAfter(database: Database, before: FoldedJob, { fact, ...entry }: Entry): FoldedJob {
  const rows = rowsIn(database, before.number);
  if (rows !== before.rows + 1 || fact.kind === 'undone') return standingOf(database, before.number);
  const target = fact.kind === 'target-set' ? fact : before.target;
  return { number: before.number, rows, job: withEntry(before.job, { ...entry, fact }), target };
}

function lastHere(database: Database, number: number): number | null {
  const seq = database.get('SELECT max(seq) AS seq FROM entry WHERE job = ? AND here = 1', number)?.seq;
  return typeof seq === 'number' ? seq : null;
}

/** Remakes a job's summary from its log. A job whose first entry isn't here yet has none. */
export function summarise(database: Database, number: number): FoldedJob {
  const standing = standingOf(database, number);
  if (standing.job) put(database, number, standing.job, standing.target, lastHere(database, number));
  return standing;
}

/** Makes the summary of a job that was imported as a whole, from its entries in any order. */
export function summariseNew(database: Database, number: number, entries: readonly Placed[]): void {
  const log = entries.toSorted(inOrder).map(({ entry }) => entry);
  const job = jobOf(log);
  if (job) put(database, number, job, targetIn(log), null);
}

/** Updates a job's summary after one entry of this bench, saved as number `seq`. */
export function summariseAfter(database: Database, before: FoldedJob, entry: Entry, seq: number): FoldedJob {
  const standing = standingAfter(database, before, entry);
  if (standing.job) put(database, before.number, standing.job, standing.target, seq);
  return standing;
}

/** Remakes every summary from the log. */
export function rebuildSummaries(database: Database): void {
  database.script('DELETE FROM summary');
  for (const { number } of database.all('SELECT number FROM job')) summarise(database, Number(number));
}

/** The column `look` holds the name, then the woods, one a line. */
const NAME_IN_LOOK = 'substr(look, 1, instr(look, char(10)))';
const WOOD_IN_LOOK = 'substr(look, instr(look, char(10)))';

type Condition = readonly [sql: string, ...cells: readonly Cell[]];

const conditionsOf = ({ removed, state, name, wood, since }: JobFilter): readonly Condition[] => [
  ['removed = ?', removed ? 1 : 0],
  ...(state ? [[`status ${state === 'open' ? '=' : '<>'} 'open'`] as const] : []),
  ...(name !== undefined ? [[`instr(${NAME_IN_LOOK}, ?) > 0`, folded(name)] as const] : []),
  ...(wood !== undefined ? [[`instr(${WOOD_IN_LOOK}, ?) > 0`, folded(wood)] as const] : []),
  ...(since !== undefined ? [['touched >= ?', since] as const] : []),
];

/** "20 of more than 10000" says as much as a count of a hundred thousand, and stays quick. */
export const COUNTED_AT_MOST = 10_000;

/** Summaries, the one changed last first. */
const summariesWhere = (
  database: Database,
  where: string,
  cells: readonly Cell[],
  limit: number,
): readonly JobSummary[] =>
  database
    .all(`SELECT * FROM summary WHERE ${where} ORDER BY touched DESC, job DESC LIMIT ?`, ...cells, limit)
    .map(summaryIn);

/** Jobs that match, the one changed last first. */
export function listJobs(database: Database, filter: JobFilter): JobList {
  const conditions = conditionsOf(filter);
  const where = conditions.map(([sql]) => sql).join(' AND ');
  const cells = conditions.flatMap(([, ...each]) => each);
  const jobs = summariesWhere(database, where, cells, filter.limit ?? -1);
  if (filter.limit === undefined || jobs.length < filter.limit) return { jobs, total: jobs.length };
  const counted = `SELECT count(*) AS total FROM (SELECT 1 FROM summary WHERE ${where} LIMIT ?)`;
  return { jobs, total: Number(database.get(counted, ...cells, COUNTED_AT_MOST)?.total) };
}

const MOST_FOUND = 20;

/** Jobs by number, else by the start of an id, else by name or part of it; removed jobs only where no other matches. */
export function findJobs(database: Database, words: string): readonly JobSummary[] {
  const ways: [matches: boolean, where: string, ...cells: Cell[]][] = [
    [/^\d{1,15}$/.test(words), 'job = ?', Number(words)],
    [
      /^[\w-]{4,64}$/.test(words),
      'job IN (SELECT number FROM job WHERE id >= ? AND id < ?)',
      ...[words, `${words}\uffff`],
    ],
    ...[0, 1].flatMap((removed): typeof ways => [
      [true, 'name = ? AND +removed = ?', words, removed],
      [true, `removed = ? AND instr(${NAME_IN_LOOK}, ?) > 0`, removed, folded(words)],
    ]),
  ];
  for (const [matches, where, ...cells] of ways) {
    const found = matches ? summariesWhere(database, where, cells, MOST_FOUND) : [];
    if (found.length > 0) return found;
  }
  return [];
}

/** The open job last worked on at this bench; an imported one only where this bench has written none. */
export function latestOpen(database: Database): JobSummary | undefined {
  const own = database.get(
    `SELECT * FROM summary INDEXED BY summary_left_open
     WHERE status = 'open' AND removed = 0 AND here IS NOT NULL ORDER BY here DESC LIMIT 1`,
  );
  if (own) return summaryIn(own);
  if (database.get('SELECT 1 FROM summary WHERE here IS NOT NULL LIMIT 1')) return undefined;
  return summariesWhere(database, "removed = 0 AND status = 'open'", [], 1)[0];
}
