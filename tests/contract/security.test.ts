// Text from outside goes nowhere unescaped: not to a terminal, a page, a drawing, a spreadsheet, a file name or a shell.
import { readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import type { Entry, Fact, KeptReading } from '../../src/core/bench/entry.ts';
import type { Setup } from '../../src/core/bench/setup.ts';
import { startBench, step } from '../../src/core/bench/step.ts';
import { millis, mm } from '../../src/core/units.ts';
import { newId } from '../../src/records/jobs.ts';
import { SILENT, speak } from '../../src/screen/spoken.ts';
import { threaded } from '../support/bench.ts';
import { runLine } from '../support/command-run.ts';
import { freshHome, must, opened } from '../support/records-home.ts';
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
  const read = text.replaceAll('\0', '');
  const size = { unit: 'mm', step: mm(0.01), value: mm(42.3) } as const;
  const reading: KeptReading = { ...size, text: read, raw: read, at: millis(1) };
  const mark = { total: 1, board: text, at: millis(1) };
  const bore = { diameter: mm(42.3), standard: mm(0.01), degreesOfFreedom: 4, spread: mm(0.01) };
  const facts: readonly Fact[] = [
    { kind: 'job-begun', setup: hostileSetup(text) },
    { kind: 'zero-taken', error: mm(0.01), standard: mm(0.01), applied: true, board: text },
    { kind: 'bore-taken', ...bore, tops: 3, agreeing: 3, how: 'rocked' },
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
    readings: fact.kind === 'bore-taken' ? [reading] : [],
  }));
}

/** A home whose jobs are all hostile; the folder of its files. */
function hostileHome(): string {
  const home = freshHome();
  const records = opened(home);
  must(records.appendAll(HOSTILE.flatMap(hostileJob)));
  records.close();
  return home.data;
}

/** What a command says, on either side, without one byte of it meaning anything to a terminal. */
async function plainly(home: string, line: string): Promise<readonly string[]> {
  const { data, said } = await runLine(home, line);
  const texts = [...data, ...said];
  expect(texts.length, line).toBeGreaterThan(0);
  for (const text of texts) expect(text.replace(/\r$/, ''), line).not.toMatch(UNSAFE);
  return data;
}

/** Every file and folder below a folder, with its mode. */
const modesBelow = (folder: string): readonly (readonly [string, string])[] =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' }).map((name) => {
    const found = statSync(join(folder, name));
    return [name, `${found.isDirectory() ? 'd' : '-'}${(found.mode & 0o777).toString(8)}`] as const;
  });

test('every command shows a hostile job, kit, trace and board in plain characters, and their text names no file', async () => {
  const home = hostileHome();
  const trace = join(home, 'hostile.trace');
  const rows = HOSTILE.flatMap((text) => [text, `DI,1,1,${text},mm*0000`, `HI,0,3,1,0.1,${text},x*0000`]);
  const inHex = (text: string) =>
    [...Buffer.from(text)].map((code) => `\\x${code.toString(16).padStart(2, '0')}`).join('');
  const timed = rows.map((row, at) => `${at}\t${inHex(row)}`);
  writeFileSync(trace, ['# \x1b[2J', ...timed, '0\tback in time', '\x1b[2J'].join('\n'));
  const numbers = HOSTILE.map((_, at) => at + 1);
  for (const line of [
    ...['jobs', 'jobs --all', 'jobs --json', 'jobs statistics', 'jobs statistics --json', 'jobs export'],
    ...['jobs export --csv', 'jobs show "<script>"', 'jobs show "../../"'],
    ...numbers.flatMap((n) => [`jobs show ${n} --log`, `jobs show ${n} --json`, `sheet ${n} --json`]),
    ...HOSTILE.map((text) => `kit add cutter "${text.replaceAll('"', '')}" --angle 60deg --tip sharp`),
    ...['kit', 'kit --json', 'kit where', 'fit --bore 50mm --pitch 16tpi --depth 1mm'],
    ...['', ' --json', ' --keep bore', ' --keep bore --json'].map((how) => `replay ${trace}${how}`),
  ])
    await plainly(home, line);
  for (const [name] of modesBelow(home)) expect(name).not.toMatch(/[^ -~]|\.\.|[<>"'`$;|=@\\]/);
  expect(readdirSync(join(home, '..'))).toEqual(['home']);
});

test('a page and its drawings hold a hostile name as text and nothing else', async () => {
  const home = hostileHome();
  for (const [at, text] of HOSTILE.entries()) {
    for (const line of [`sheet ${at + 1}`, `sheet ${at + 1} --svg`]) {
      const markup = (await plainly(home, line)).join('\n');
      expect(markup).not.toMatch(/<(script|img|iframe|object|embed|link|foreignObject)\b/i);
      expect(markup.replace(/&[a-z#0-9]+;/g, '')).not.toMatch(/<[^>]*\son[a-z]+\s*=/i);
      if (/[<"']/.test(text)) expect(markup).not.toContain(text);
    }
  }
});

test('no cell of the readings is a formula to a spreadsheet', async () => {
  const { data } = await runLine(hostileHome(), 'jobs export --csv');
  const cells = data.flatMap((row) =>
    [...row.matchAll(/"((?:[^"]|"")*)"|([^,]+)/g)].map((match) => (match[1] ?? match[2] ?? '').trimEnd()),
  );
  expect(cells.length).toBeGreaterThan(HOSTILE.length * 5);
  for (const cell of cells) expect(cell).not.toMatch(/^[=+@\t\r]|^-(?!\d+(\.\d+)?$)/);
});

test.each(HOSTILE)('the bench draws and says %j in plain characters', (text) => {
  const heardAt = millis(0);
  let bench = startBench(millis(0), 1_700_000_000_000, 'mm');
  for (const event of [
    { kind: 'job-opened', log: hostileJob(text) },
    { kind: 'board-found', facts: { board: text, firmware: text, parts: [text] }, at: heardAt, heardAt },
    { kind: 'version-refused', theirs: text, ours: '1', heardAt },
    { kind: 'link-refused', port: text, why: text, heardAt },
    { kind: 'edge-failed', what: text, why: text },
    { kind: 'sheet-written', path: text },
    { kind: 'jobs-listed', jobs: [{ id: text, name: text, touched: 0, stage: 'spigot', closed: false }] },
    { kind: 'escaped' },
    { kind: 'note-asked' },
    { kind: 'typed', text },
  ] as const) {
    bench = step(bench, event).bench;
    for (const at of [bench, { ...bench, help: true }]) {
      for (const row of shownText(at, { columns: 120, rows: 40 })) expect(row).not.toMatch(UNSAFE);
      for (const line of speak(at, SILENT).lines) expect(line.replaceAll('\n', ' ')).not.toMatch(UNSAFE);
    }
  }
});

test('every file written is readable by its owner alone', async () => {
  const home = hostileHome();
  for (const line of [
    `sheet 1 --file ${home}/sheet.html`,
    `jobs export --file ${home}/all.ndjson`,
    'kit add feed mine --per-detent 0.2mm --per-detent-standard 0.002mm',
    'kit set unit in',
  ])
    expect(await runLine(home, line), line).toMatchObject({ code: 0 });
  const modes = modesBelow(home);
  expect(modes.length).toBeGreaterThan(4);
  for (const [name, mode] of modes)
    expect([name, mode]).toEqual([name, mode.startsWith('d') ? 'd700' : '-600']);
  expect((statSync(home).mode & 0o777).toString(8)).toBe('700');
});

test('no source file starts another program or evaluates text', () => {
  const src = join(import.meta.dirname, '../../src');
  const files = readdirSync(src, { recursive: true, encoding: 'utf8' }).filter((name) =>
    /\.tsx?$/.test(name),
  );
  expect(files.length).toBeGreaterThan(100);
  for (const name of files)
    expect(readFileSync(join(src, name), 'utf8'), name).not.toMatch(
      /child_process|worker_threads|node:vm|\beval\(|new Function\(/,
    );
});
