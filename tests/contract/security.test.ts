// Text from outside goes nowhere unescaped: not to a terminal, a page, a drawing, a spreadsheet, a file name or a shell.
import { readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { COMMANDS } from '../../src/commands/all.ts';
import type { Entry, Fact, KeptReading } from '../../src/core/bench/entry.ts';
import type { Setup } from '../../src/core/bench/setup.ts';
import { startBench, step } from '../../src/core/bench/step.ts';
import { millis, mm } from '../../src/core/units.ts';
import { newId } from '../../src/records/jobs.ts';
import { SILENT, speak } from '../../src/screen/spoken.ts';
import { threaded } from '../support/bench.ts';
import { runLine } from '../support/command-run.ts';
import { freshHome, opened } from '../support/records-home.ts';
import { shownText } from '../support/shown.tsx';

/** What a stranger would put into a name: for the terminal, the page, the spreadsheet, the file system, the shell. */
const HOSTILE = [
  '\x1b]0;owned\x07\x1b[2J\x1b[?1049l \x9b31m\x9d0;owned\x9c\x85\x7f\x00',
  '\u202egnp.exe\u2066 \u200b\u2028\ufeff ../../../../escaped',
  '<script>alert(1)</script><img src=x onerror=alert(1)>"\'><svg onload=alert(1)>&lt;&#x3c;',
  "=cmd|' /C calc'!A0",
  '@SUM(1+1)*cmd $(touch escaped) `touch escaped`; touch escaped',
] as const;

/** Controls (C0, DEL, C1) and what turns or hides text; a line break between lines is none of a text's own. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what this looks for
const UNSAFE = /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u061c\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff]/;

const hostileSetup = (text: string): Setup => ({
  ...threaded,
  name: text,
  wood: text,
  lidWood: text,
  cutter: { ...threaded.cutter, name: text },
  caliper: { ...threaded.caliper, name: text },
  ...(threaded.feed ? { feed: { ...threaded.feed, name: text } } : {}),
  learned: { shift: mm(0.01), spread: mm(0.02), reasons: [text] },
});

/** A whole job in which every text is hostile: what an import could bring. A reading with a NUL character is refused. */
function hostileJob(text: string): readonly Entry[] {
  const reading: KeptReading = {
    text: text.replaceAll('\0', ''),
    unit: 'mm',
    step: mm(0.01),
    value: mm(42.3),
    at: millis(1),
    raw: text.replaceAll('\0', ''),
  };
  const mark = { total: 1, board: text, at: millis(1) };
  const bore = {
    kind: 'bore-taken',
    diameter: mm(42.3),
    standard: mm(0.01),
    degreesOfFreedom: 4,
    tops: 3,
    agreeing: 3,
    spread: mm(0.01),
    how: 'rocked',
  } as const;
  const facts: readonly Fact[] = [
    { kind: 'job-begun', setup: hostileSetup(text) },
    { kind: 'zero-taken', error: mm(0.01), standard: mm(0.01), applied: true, board: text },
    bore,
    { kind: 'capture-doubted', stage: 'bore size', reason: text },
    { kind: 'touched-off', part: 'female', mark },
    { kind: 'feed-counted', part: 'female', mark },
    { kind: 'spigot-taken', diameter: mm(43.4), how: 'read', fit: 'running', clearance: mm(0.15) },
    { kind: 'trial-made', verdict: 'running', clearance: mm(0.15), standard: mm(0.05) },
    { kind: 'note-added', text },
    { kind: 'job-renamed', name: text },
  ];
  const job = newId();
  return facts.map((fact, at) => ({
    id: newId(),
    job,
    at: 1_700_000_000_000 + at,
    fact,
    readings: fact === bore ? [reading] : [],
  }));
}

function hostileHome() {
  const home = freshHome();
  const records = opened(home);
  for (const text of HOSTILE)
    for (const entry of hostileJob(text)) expect(records.append(entry).ok).toBe(true);
  return { home, records };
}

/** Every file and folder below a folder, with its mode. */
const modesBelow = (folder: string): readonly (readonly [string, string])[] =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' }).map((name) => {
    const found = statSync(join(folder, name));
    return [name, `${found.isDirectory() ? 'd' : '-'}${(found.mode & 0o777).toString(8)}`] as const;
  });

test('every command shows a hostile job without one byte of it meaning anything to a terminal', async () => {
  const { home, records } = hostileHome();
  const numbers = HOSTILE.map((_, at) => at + 1);
  records.close();
  const lines = [
    'jobs',
    'jobs --all',
    'jobs --json',
    'jobs statistics',
    'jobs statistics --json',
    'jobs export',
    'jobs export --csv',
    'jobs show "<script>"',
    'jobs show "../../"',
    ...numbers.flatMap((n) => [
      `jobs show ${n}`,
      `jobs show ${n} --json`,
      `sheet ${n}`,
      `sheet ${n} --svg`,
      `sheet ${n} --json`,
    ]),
  ];
  for (const line of lines) {
    const { data, said } = await runLine(home.data, line, COMMANDS);
    expect(data.length + said.length, line).toBeGreaterThan(0);
    for (const text of [...data, ...said])
      expect(
        UNSAFE.exec(text.replace(/\r$/, ''))?.[0].codePointAt(0)?.toString(16),
        `${line}: ${JSON.stringify(text.slice(0, 200))}`,
      ).toBeUndefined();
  }
});

test('a page and its drawings hold a hostile name as text and nothing else', async () => {
  const { home, records } = hostileHome();
  records.close();
  for (const [at, text] of HOSTILE.entries()) {
    for (const line of [`sheet ${at + 1}`, `sheet ${at + 1} --svg`]) {
      const markup = (await runLine(home.data, line, COMMANDS)).data.join('\n');
      expect(markup).not.toMatch(/<(script|img|iframe|object|embed|link|foreignObject)\b/i);
      expect(markup.replace(/&[a-z#0-9]+;/g, '')).not.toMatch(/<[^>]*\son[a-z]+\s*=/i);
      if (/[<"']/.test(text)) expect(markup).not.toContain(text);
    }
  }
});

test('no cell of the readings is a formula to a spreadsheet', async () => {
  const { home, records } = hostileHome();
  records.close();
  const { data } = await runLine(home.data, 'jobs export --csv', COMMANDS);
  const cells = data.flatMap((row) =>
    [...row.matchAll(/"((?:[^"]|"")*)"|([^,]+)/g)].map((match) => (match[1] ?? match[2] ?? '').trimEnd()),
  );
  expect(cells.length).toBeGreaterThan(HOSTILE.length * 5);
  for (const cell of cells) expect(cell).not.toMatch(/^[=+@\t\r]|^-(?!\d+(\.\d+)?$)/);
});

test('hostile kit and settings files are reported in plain characters, and their text names no file', async () => {
  const { home, records } = hostileHome();
  records.close();
  for (const text of HOSTILE) {
    const { said, data } = await runLine(
      home.data,
      `kit add cutter "${text.replaceAll('"', '')}" --angle 60deg --tip sharp`,
      COMMANDS,
    );
    for (const line of [...said, ...data]) expect(line).not.toMatch(UNSAFE);
  }
  for (const line of ['kit', 'kit --json', 'kit where', 'fit --bore 50mm --pitch 16tpi --depth 1mm']) {
    const { said, data } = await runLine(home.data, line, COMMANDS);
    for (const text of [...said, ...data]) expect(text, line).not.toMatch(UNSAFE);
  }
  const names = modesBelow(home.data).map(([name]) => name);
  for (const name of names) expect(name).not.toMatch(/[^ -~]|\.\.|[<>"'`$;|=@\\]/);
  expect(readdirSync(join(home.data, '..'))).toEqual(['home']);
});

test('a hostile trace and board are replayed in plain characters', async () => {
  const home = freshHome();
  const records = opened(home);
  records.close();
  const file = join(home.data, 'hostile.trace');
  const rows = HOSTILE.flatMap((text) => [text, `DI,1,1,${text},mm*0000`, `HI,0,3,1,0.1,${text},x*0000`]);
  const inHex = (text: string) =>
    [...Buffer.from(text)].map((code) => `\\x${code.toString(16).padStart(2, '0')}`).join('');
  writeFileSync(
    file,
    ['# \x1b[2J', ...rows.map((row, at) => `${at}\t${inHex(row)}`), '0\tback in time', '\x1b[2J'].join('\n'),
  );
  for (const line of [
    `replay ${file}`,
    `replay ${file} --json`,
    `replay ${file} --keep bore`,
    `replay ${file} --keep bore --json`,
  ]) {
    const { said, data } = await runLine(home.data, line, COMMANDS);
    for (const text of [...said, ...data]) expect(text, line).not.toMatch(UNSAFE);
  }
});

test('the bench draws and says hostile names, boards and troubles in plain characters', () => {
  for (const text of HOSTILE) {
    const heardAt = millis(0);
    const log = hostileJob(text);
    let bench = startBench(millis(0), 1_700_000_000_000, 'mm');
    const drawn: string[] = [];
    const events = [
      { kind: 'job-opened', log },
      { kind: 'board-found', facts: { board: text, firmware: text, parts: [text] }, at: heardAt, heardAt },
      { kind: 'version-refused', theirs: text, ours: '1', heardAt },
      { kind: 'link-refused', port: text, why: text, heardAt },
      { kind: 'edge-failed', what: text, why: text },
      { kind: 'sheet-written', path: text },
      { kind: 'jobs-listed', jobs: [{ id: text, name: text, touched: 0, stage: 'spigot', closed: false }] },
      { kind: 'escaped' },
      { kind: 'note-asked' },
      { kind: 'typed', text },
    ] as const;
    for (const event of events) {
      bench = step(bench, event).bench;
      for (const stage of [null, 'help'] as const) {
        const at = stage ? { ...bench, help: true } : bench;
        drawn.push(shownText(at, { columns: 120, rows: 40 }).join('\n'));
        for (const line of speak(at, SILENT).lines) expect(line.replaceAll('\n', ' ')).not.toMatch(UNSAFE);
      }
    }
    expect(drawn.join('\n')).not.toMatch(UNSAFE);
  }
});

test('every file written is readable by its owner alone', async () => {
  const { home, records } = hostileHome();
  records.close();
  for (const line of [
    `sheet 1 --file ${home.data}/sheet.html`,
    `jobs export --file ${home.data}/all.ndjson`,
    'kit add feed mine --per-detent 0.2mm --per-detent-standard 0.002mm',
    'kit set unit in',
  ])
    expect(await runLine(home.data, line, COMMANDS), line).toMatchObject({ code: 0 });
  const modes = modesBelow(home.data);
  expect(modes.length).toBeGreaterThan(4);
  for (const [name, mode] of modes)
    expect([name, mode]).toEqual([name, mode.startsWith('d') ? 'd700' : '-600']);
  expect((statSync(home.data).mode & 0o777).toString(8)).toBe('700');
});

test('no source file starts another program or evaluates text', () => {
  const files = readdirSync(join(import.meta.dirname, '../../src'), {
    recursive: true,
    encoding: 'utf8',
  }).filter((name) => /\.tsx?$/.test(name));
  expect(files.length).toBeGreaterThan(200);
  for (const name of files) {
    const source = readFileSync(join(import.meta.dirname, '../../src', name), 'utf8');
    expect(source, name).not.toMatch(/child_process|worker_threads|node:vm|\beval\(|new Function\(/);
  }
});
