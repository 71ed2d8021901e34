// Puts one mistake at a time into a copy of the core and fails unless the host tests catch every one.
import { execFile } from 'node:child_process';
import { cpSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';

const work = 'build/mutants';
const compiler = process.env.CC ?? 'cc';
const facts = process.env.FACTS ?? 'bench-01';
const sources = (folder) => readdirSync(folder).filter((name) => name.endsWith('.c'));

const flags = ['-std=c99', '-O1', '-w', '-Ibuild', `-I../facts/${facts}`];

const run = (file, args, seconds) =>
  new Promise((resolve) => {
    execFile(file, args, { timeout: seconds * 1000, killSignal: 'SIGKILL' }, (error, stdout, stderr) =>
      resolve({ failed: error !== null, text: `${stdout}${stderr}` }),
    );
  });

const mutants = readFileSync('mutants.txt', 'utf8')
  .split('\n')
  .filter((row) => row !== '' && !row.startsWith('#'))
  .map((row) => row.split(' | ').map((part) => part.replaceAll('\\|', '|')));

function seed([file, was, becomes], folder) {
  cpSync('../core', folder, { recursive: true });
  const path = join(folder, file);
  const text = readFileSync(path, 'utf8');
  if (!text.includes(was))
    throw new Error(`mutants.txt: ${file} has no line with "${was}"; bring the row up to date`);
  writeFileSync(
    path,
    text.replace(was, () => becomes),
  );
}

async function compile(args, what) {
  const built = await run(compiler, [...flags, ...args], 120);
  if (built.failed) throw new Error(`${what} does not compile:\n${built.text}`);
}

// The tests are compiled once; what lives in headers is compiled with each mutant, with its own tests.
const inlined = ['test_edge_queue.c', 'test_clock_filter.c'];
const objects = sources('.')
  .filter((name) => !inlined.includes(name))
  .map((name) => join(work, `${name}.o`));
const compileTests = () =>
  Promise.all(objects.map((path) => compile(['-I../core', '-c', '-o', path, basename(path, '.o')], path)));

// Without the sanitizers: what must catch the mistake is a check, not a crash.
async function caught(mutant, number) {
  const folder = join(work, String(number));
  seed(mutant, folder);
  const files = [...objects, ...inlined, ...sources(folder).map((name) => join(folder, name))];
  const program = join(folder, 'host');
  await compile([`-I${folder}`, '-o', program, ...files], `the mutant "${mutant[2]}" in ${mutant[0]}`);
  return (await run(program, ['quick'], 60)).failed;
}

rmSync(work, { recursive: true, force: true });
mkdirSync(work, { recursive: true });
await compileTests();
const missed = [];
const waiting = mutants.entries();
const worker = async () => {
  for (const [number, mutant] of waiting) {
    if (!(await caught(mutant, number))) missed.push(mutant);
  }
};
await Promise.all([worker(), worker()]);

for (const [file, was, becomes] of missed)
  process.stdout.write(`not caught: ${file}: "${was}" -> "${becomes}"\n`);
process.stdout.write(`mutants: ${mutants.length - missed.length} of ${mutants.length} caught\n`);
process.exitCode = missed.length === 0 && mutants.length >= 20 ? 0 : 1;
