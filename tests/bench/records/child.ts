// A bench without a screen, for tests that end it, starve it or lock it out: it reports what it did line by line on stdout.
import { rmSync, statfsSync, writeFileSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import type { Entry } from '../../../src/core/bench/entry.ts';
import { openDatabase } from '../../../src/records/database.ts';
import { rescue, rescueText } from '../../../src/records/export.ts';
import { homeOf } from '../../../src/records/home.ts';
import { openRecords, type Records } from '../../../src/records/jobs.ts';
import { troubleText } from '../../../src/records/trouble.ts';
import { everyFact } from './hostile.ts';
import { sampleJob } from './sample.ts';

const [mode = '', folder = '', first = '1', count = '1'] = process.argv.slice(2);
const tell = (line: string): void => void writeSync(1, `${line}\n`);

function records(): Records {
  const opened = openRecords(homeOf({}, folder));
  if (opened.ok) return opened.value;
  tell(`trouble ${opened.trouble.kind} ${troubleText(opened.trouble)}`);
  process.exit(3);
}

/** Appends one entry and says so; answers the trouble's kind when there was one. */
function save(to: Records, entry: Entry): string | undefined {
  const saved = to.append(entry);
  tell(saved.ok ? `saved ${entry.id}` : `trouble ${saved.trouble.kind} ${troubleText(saved.trouble)}`);
  return saved.ok ? undefined : saved.trouble.kind;
}

/** Works on job after job until it is ended from outside, or `jobs` are done. */
function work(from: number, jobs: number): void {
  const to = records();
  for (let seed = from; seed < from + jobs; seed += 1)
    for (const entry of everyFact(seed)) if (save(to, entry) !== undefined) process.exit(3);
  to.close();
}

/** Bytes left on the small disk before entries are saved: enough for some dozens. */
const ROOM = 1_200_000;

/** Fills a small disk up to the last page, then frees space and tries the same entry again. */
function fill(): void {
  const to = records();
  const ballast = join(folder, '..', 'ballast');
  const { bavail, bsize } = statfsSync(folder);
  const most = Math.max(0, bavail * bsize - ROOM);
  writeFileSync(ballast, Buffer.alloc(Math.min(most, 4_000_000)));
  for (const entry of Array.from({ length: 400 }, (_, at) => sampleJob(at + 1, 8)).flat()) {
    if (save(to, entry) === undefined) continue;
    rmSync(ballast);
    tell(save(to, entry) === undefined ? 'recovered' : 'still stuck');
    break;
  }
  const kept = to.list();
  for (const { id } of kept.ok ? kept.value.jobs : []) {
    const log = to.entriesOf(id);
    for (const entry of log.ok ? log.value : []) tell(`there ${entry.id}`);
  }
  to.close();
}

/** Holds the write lock until its standard input ends. */
function hold(): void {
  const database = openDatabase(homeOf({}, folder).database);
  database.script('BEGIN EXCLUSIVE');
  tell('held');
  process.stdin.on('end', () => database.close()).resume();
}

/** Saves a job, has a row of it changed behind its back, reads it again, and stays until its standard input ends. */
function spoil(): void {
  const to = records();
  const log = sampleJob(1, 4);
  to.appendAll(log);
  const other = openDatabase(homeOf({}, folder).database);
  other.script('DROP TRIGGER entry_no_update; UPDATE entry SET at = at + 1');
  other.close();
  const read = to.entriesOf(log[0]?.job ?? '');
  tell(read.ok ? 'sound' : `trouble ${read.trouble.kind} ${troubleText(read.trouble)}`);
  process.stdin.resume();
}

/** Rescues a job to the first of two folders that takes it. */
function rescued(): void {
  tell(`rescued ${rescue(rescueText(sampleJob(1, 300), new Map()), [folder, first], 1)}`);
}

if (mode === 'work') work(Number(first), Number(count));
else if (mode === 'fill') fill();
else if (mode === 'hold') hold();
else if (mode === 'spoil') spoil();
else if (mode === 'rescue') rescued();
else if (mode === 'open') records().close();
else throw new Error(`no mode ${mode}`);
