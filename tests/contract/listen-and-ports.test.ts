// `listen` and `ports` of the built program: what they print, how they end, and what they leave behind.
import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { encode } from '../../src/wire/encode.ts';
import { freshFolder } from '../support/fresh-folder.ts';
import { openSerialPair, type SerialPair } from '../support/serial-pair.ts';
import { createChanges } from '../support/waiting.ts';

const root = resolve(import.meta.dirname, '../..');
const program = join(root, 'dist/lidwright.js');
const hello = encode({ kind: 'HI', firmware: '1.0.0', board: 'elm-1', parts: ['caliper'] }, 0, 3);
const reading = encode({ kind: 'DI', text: '42.30', unit: 'mm' }, 1, 120);

/** The program started with `args`, with what it has said so far and ways to wait for more. */
function start(...args: string[]) {
  const child: ChildProcess = spawn(process.execPath, [program, ...args], {
    cwd: root,
    env: { PATH: process.env.PATH, LANG: 'C.UTF-8' },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const { stdout, stderr } = child;
  if (!stdout || !stderr) throw new TypeError('the child needs its streams');
  const said = { data: '', message: '' };
  const { changed, until } = createChanges();
  stdout.on('data', (text: Buffer) => {
    said.data += text.toString('utf8');
    changed();
  });
  stderr.on('data', (text: Buffer) => {
    said.message += text.toString('utf8');
  });
  const ended = new Promise<number | null>((done) => child.on('close', (code) => done(code)));
  onTestFinished(() => void child.kill('SIGKILL'));
  const rows = (): string[] => said.data.split('\n').slice(0, -1);
  const untilRow = (part: string): Promise<void> => until(() => rows().some((row) => row.includes(part)));
  return { child, stdout, said, ended, rows, untilRow };
}

async function pair(): Promise<SerialPair> {
  const opened = await openSerialPair();
  onTestFinished(opened.close);
  return opened;
}

/** The lines that a trace holds so far. */
const linesIn = (trace: string): readonly string[] =>
  readFileSync(trace, 'latin1')
    .split('\n')
    .flatMap((row) => /^\d+\t(.*)$/.exec(row)?.[1] ?? []);

test('listen prints each event as one object, keeps the raw trace, and ends quietly on an interrupt', async () => {
  const board = await pair();
  const trace = join(freshFolder(), 'bench.trace');
  const listening = start('listen', '--port', board.devicePath, '--json', '--record', trace);
  await board.waitForReceived('?\n');
  await board.write(`${hello}\n${reading}\n\x1b[2Jnoise\n`);
  await listening.untilRow('line-discarded');
  listening.child.kill('SIGINT');
  expect(await listening.ended).toBe(0);
  expect(listening.said.message).toBe('');
  const objects = listening.rows().map((row) => JSON.parse(row));
  for (const object of objects) expect(Object.keys(object).slice(0, 2)).toEqual(['kind', 'v']);
  expect(objects.map(({ kind }) => kind)).toEqual([
    ...['link-opened', 'line-speaking', 'board-found', 'reading-received', 'line-discarded'],
  ]);
  expect(objects[3]).toMatchObject({ valueMm: 42.3, unit: 'mm', text: '42.30', checked: true, atMs: 120 });
  expect(objects[4]).toMatchObject({ why: 'bad-byte', raw: '?[2Jnoise' });
  expect(linesIn(trace)).toEqual([hello, reading, '\\x1B[2Jnoise']);
});

test('listen ends quietly when nobody reads its output any more, and the trace is whole', async () => {
  const trace = join(freshFolder(), 'bench.trace');
  const listening = start('listen', '--virtual', '--record', trace);
  await listening.untilRow('virtual-1');
  listening.stdout.destroy();
  expect(await listening.ended).toBe(0);
  expect(listening.said.message).toBe('');
  expect(readFileSync(trace, 'latin1')).toMatch(/^# .*\n(.*\n)*\d+\t.*\n$/);
});

test('listen on a stream without end records every line in little memory, though nobody reads what it prints', async () => {
  const board = await pair();
  const trace = join(freshFolder(), 'bench.trace');
  const listening = start('listen', '--port', board.devicePath, '--record', trace);
  listening.stdout.pause();
  await board.waitForReceived('?\n');
  const lines = Array.from({ length: 60_000 }, (_, at) =>
    encode({ kind: 'DI', text: '42.30', unit: 'mm' }, at, at),
  );
  await board.write(`${lines.join('\n')}\n`);
  await board.write(Buffer.alloc(4_000_000, 'x'));
  await board.write(`\n${hello}\n`);
  await expect.poll(() => linesIn(trace).at(-1), { timeout: 30_000 }).toBe(hello);
  expect(linesIn(trace)).toEqual([...lines, 'x'.repeat(96), hello]);
  const [, peak] =
    /VmHWM:\s+(\d+) kB/.exec(readFileSync(`/proc/${listening.child.pid}/status`, 'utf8')) ?? [];
  expect(Number(peak)).toBeLessThan(250_000);
  listening.stdout.resume();
  listening.child.kill('SIGINT');
  expect(await listening.ended).toBe(0);
  expect(listening.said.message).toMatch(/listen: \d+ rows were not printed/);
});

test('replay counts the rows it cannot read and shows the first few, without their escapes', async () => {
  const trace = join(freshFolder(), 'bad.trace');
  const bad = Array.from({ length: 200_000 }, (_, at) => `\x1b[31m ${at}`);
  writeFileSync(trace, [...bad, `1\t${hello}`, `120\t${reading}`].join('\n'));
  const replaying = start('replay', trace);
  expect(await replaying.ended).toBe(0);
  expect(replaying.rows().join()).toContain('42.30 mm');
  expect(replaying.said.message).toContain('200000 rows in all could not be read');
  expect(replaying.said.message.split('\n')).toHaveLength(7);
  expect(replaying.said.message).not.toContain('\x1b');
});

test('listen says what is wrong, keeps existing files, and ends with the right code', async () => {
  const kept = join(freshFolder(), 'kept.trace');
  const first = start('listen', '--virtual', '--for', '0.2', '--record', kept);
  expect(await first.ended).toBe(0);
  const before = readFileSync(kept);
  const second = start('listen', '--virtual', '--for', '0.2', '--record', kept);
  expect(await second.ended).toBe(3);
  expect(second.said.message).toContain('already exists and was kept');
  expect(readFileSync(kept)).toEqual(before);
  const wrong = start('listen', '--virtual', '--for', 'soon');
  expect(await wrong.ended).toBe(2);
  expect(wrong.said.message).toContain(`--for: "soon" isn't accepted`);
  const absent = start('listen', '--port', join(root, 'no-such-port'), '--for', '0.2');
  expect(await absent.ended).toBe(3);
  expect(absent.said.data).toContain('Plug the board in');
  expect(existsSync(join(root, 'no-such-port'))).toBe(false);
});

test('ports says which board speaks, how well, and which port is silent', async () => {
  const board = await pair();
  const trying = start('ports', '--port', board.devicePath, '--json');
  await board.waitForReceived('?\n');
  await board.write(`${hello}\n${reading}\n${reading.replace('42', '43')}\n`);
  expect(await trying.ended).toBe(0);
  const heard = {
    board: { board: 'elm-1', firmware: '1.0.0', parts: ['caliper'] },
    readings: 1,
    discarded: 1,
  };
  expect(JSON.parse(trying.said.data)).toMatchObject({ kind: 'port', v: 1, state: 'speaks', ...heard });
  const silent = start('ports', '--port', board.devicePath);
  expect(await silent.ended).toBe(1);
  expect(silent.said.data).toContain("silent for 2.5 s. Check the board's power supply");
});
