// Completions and the man page: each shell that is here asks the built program, and each formatter reads the page.
import { spawnSync } from 'node:child_process';
import { chmodSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { COMMANDS } from '../../src/commands/all.ts';
import { SETTING_KEYS, variableOf } from '../../src/kit/settings.ts';
import { runLine } from '../support/command-run.ts';

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'lidwright-shell-'));
  const program = join(folder, 'lidwright');
  writeFileSync(program, `#!/bin/sh\nexec '${process.execPath}' '${resolve('dist/lidwright.js')}' "$@"\n`);
  chmodSync(program, 0o755);
  writeFileSync(join(folder, 'a trace.txt'), '');
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** What a program of this machine prints; undefined where it is not installed. */
function say(program: string, args: readonly string[], input = ''): string | undefined {
  const env = { PATH: `${folder}:${process.env.PATH}`, LANG: 'C.UTF-8', TERM: 'dumb', HOME: folder };
  const ran = spawnSync(program, args, { input, encoding: 'utf8', env, cwd: folder });
  if (ran.error) return undefined;
  expect({ code: ran.status, err: ran.stderr }).toEqual({ code: 0, err: '' });
  return ran.stdout;
}

const wordsIn = (text: string): readonly string[] => text.split(/\s+/).filter((word) => word !== '');

/** A line as typed up to the cursor, and what has to be offered. */
const OFFERS: readonly (readonly [string, readonly string[]])[] = [
  ['lidwright k', ['kit']],
  ['lidwright kit add c', ['caliper', 'cutter']],
  ['lidwright kit add feed slide --deeper ', ['up', 'down']],
  ['lidwright kit ca', ['calibrate']],
  ['lidwright --unit i', ['in']],
  ['lidwright season --gr', ['--grain']],
];

describe('the next word', () => {
  const offered = async (...words: readonly string[]) =>
    (await runLine(folder, `completions offer -- ${words.map((word) => `"${word}"`).join(' ')}`, COMMANDS))
      .data;

  test('is every command at first, and every flag of the bench after a dash', async () => {
    const words = (await offered('')).map((line) => line.split('\t')[0]);
    expect(words).toEqual(COMMANDS.map(({ name }) => name));
    expect((await offered('--')).join('\n')).toMatch(/^--unit\t/m);
  });

  test('is file names for a file, folders for a folder, and nothing for a free value', async () => {
    expect(await offered('listen', '--record', '')).toEqual([':files']);
    expect(await offered('fit', '--home', '')).toEqual([':folders']);
    expect(await offered('fit', '--bore', '')).toEqual([]);
  });
});

test('bash offers what the program says', () => {
  const script = say('lidwright', ['completions', 'bash']) ?? '';
  for (const [line, words] of [
    ...OFFERS,
    [`lidwright listen --record ${folder}/a`, [`${folder}/a`, 'trace.txt']] as const,
  ]) {
    const typed = line.split(' ').map((word) => `'${word}'`);
    const ask = `COMP_WORDS=(${typed.join(' ')}); COMP_CWORD=${typed.length - 1}; _lidwright; echo "\${COMPREPLY[@]}"`;
    const out = say('bash', ['--norc', '--noprofile'], `${script}\n${ask}\n`);
    expect(wordsIn(out ?? words.join(' '))).toEqual(words);
  }
});

test('fish offers what the program says', () => {
  const script = say('lidwright', ['completions', 'fish']) ?? '';
  for (const [line, words] of OFFERS) {
    const out = say('fish', ['--no-config', '-c', `${script}\ncomplete -C '${line}'`]);
    const offered = out?.split('\n').flatMap((each) => each.split('\t')[0] || []);
    expect(offered ?? words).toEqual(words);
  }
});

test('zsh offers what the program says', () => {
  const script = say('lidwright', ['completions', 'zsh']) ?? '';
  const stubs = `compdef() { :; }; _describe() { print -l -- "\${(@)offers%%:*}"; }\n`;
  for (const [line, words] of OFFERS) {
    const typed = line.split(' ').map((word) => `'${word}'`);
    const ask = `words=(${typed.join(' ')}); CURRENT=${typed.length}; _lidwright`;
    const out = say('zsh', ['-f', '-c', `${stubs}${script}\n${ask} || true`]);
    expect(wordsIn(out ?? words.join(' '))).toEqual(words);
  }
});

describe('the man page', () => {
  test('names every command and every variable, and says nothing that roff obeys', async () => {
    const { data } = await runLine(folder, 'man', COMMANDS);
    const page = data.join('\n');
    for (const { name } of COMMANDS) expect(page).toContain(`.SS "${name}"`);
    for (const key of SETTING_KEYS) expect(page).toContain(variableOf(key));
    const requests = new Set(data.flatMap((line) => /^\.(\S+)/.exec(line)?.[1] ?? []));
    expect([...requests].sort()).toEqual(['PP', 'RE', 'RS', 'SH', 'SS', 'TH', 'TP', 'fi', 'nf']);
  });

  test('is read by the formatters that are here without a complaint', async () => {
    const { data } = await runLine(folder, 'man', COMMANDS);
    const page = `${data.join('\n')}\n`;
    for (const [program, ...args] of [
      ['mandoc', '-Tlint', '-Wwarning'],
      ['groff', '-man', '-Tutf8', '-ww', '-z'],
    ] as const)
      expect(say(program, args, page) ?? '').toBe('');
  });
});
