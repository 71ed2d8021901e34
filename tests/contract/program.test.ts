// The command line itself: mistyped words, foul text, a full disk behind stdout, what each part loads, and one style of help.
import { spawnSync } from 'node:child_process';
import { openSync, readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, test } from 'vitest';
import { everyCommand, runLine } from '../support/command-run.ts';
import { freshFolder } from '../support/fresh-folder.ts';

const home = freshFolder();

test.each([
  ['fits', 'Unknown command "fits". Did you mean fit?'],
  ['seasn --wood pear', 'Did you mean season?'],
  ['jobs stat', 'Unknown command "stat". Did you mean statistics?'],
  ['kit calibrat', 'Did you mean calibrate?'],
  ['kit frobnicate', 'Unknown command "frobnicate". The commands are add, show, change'],
  [
    'fit --bor 50mm',
    "Unknown option '--bor'. Did you mean --bore? Nothing was done. `lidwright fit --help` shows what is accepted, with an example.",
  ],
  ['kit add', "Missing required argument 'kind'. Nothing was done. `lidwright kit add --help` shows"],
  ['kit add lathe x', 'Allowed choices are caliper, cutter, feed. Nothing was done.'],
])('a mistyped word gets a suggestion: lidwright %s', async (line, said) => {
  const told = await runLine(home, line);
  expect(told).toMatchObject({ code: 2, data: [] });
  expect(told.said.join('\n')).toContain(said);
});

test.each(['align --bored \x1b[31m', '\x1b]0;x\x07', 'fit --\x9b31m', 'kit show \x1b[2J'])(
  'no escape sequence of %j reaches stderr',
  async (line) => {
    const { said } = await runLine(home, line);
    expect(said.join('\n')).not.toBe('');
    expect(said.join('')).not.toMatch(/\p{Cc}/u);
  },
);

test.each(['--help', '--version', 'man', 'kit where --json'])(
  'on a full disk lidwright %s ends with one sentence and exit 3',
  (line) => {
    const ran = spawnSync(process.execPath, [resolve('dist/lidwright.js'), ...line.split(' ')], {
      stdio: ['ignore', openSync('/dev/full', 'w'), 'pipe'],
      encoding: 'utf8',
      env: { PATH: process.env.PATH, LIDWRIGHT_HOME: home },
    });
    expect(ran.status).toBe(3);
    expect(ran.stderr).toMatch(
      /^lidwright: the output couldn't be written \(ENOSPC\), so it isn't complete\./m,
    );
    expect(ran.stderr).not.toMatch(/\n\s+at |throw|Error:/);
  },
);

test('only the parts that work out doubts carry the statistics library', () => {
  const carrying = readdirSync('dist').filter((part) =>
    readFileSync(join('dist', part), 'utf8').includes('studentt'),
  );
  expect(carrying).toEqual([
    'commands-bench-start.js',
    'commands-fit.js',
    'commands-jobs-change.js',
    'commands-jobs-show.js',
    'commands-jobs-statistics.js',
    'commands-kit-calibrate.js',
    'commands-replay-watching.js',
    'commands-replay.js',
    'sheet-drawings.js',
    'sheet-page.js',
  ]);
});

test('help is in one style (lower case, no full stop, no sentence), and each example names its command', async () => {
  const all = await everyCommand();
  const texts = all.flatMap(({ summary, arguments: args = [], options, example }) => [
    summary,
    ...[...args, ...options].map(({ about }) => about),
    example.shows,
  ]);
  expect(texts.filter((text) => /^[A-Z][a-z]/.test(text) || /[.!?]$/.test(text))).toEqual([]);
  for (const { example, name } of all) expect(example.line).toContain(name);
});
