// How the records hold up at 100,000 jobs and 5 million readings: rows imported a second, and list, show and open against a home with one job.
import { spawnSync } from 'node:child_process';
import { closeSync, createReadStream, openSync, statSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { jobOf } from '../../../src/core/bench/job.ts';
import { homeOf } from '../../../src/records/home.ts';
import { importJobs } from '../../../src/records/import.ts';
import { openRecords } from '../../../src/records/jobs.ts';
import { bundled, folderFor, must } from './fire.ts';
import { exportOf } from './stream.ts';

/** Milliseconds, the median of the rounds. */
export interface Timing {
  readonly one: number;
  readonly many: number;
}

export interface Measured {
  readonly jobs: number;
  readonly rows: number;
  readonly fileMb: number;
  readonly databaseMb: number;
  readonly importSeconds: number;
  readonly importCpuSeconds: number;
  /** A bare JSON.parse of every line of the same file, lines a second: what the machine gives just now. */
  readonly parseRate: number;
  readonly commands: Readonly<Record<string, Timing>>;
  /** Opening the records, the job worked on last, the newest 200, and that job's whole log, within one process. */
  readonly open: Timing;
}

const median = (values: readonly number[]): number =>
  values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;

function writeExport(path: string, jobs: number, readings: number): void {
  const file = openSync(path, 'w');
  for (const piece of exportOf(jobs, readings)) writeSync(file, piece);
  closeSync(file);
}

async function timedImport(path: string, home: string) {
  const records = must(openRecords(homeOf({}, home)));
  const cpu = process.cpuUsage();
  const began = performance.now();
  const report = must(await importJobs(records, createReadStream(path, { highWaterMark: 1 << 20 })));
  const seconds = (performance.now() - began) / 1000;
  const { user, system } = process.cpuUsage(cpu);
  records.close();
  if (report.refused > 0) throw new Error(`rows were refused: ${JSON.stringify(report.firstRefused[0])}`);
  return { rows: report.entries.added + report.readings.added, seconds, cpuSeconds: (user + system) / 1e6 };
}

/** JSON.parse alone over the first lines of an export. */
function parseRate(readings: number): number {
  const lines = [...exportOf(2000, readings)].join('').trimEnd().split('\n');
  const began = performance.now();
  for (const line of lines) JSON.parse(line);
  return lines.length / ((performance.now() - began) / 1000);
}

function timedCommand(program: string, home: string, args: readonly string[]): number {
  const began = performance.now();
  const ran = spawnSync(process.execPath, [program, ...args, '--home', home], { encoding: 'utf8' });
  if (ran.status !== 0) throw new Error(`${args.join(' ')}: ${ran.stderr}`);
  return performance.now() - began;
}

function timedOpen(home: string): number {
  const began = performance.now();
  const records = must(openRecords(homeOf({}, home)));
  const job = must(records.latestOpenJob());
  must(records.list({ limit: 200 }));
  if (job) jobOf(must(records.entriesOf(job.id)));
  records.close();
  return performance.now() - began;
}

/** Both homes by turns, so that what else the machine does falls on both. */
function against(rounds: number, one: () => number, many: () => number): Timing {
  const taken = Array.from({ length: rounds }, () => ({ one: one(), many: many() }));
  return { one: median(taken.map((each) => each.one)), many: median(taken.map((each) => each.many)) };
}

const COMMANDS: Readonly<Record<string, readonly string[]>> = {
  list: ['jobs'],
  'list --json': ['jobs', '--json'],
  'list --open': ['jobs', '--open'],
  'list --name': ['jobs', '--name', 'Box 1'],
  'show by number': ['jobs', 'show', '1', '--json'],
  'show by name': ['jobs', 'show', 'Box 1', '--json'],
};

/** Measures everything once; needs some 3 GB of free disk at full size. */
export async function measureRecords(jobs: number, readings: number, rounds: number): Promise<Measured> {
  const { folder, remove } = folderFor('records-bench');
  const program = bundled('tests/bench/records/jobs-program.ts');
  try {
    const [one, many, file] = ['one', 'many', 'jobs.ndjson'].map((name) => join(folder, name));
    if (!one || !many || !file) throw new Error('three names make three paths');
    writeExport(file, 1, readings);
    await timedImport(file, one);
    writeExport(file, jobs, readings);
    const imported = await timedImport(file, many);
    const commands = Object.entries(COMMANDS).map(([name, args]) => [
      name,
      against(
        rounds,
        () => timedCommand(program.path, one, args),
        () => timedCommand(program.path, many, args),
      ),
    ]);
    return {
      jobs,
      rows: imported.rows,
      fileMb: statSync(file).size / 1e6,
      databaseMb: statSync(homeOf({}, many).database).size / 1e6,
      importSeconds: imported.seconds,
      importCpuSeconds: imported.cpuSeconds,
      parseRate: parseRate(readings),
      commands: Object.fromEntries(commands),
      open: against(
        rounds,
        () => timedOpen(one),
        () => timedOpen(many),
      ),
    };
  } finally {
    program.remove();
    remove();
  }
}
