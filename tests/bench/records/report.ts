// How the records hold up at 100,000 jobs and 5 million readings: rows imported a second, and list, show and open against a home with
// one job. `tsx tests/bench/records/report.ts [jobs] [readings a job] [rounds]`, 100,000, 50 and 9 by default: some 3 GB of free disk.
import { spawnSync } from 'node:child_process';
import { closeSync, createReadStream, openSync, statSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { jobOf } from '../../../src/core/bench/job.ts';
import { medianOf } from '../../../src/core/statistics.ts';
import { HEADER, lineOf, plainRowsOf } from '../../../src/records/codec/row.ts';
import { homeOf } from '../../../src/records/home.ts';
import { importJobs } from '../../../src/records/import.ts';
import { openRecords } from '../../../src/records/jobs.ts';
import { bundled } from '../../support/bundled.ts';
import { freshFolder } from '../../support/fresh-folder.ts';
import { machine, processorMs } from '../../support/processor.ts';
import { must } from '../../support/records-home.ts';
import { sampleJob } from './sample.ts';

const [jobs = 100_000, readings = 50, rounds = 9] = process.argv.slice(2).map(Number);

const linesOfJob = (seed: number): readonly string[] =>
  sampleJob(seed, readings).flatMap((entry, place) => plainRowsOf(entry, place + 1).map(lineOf));

function writeExport(path: string, count: number): void {
  const file = openSync(path, 'w');
  writeSync(file, `${HEADER}\n`);
  for (let seed = 1; seed <= count; seed += 1) writeSync(file, `${linesOfJob(seed).join('\n')}\n`);
  closeSync(file);
}

async function timedImport(path: string, home: string) {
  const records = must(openRecords(homeOf({}, home)));
  const [began, spent] = [performance.now(), processorMs()];
  const report = must(await importJobs(records, createReadStream(path, { highWaterMark: 1 << 20 })));
  const seconds = (performance.now() - began) / 1000;
  const cpuSeconds = (processorMs() - spent) / 1000;
  records.close();
  if (report.refused > 0) throw new Error(`rows were refused: ${JSON.stringify(report.firstRefused[0])}`);
  return { rows: report.entries.added + report.readings.added, seconds, cpuSeconds };
}

/** A bare JSON.parse of lines of such a file, lines a second: what the machine gives just now. */
function parseRate(): number {
  const lines = Array.from({ length: 2000 }, (_, at) => linesOfJob(at + 1)).flat();
  const began = performance.now();
  for (const line of lines) JSON.parse(line);
  return lines.length / ((performance.now() - began) / 1000);
}

const { outfile: program } = await bundled('tests/bench/records/jobs-program.ts');

const command =
  (...args: readonly string[]) =>
  (home: string): void => {
    const ran = spawnSync(process.execPath, [program, ...args, '--home', home], { encoding: 'utf8' });
    if (ran.status !== 0) throw new Error(`${args.join(' ')}: ${ran.stderr}`);
  };

/** Opening the records, the job worked on last, the newest 200, and that job's whole log, within one process. */
function openBench(home: string): void {
  const records = must(openRecords(homeOf({}, home)));
  const job = must(records.latestOpenJob());
  must(records.list({ limit: 200 }));
  if (job) jobOf(must(records.entriesOf(job.id)));
  records.close();
}

const TIMED: readonly (readonly [name: string, work: (home: string) => void])[] = [
  ['list', command('jobs')],
  ['list --json', command('jobs', '--json')],
  ['list --open', command('jobs', '--open')],
  ['list --name', command('jobs', '--name', 'Box 1')],
  ['show by number', command('jobs', 'show', '1', '--json')],
  ['show by name', command('jobs', 'show', 'Box 1', '--json')],
  ['open the bench', openBench],
];

function timed(work: () => void): number {
  const began = performance.now();
  work();
  return performance.now() - began;
}

const folder = freshFolder();
const [one, many, file] = [join(folder, 'one'), join(folder, 'many'), join(folder, 'jobs.ndjson')];
writeExport(file, 1);
await timedImport(file, one);
writeExport(file, jobs);
const { rows, seconds, cpuSeconds } = await timedImport(file, many);
const megabytes = (path: string): string => `${(statSync(path).size / 1e6).toFixed(0)} MB`;
console.log(`${machine()}; medians of ${rounds} rounds`);
console.log(
  `${jobs} jobs, ${rows.toLocaleString('en')} rows: export ${megabytes(file)}, database ${megabytes(homeOf({}, many).database)}`,
);
console.log(
  `import ${seconds.toFixed(1)} s (${cpuSeconds.toFixed(1)} s of processor), ${Math.round(rows / seconds)} rows/s, ${(rows / seconds / parseRate()).toFixed(3)} of JSON.parse alone`,
);
for (const [name, work] of TIMED) {
  // Both homes by turns, so that what else the machine does falls on both.
  const taken = Array.from(
    { length: rounds },
    () => [timed(() => work(one)), timed(() => work(many))] as const,
  );
  const [alone, all] = [medianOf(taken.map(([ms]) => ms)), medianOf(taken.map(([, ms]) => ms))];
  console.log(
    `${name.padEnd(16)} ${alone.toFixed(0).padStart(6)} ms with one job ${all.toFixed(0).padStart(6)} ms with all; allowed ${(1.5 * alone + 50).toFixed(0)} ms`,
  );
}
