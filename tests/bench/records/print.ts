// Prints the records' figures: `tsx tests/bench/records/print.ts [jobs] [readings a job] [rounds]`, 100,000, 50 and 9 by default.
import { cpus, loadavg } from 'node:os';
import { measureRecords, type Timing } from './measure.ts';

const [jobs = 100_000, readings = 50, rounds = 9] = process.argv.slice(2).map(Number);

async function print(): Promise<void> {
  const found = await measureRecords(jobs, readings, rounds);
  const rate = found.rows / found.importSeconds;
  const rows = Math.round(found.rows).toLocaleString('en');
  const say = (line: string): void => void process.stdout.write(`${line}\n`);
  const timing = (name: string, { one, many }: Timing): string =>
    `${name.padEnd(16)} ${one.toFixed(0).padStart(6)} ms with one job ${many.toFixed(0).padStart(6)} ms with all; allowed ${(1.5 * one + 50).toFixed(0)} ms`;
  say(
    `Node ${process.version}, ${cpus().length} cores, load ${loadavg()[0]?.toFixed(1)}; medians of ${rounds} rounds`,
  );
  say(
    `${found.jobs} jobs, ${rows} rows: export ${found.fileMb.toFixed(0)} MB, database ${found.databaseMb.toFixed(0)} MB`,
  );
  say(
    `import ${found.importSeconds.toFixed(1)} s (${found.importCpuSeconds.toFixed(1)} s of processor), ${Math.round(rate)} rows/s, ${(rate / found.parseRate).toFixed(3)} of JSON.parse alone`,
  );
  for (const [name, each] of Object.entries(found.commands)) say(timing(name, each));
  say(timing('open the bench', found.open));
}

await print();
