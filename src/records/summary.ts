// One derived line per job, kept in the same transaction as the log it comes from; it can always be made again.
import type { Entry } from '../core/bench/entry.ts';
import { type Job, jobOf } from '../core/bench/job.ts';
import type { Length } from '../core/units.ts';
import { factOf } from './codec/row.ts';
import type { Database } from './database.ts';
import { ENTRIES, entryIn } from './log.ts';

/** The log of a job as far as a summary needs it: every feed count and every reading left out. */
function briefLog(database: Database, job: number): readonly Entry[] {
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

const PUT = `INSERT INTO summary VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
  ON CONFLICT (job) DO UPDATE SET id = excluded.id, name = excluded.name, begun = excluded.begun,
    touched = excluded.touched, stage = excluded.stage, status = excluded.status, removed = excluded.removed,
    wood = excluded.wood, unit = excluded.unit, fit = excluded.fit, bore = excluded.bore, target = excluded.target,
    spigot = excluded.spigot, clearance = excluded.clearance, word = excluded.word, trials = excluded.trials,
    verdict = excluded.verdict, look = excluded.look, here = excluded.here`;

function put(database: Database, number: number, job: Job, target: Length | null, here: number | null): void {
  const { setup, bore, spigot, trials } = job;
  const wood = setup.wood ?? null;
  database.run(
    PUT,
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
    folded(`${job.name}\n${wood ?? ''}\n${setup.lidWood ?? ''}`),
    here,
  );
}

/** Text made fit for looking in: no difference between cases or between ways of writing the same letter. */
export const folded = (text: string): string => text.normalize('NFC').toLowerCase();

/** The target the turner was last shown. */
function targetIn(log: readonly Entry[]): Length | null {
  const undone = new Set(log.flatMap(({ fact }) => (fact.kind === 'undone' ? [fact.entry] : [])));
  const last = log.findLast(({ id, fact }) => fact.kind === 'target-set' && !undone.has(id));
  return last?.fact.kind === 'target-set' ? last.fact.target : null;
}

/** Makes a job's line anew. A job whose beginning is not here yet has none. */
export function summarise(database: Database, number: number): void {
  const log = briefLog(database, number);
  const job = jobOf(log);
  if (!job) return;
  const last = database.get('SELECT max(seq) AS seq FROM entry WHERE job = ? AND here = 1', number)?.seq;
  put(database, number, job, targetIn(log), typeof last === 'number' ? last : null);
}

/** Makes every line anew from the log alone. */
export function rebuildSummaries(database: Database): void {
  database.script('DELETE FROM summary');
  for (const { number } of database.all('SELECT number FROM job')) summarise(database, Number(number));
}
