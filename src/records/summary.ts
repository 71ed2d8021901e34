// One summary row per job, written in the same transaction as the log it comes from; it can always be made again.
import type { Entry } from '../core/bench/entry.ts';
import { type Job, jobOf, withEntry } from '../core/bench/job.ts';
import { CLOSEST_TO_ZERO, factOf } from './codec/row.ts';
import type { Cell, Database } from './database.ts';
import { ENTRIES, entryIn, sumOf } from './log.ts';

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

const PUT = `INSERT INTO summary VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
  ON CONFLICT (job) DO UPDATE SET id = excluded.id, name = excluded.name, begun = excluded.begun,
    touched = excluded.touched, stage = excluded.stage, status = excluded.status, removed = excluded.removed,
    wood = excluded.wood, unit = excluded.unit, fit = excluded.fit, bore = excluded.bore, target = excluded.target,
    spigot = excluded.spigot, clearance = excluded.clearance, word = excluded.word, trials = excluded.trials,
    verdict = excluded.verdict, look = excluded.look, here = excluded.here, crc = excluded.crc`;

/** A cell as the driver keeps it: a text without NUL, and nothing closer to zero than it can write. */
const kept = (cell: Cell): Cell => {
  if (typeof cell === 'string') return cell.replaceAll('\0', '');
  return cell !== null && Math.abs(cell) < CLOSEST_TO_ZERO ? 0 : cell;
};

function put(database: Database, number: number, job: Job, set: TargetSet | null, here: number | null): void {
  const { setup, bore, spigot, trials } = job;
  // Two benches on one job: a target is listed only beside the bore that it was worked out for.
  const target = set !== null && set.bore === bore?.diameter ? set.target : null;
  const wood = setup.wood ?? null;
  const cells = [
    number,
    job.id,
    job.name,
    job.begun,
    job.touched,
    job.stage,
    job.closed?.how ?? 'open',
    job.removed ? 1 : 0,
    wood,
    setup.unit,
    setup.fit,
    bore?.diameter ?? null,
    target,
    spigot?.diameter ?? null,
    spigot?.clearance ?? null,
    spigot?.fit ?? null,
    trials.length,
    trials.at(-1)?.verdict ?? null,
    folded(`${job.name.replaceAll('\n', ' ')}\n${wood ?? ''}\n${setup.lidWood ?? ''}`),
    here,
  ].map(kept);
  database.run(PUT, ...cells, sumOf(cells));
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

type TargetSet = Extract<Entry['fact'], { kind: 'target-set' }>;

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
