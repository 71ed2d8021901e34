// Looks at the job database without changing it: whose it is, its version, whether it is sound, and how much is in it.
import { existsSync, statSync } from 'node:fs';
import { counted } from '../../core/figures.ts';
import { forScreen, pathForScreen } from '../../core/safe-text.ts';
import { type Database, openToLook } from '../../records/database.ts';
import { checkAll, notOursAt } from '../../records/open.ts';
import { versionOf } from '../../records/schema.ts';
import { type RecordsTrouble, troubleOf, troubleText } from '../../records/trouble.ts';
import { bad, type Finding, ok } from './findings.ts';

const what = 'records';

/** From this size on the check takes long enough to be announced. */
export const LARGE = 20 * 1024 * 1024;

export const sizeOfRecords = (path: string): number => statSync(path, { throwIfNoEntry: false })?.size ?? 0;

/** Never fails: anything wrong becomes a finding. */
export function judgeRecords(path: string): Finding {
  if (!existsSync(path)) return ok(what, `none yet: ${pathForScreen(path)} is created with the first job`);
  let database: Database | undefined;
  try {
    database = openToLook(path);
    return judged(database, path);
  } catch (error) {
    return inTheWay(troubleOf(error, path) ?? { kind: 'failed', path, detail: String(error) });
  } finally {
    database?.close();
  }
}

function judged(database: Database, path: string): Finding {
  const trouble = notOursAt(path, database);
  if (trouble) return inTheWay(trouble);
  const found = versionOf(database);
  if (found === 0) return ok(what, `an empty file, filled with the first job: ${pathForScreen(path)}`);
  const { wrong, entries, readings, unusable } = database.view(() => checkAll(database));
  if (wrong !== null) return damaged(path, wrong);
  const [first] = unusable;
  if (first) return unusableIn(first, unusable.length);
  const jobs = Number(database.get('SELECT count(*) AS jobs FROM job')?.jobs);
  const size = (sizeOfRecords(path) / 1024).toFixed(0);
  const held = `${jobs} jobs, ${entries} entries, ${readings} readings`;
  return ok(
    what,
    `every row checked, all sound: ${held}; ${size} KiB, format ${found}, in ${pathForScreen(path)}`,
  );
}

const damaged = (path: string, detail: string): Finding =>
  bad(
    what,
    `${pathForScreen(path)} is damaged (${forScreen(detail)}). Nothing was changed`,
    'copy the file somewhere safe. The next start of the bench sets it aside, exports what can be read, and begins a new one',
  );

const unusableIn = ({ job, reason }: { job: number; reason: string }, count: number): Finding =>
  bad(
    what,
    `sound, but ${counted(count, 'entry', 'entries')} can't be used, the first of them in job ${job} (${forScreen(reason, 200)}). They are kept but not used`,
    `see it with \`lidwright jobs show ${job}\`. Measure or type that value again at the bench, or take the job off the list with \`lidwright jobs remove ${job}\``,
  );

/** Trouble's own sentences end with what to do. */
function inTheWay(trouble: RecordsTrouble): Finding {
  if (trouble.kind === 'damaged') return damaged(trouble.path, trouble.detail);
  const [says = '', ...todo] = pathForScreen(troubleText(trouble)).split(/(?<=\.) (?=[A-Z])/);
  return bad(what, says, todo.join(' '));
}
