// Every example of every --help, run as printed by a shell against the built program, in a home that holds one job.
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, readFileSync, symlinkSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { text } from 'node:stream/consumers';
import { describe, expect, test } from 'vitest';
import { COMMANDS } from '../../src/commands/all.ts';
import type { CommandSpec } from '../../src/commands/command.ts';
import { mm } from '../../src/core/units.ts';
import { homeOf } from '../../src/records/home.ts';
import { newId } from '../../src/records/jobs.ts';
import { Table } from '../support/bench.ts';
import { runLine, withSubs } from '../support/command-run.ts';
import { freshFolder } from '../support/fresh-folder.ts';
import { exportedText, must, opened } from '../support/records-home.ts';
import { Eye } from '../support/terminal.ts';

const root = resolve(import.meta.dirname, '../..');
const specs = await Promise.all(COMMANDS.map(({ load }) => load()));
/** These open a screen and stay until they are left. */
const SCREENS = ['bench', 'demo'];
/** The doctor's code is the state of this machine; it may find no board. */
const CODES: { readonly [command: string]: readonly number[] } = { doctor: [0, 1] };

/** True where --json is an option that the example does not show already. */
const wantsJson = ({ options, example }: CommandSpec): boolean =>
  options.some(({ flags }) => flags === '--json') && !example.line.includes('--json');

const bin = freshFolder();
symlinkSync(join(root, 'dist/lidwright.js'), join(bin, 'lidwright'));

/** A home with one tried job in it, and its export as another bench would send it. */
function benchWithAJob(): { readonly home: string; readonly exported: string } {
  const home = freshFolder();
  const records = opened(homeOf({}, home));
  const { entries } = new Table().type('50').type('51.1');
  const [begun] = entries;
  if (!begun) throw new Error('the bench began no job');
  const trial = { kind: 'trial-made', verdict: 'running', clearance: mm(0.15), standard: mm(0.04) } as const;
  must(records.appendAll([...entries, { ...begun, id: newId(), fact: trial, readings: [] }]));
  const exported = exportedText(records);
  records.close();
  return { home, exported };
}

/** A folder to stand in, where the paths of the examples are those of the project. */
function standing(): string {
  const here = freshFolder();
  mkdirSync(join(here, 'here'));
  symlinkSync(join(root, 'shared'), join(here, 'here/shared'));
  return join(here, 'here');
}

const environment = (home: string): NodeJS.ProcessEnv => ({
  PATH: `${bin}:${process.env.PATH}`,
  LANG: 'C.UTF-8',
  LIDWRIGHT_HOME: home,
});

async function shell(line: string, home: string, cwd: string, input: string) {
  const child = spawn('sh', ['-c', `lidwright ${line}`], { cwd, env: environment(home) });
  child.stdin.on('error', () => undefined);
  child.stdin.end(input);
  const [out, err, [code]] = await Promise.all([
    text(child.stdout),
    text(child.stderr),
    once(child, 'close'),
  ]);
  return { code, out, err };
}

const parsed = (lines: readonly string[]): readonly unknown[] =>
  lines.filter((line) => line !== '').map((line) => JSON.parse(line));

describe.each(specs.filter(({ name }) => !SCREENS.includes(name)))('$name', (command) => {
  const all = withSubs(command);

  test('its examples end well and give something', async () => {
    const { home, exported } = benchWithAJob();
    const here = standing();
    for (const { example } of all) {
      const { code, out, err } = await shell(example.line, home, here, exported);
      expect(CODES[command.name] ?? [0], `${example.line}: ${err}`).toContain(code);
      const [, file] = / --file (\S+)/.exec(example.line) ?? [];
      const given = file === undefined ? out : readFileSync(join(here, file), 'utf8');
      expect(given.trim(), example.line).not.toBe('');
      if (example.line.includes('--json'))
        expect(parsed(out.split('\n')).length, example.line).toBeGreaterThan(0);
    }
  });
});

describe.each(specs.filter((spec) => withSubs(spec).some(wantsJson)))('$name --json', (command) => {
  test('gives lines that parse', async () => {
    const { home, exported } = benchWithAJob();
    const here = standing();
    for (const spec of withSubs(command)) {
      const line = wantsJson(spec) ? `${spec.example.line} --json` : spec.example.line;
      const lines = / - | --file /.test(line)
        ? (await shell(line, home, here, exported)).out.split('\n')
        : (await runLine(home, line)).data;
      if (wantsJson(spec)) expect(parsed(lines).length, line).toBeGreaterThan(0);
    }
  });
});

describe.each(specs.filter(({ name }) => SCREENS.includes(name)))('$name', ({ example }) => {
  test('its example opens a screen that can be left', async () => {
    const eye = new Eye({
      command: ['sh', '-c', `lidwright ${example.line}`],
      env: environment(freshFolder()),
      cwd: root,
    });
    await eye.untilShown('lidwright');
    expect(await eye.left()).toBe(0);
  });
});

test.each(specs.flatMap((spec) => withSubs(spec).map((each) => ({ spec, each }))))(
  '--help of $each.name shows its example',
  async ({ spec, each }) => {
    const path = each === spec ? spec.name : `${spec.name} ${each.name}`;
    const { code, data } = await runLine(freshFolder(), `${path} --help`);
    expect(code).toBe(0);
    expect(data).toContain(`  lidwright ${each.example.line}`);
    expect(data).toContain(`  ${each.example.shows}`);
  },
);
