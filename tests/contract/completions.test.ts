// Completions and the man page: each shell that is here asks the built program, and each formatter reads the page.
import { spawnSync } from 'node:child_process';
import { chmodSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, test } from 'vitest';
import { COMMANDS } from '../../src/commands/all.ts';
import { SETTING_KEYS, variableOf } from '../../src/kit/settings.ts';
import { runLine } from '../support/command-run.ts';
import { freshFolder } from '../support/fresh-folder.ts';

const folder = freshFolder();
const program = join(folder, 'lidwright');
writeFileSync(program, `#!/bin/sh\nexec '${process.execPath}' '${resolve('dist/lidwright.js')}' "$@"\n`);
chmodSync(program, 0o755);
writeFileSync(join(folder, 'a trace.txt'), '');

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

/** The words that the program offers for the last of these, without what they are. */
const offered = async (...words: readonly string[]): Promise<readonly string[]> => {
  const { data } = await runLine(folder, ['completions', 'offer', '--', ...words]);
  return data.map((line) => line.split('\t')[0] ?? '');
};

test('the next word is every command at first, every flag of the bench after a dash, and file names for a file', async () => {
  expect(await offered('')).toEqual(COMMANDS.map(({ name }) => name));
  expect(await offered('--')).toContain('--unit');
  expect(await offered('listen', '--record', '')).toEqual([':files']);
  expect(await offered('fit', '--home', '')).toEqual([':folders']);
  expect(await offered('fit', '--bore', '')).toEqual([]);
});

const typed = (line: string): string =>
  line
    .split(' ')
    .map((word) => `'${word}'`)
    .join(' ');
const ZSH_STUBS = `compdef() { :; }; _describe() { print -l -- "\${(@)offers%%:*}"; }\n`;

/** How each shell is asked: with its script loaded, and a line as typed. */
const SHELLS: Readonly<Record<string, (script: string, line: string) => string | undefined>> = {
  bash: (script, line) =>
    say(
      'bash',
      ['--norc', '--noprofile'],
      `${script}\nCOMP_WORDS=(${typed(line)}); COMP_CWORD=$((\${#COMP_WORDS[@]} - 1)); _lidwright; echo "\${COMPREPLY[@]}"\n`,
    ),
  fish: (script, line) =>
    say('fish', ['--no-config', '-c', `${script}\ncomplete -C '${line}'`])?.replace(/\t.*/g, ''),
  zsh: (script, line) =>
    say('zsh', [
      '-f',
      '-c',
      `${ZSH_STUBS}${script}\nwords=(${typed(line)}); CURRENT=$#words; _lidwright || true`,
    ]),
};

test.each(Object.entries(SHELLS))('%s offers what the program says', (shell, ask) => {
  const script = say('lidwright', ['completions', shell]) ?? '';
  const aFile = [`lidwright listen --record ${folder}/a`, [`${folder}/a`, 'trace.txt']] as const;
  for (const [line, words] of shell === 'bash' ? [...OFFERS, aFile] : OFFERS)
    expect(wordsIn(ask(script, line) ?? words.join(' '))).toEqual(words);
});

test('the man page names every command and variable, says nothing that roff obeys, and formatters read it', async () => {
  const { data } = await runLine(folder, 'man');
  const page = `${data.join('\n')}\n`;
  for (const { name } of COMMANDS) expect(page).toContain(`.SS "${name}"`);
  for (const key of SETTING_KEYS) expect(page).toContain(variableOf(key));
  const requests = new Set(data.flatMap((line) => /^\.(\S+)/.exec(line)?.[1] ?? []));
  expect([...requests].sort()).toEqual(['PP', 'RE', 'RS', 'SH', 'SS', 'TH', 'TP', 'fi', 'nf']);
  for (const [formatter, ...args] of [
    ['mandoc', '-Tlint', '-Wwarning'],
    ['groff', '-man', '-Tutf8', '-ww', '-z'],
  ] as const)
    expect(say(formatter, args, page) ?? '').toBe('');
});
