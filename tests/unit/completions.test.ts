// Completions and the man page: made from every command's definition, and read by the shells and formatters that are here.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import about from '../../package.json' with { type: 'json' };
import { COMMANDS } from '../../src/commands/all.ts';
import type { CommandSpec } from '../../src/commands/command.ts';
import { HOME_OPTION } from '../../src/commands/program.ts';
import { bashScript, quoted } from '../../src/commands/shell/bash.ts';
import { fishScript } from '../../src/commands/shell/fish.ts';
import { flagOf, grammarOf, type Place, placesIn, plainText } from '../../src/commands/shell/grammar.ts';
import { manPage } from '../../src/commands/shell/manual.ts';
import { roffLine } from '../../src/commands/shell/roff.ts';
import { zshScript } from '../../src/commands/shell/zsh.ts';
import { SETTING_KEYS, variableOf } from '../../src/kit/settings.ts';

let folder = '';
let specs: readonly CommandSpec[] = [];
let root: Place;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'lidwright-shell-'));
  specs = await Promise.all(COMMANDS.map(({ load }) => load()));
  root = grammarOf(specs, about.description, [HOME_OPTION]);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** What a program of this machine says to a script; undefined where it is not installed. */
function say(
  program: string,
  args: readonly string[],
  input = '',
): { code: number | null; out: string; err: string } | undefined {
  const ran = spawnSync(program, args, {
    input,
    encoding: 'utf8',
    env: { PATH: process.env.PATH, LANG: 'C.UTF-8', TERM: 'dumb' },
  });
  return ran.error ? undefined : { code: ran.status, out: ran.stdout, err: ran.stderr };
}

const written = (name: string, text: string): string => {
  const path = join(folder, name);
  writeFileSync(path, `${text}\n`);
  return path;
};

const longNames = (place: Place): readonly string[] =>
  place.flags.flatMap(({ names }) => names.filter((name) => name.startsWith('--')));
const subNames = (place: Place): readonly string[] => place.subs.map(({ path }) => path.at(-1) ?? '');

describe('the grammar', () => {
  test.each([
    ['--json', { names: ['--json'], value: null }],
    [
      '-o, --out <file>',
      { names: ['-o', '--out'], value: { name: 'file', offer: { kind: 'files' }, many: false } },
    ],
    ['--travel <lengths...>', { value: { name: 'lengths', offer: { kind: 'nothing' }, many: true } }],
    ['--home [folder]', { value: { name: 'folder', offer: { kind: 'folders' } } }],
  ])('%s is understood', (flags, flag) => {
    expect(flagOf({ flags, about: 'a' })).toMatchObject(flag);
  });

  test('every command and every sub-command has its place, each with help and home', () => {
    const places = placesIn(root);
    expect(places.length).toBeGreaterThan(specs.length + 5);
    for (const place of places)
      expect(longNames(place)).toEqual(expect.arrayContaining(['--help', '--home']));
  });
});

describe('bash', () => {
  /** What bash offers after each of these lines; a line's last word is what is being typed. */
  function offered(lines: readonly string[]): readonly (readonly string[])[] | undefined {
    const path = written('completion.bash', bashScript(root));
    const asking = lines.map((line) => {
      const words = line.split(' ');
      const typed = words.map(quoted).join(' ');
      return `COMP_WORDS=(${typed}); COMP_CWORD=${words.length - 1}; _lidwright; echo "\${COMPREPLY[*]}"`;
    });
    const ran = say('bash', ['--norc', '--noprofile'], `source ${quoted(path)}\n${asking.join('\n')}\n`);
    if (!ran) return undefined;
    expect({ code: ran.code, err: ran.err }).toEqual({ code: 0, err: '' });
    return ran.out
      .split('\n')
      .slice(0, lines.length)
      .map((line) => line.split(' ').filter((word) => word !== ''));
  }

  test('offers at every place its sub-commands and its flags, and nothing else', () => {
    const places = placesIn(root).filter(({ positionals }) =>
      positionals.every(({ offer }) => offer.kind === 'nothing'),
    );
    expect(places.length).toBeGreaterThan(10);
    const replies = offered(places.map(({ path }) => ['lidwright', ...path, ''].join(' ')));
    for (const [at, place] of places.entries())
      expect(replies?.[at] ?? [...subNames(place), ...longNames(place)]).toEqual([
        ...subNames(place),
        ...longNames(place),
      ]);
  });

  test('offers the words of a value, files where files are meant, and nothing where anything may stand', () => {
    writeFileSync(join(folder, 'a trace.txt'), '');
    const lines = [
      'lidwright kit add feed slide --deeper ',
      'lidwright kit add c',
      'lidwright k',
      'lidwright kit calibrate --bore ',
      `lidwright listen --record ${folder}/a`,
      'lidwright --unit i',
    ];
    expect(offered(lines) ?? 'no bash here').toEqual([
      ['up', 'down'],
      ['caliper', 'cutter'],
      ['kit'],
      [],
      [`${folder}/a`, 'trace.txt'],
      ['in'],
    ]);
  });

  test('a value that is called like a command does not lead anywhere', () => {
    const [reply] = offered(['lidwright kit show kit ']) ?? [['--json', '--home', '--help']];
    expect(reply).toEqual(['--json', '--home', '--help']);
  });
});

/** Checks a script's syntax with the shell, where it is installed. */
function syntaxOf(shell: 'zsh' | 'fish', script: string): string {
  const ran = say(shell, ['-n', written(`completion.${shell}`, script)]);
  return ran ? `${ran.code}${ran.err}` : '0';
}

describe('zsh', () => {
  test('has a function for every place, names every flag, and is sound', () => {
    const script = zshScript(root);
    expect(script.startsWith('#compdef lidwright\n')).toBe(true);
    for (const place of placesIn(root)) {
      expect(script).toContain(`${['_lidwright', ...place.path].join('_').replaceAll('-', '_')}() {`);
      for (const name of longNames(place)) expect(script).toContain(`${name}[`);
    }
    expect(syntaxOf('zsh', script)).toBe('0');
  });

  test('what would end a specification is escaped', () => {
    const place: Place = {
      ...root,
      flags: [{ names: ['--a'], value: null, about: "it's [odd]: `x`" }],
      subs: [],
    };
    expect(zshScript(place)).toContain("'--a[it'\\''s \\[odd\\]\\: x]'");
  });
});

describe('fish', () => {
  test('has a line for every flag and every sub-command, and is sound', () => {
    const script = fishScript(root);
    for (const place of placesIn(root)) {
      const here = `-n '${['__lidwright_at', ...place.path].join(' ')}'`;
      for (const name of longNames(place))
        expect(script).toMatch(new RegExp(`${here} .*-l ${name.slice(2)}[ \n]`));
      for (const name of subNames(place)) expect(script).toContain(`${here} -a ${name} `);
    }
    expect(syntaxOf('fish', script)).toBe('0');
  });

  test('offers what bash offers', () => {
    const path = written('completion.fish', fishScript(root));
    const ran = say('fish', [
      '--no-config',
      '-c',
      `source ${path}; complete -C 'lidwright kit add '; complete -C 'lidwright kit add feed x --deeper '`,
    ]);
    const words = ran?.out
      .split('\n')
      .map((line) => line.split('\t')[0])
      .filter((word) => word !== '');
    expect(words ?? ['caliper', 'cutter', 'feed', 'down', 'up']).toEqual([
      'caliper',
      'cutter',
      'feed',
      'down',
      'up',
    ]);
  });
});

describe('the man page', () => {
  const page = () => manPage(specs, { version: about.version, about: about.description });

  test('names every command, option, example and setting', () => {
    const text = page();
    const walk = (spec: CommandSpec, above: string): void => {
      expect(text).toContain(`.SS "${`${above}${spec.name}`.replaceAll('-', '\\-')}"`);
      expect(text).toContain(`\n${roffLine(`lidwright ${spec.example.line}`)}\n`);
      for (const { flags } of spec.options)
        expect(text).toContain(`\\fB${(/--[a-z-]+/.exec(flags)?.[0] ?? '').replaceAll('-', '\\-')}\\fR`);
      for (const sub of spec.sub ?? []) walk(sub, `${above}${spec.name} `);
    };
    for (const spec of specs) walk(spec, '');
    for (const key of SETTING_KEYS) expect(text).toContain(`\\fB${variableOf(key)}\\fR`);
  });

  test('has only requests that it means to have', () => {
    const requests = page()
      .split('\n')
      .filter((line) => /^[.']/.test(line))
      .map((line) => line.split(' ')[0]);
    expect([...new Set(requests)].sort()).toEqual([
      '.PP',
      '.RE',
      '.RS',
      '.SH',
      '.SS',
      '.TH',
      '.TP',
      '.fi',
      '.nf',
    ]);
    expect(page()).toMatch(/^[\n -~]*$/);
  });

  test('is formatted without a warning where a formatter is installed, with its text whole', () => {
    const path = written('lidwright.1', page());
    const groff = say('groff', ['-man', '-ww', '-Tascii', '-P-cbou', '-rLL=200n', path]);
    expect(groff?.err ?? '').toBe('');
    const shown = (groff?.out ?? page()).replace(/\s+/g, ' ');
    expect(shown).toContain('kit calibrate');
    const example = '--tip "flat 0.2mm" --diameter 20mm --top-speed 8000';
    expect(groff ? shown : example).toContain(example);
  });

  test('any text comes out of roff as it went in', () => {
    const undone = (text: string): string =>
      text
        .replace(/^\\&/, '')
        .replace(/\\\[u([0-9A-F]+)\]/g, (_, code: string) => String.fromCodePoint(Number.parseInt(code, 16)))
        .replaceAll('\\(aq', "'")
        .replaceAll('\\(ga', '`')
        .replaceAll('\\(ha', '^')
        .replaceAll('\\(ti', '~')
        .replaceAll('\\-', '-')
        .replaceAll('\\e', '\\');
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom(...'.\'\\-~^`"a é∅e(&[]u') }), (text) => {
        const line = roffLine(text);
        expect(line).not.toMatch(/^[.']/);
        expect(undone(line)).toBe(text);
      }),
    );
  });
});

test('a description loses its marks of code and whatever could move a cursor', () => {
  expect(plainText('see `kit`\u001b[2J')).toBe('see kit[2J');
});
