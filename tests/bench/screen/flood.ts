// Twenty thousand lines a second for ten seconds: into the recorder, where none may be lost, and onto the screen, which must go on.
import { spawn } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { encode } from '../../../src/wire/encode.ts';
import { freshFolder } from '../../support/fresh-folder.ts';
import { openSerialPair } from '../../support/serial-pair.ts';
import { PROGRAM } from '../../support/terminal.ts';
import { stageOurs } from './stage.ts';

const lineAt = (index: number): string =>
  `${encode({ kind: 'DI', text: (40 + (index % 1000) / 100).toFixed(2), unit: 'mm' }, index, Math.floor(index / 20))}\n`;

/** A file of lines and the pace at which the far end sends it. */
export async function measureFlood(lines: number, perSecond: number) {
  const folder = freshFolder();
  const source = join(folder, 'lines');
  writeFileSync(source, Array.from({ length: lines }, (_, index) => lineAt(index)).join(''));
  const recorded = await record(folder, source, lines, perSecond);
  const screen = await show(source, lines, perSecond);
  return { ...recorded, ...screen };
}

/** The recorder, its printed events thrown away; it is ended once the whole flood is in the file, or nothing more comes. */
async function record(folder: string, source: string, lines: number, perSecond: number) {
  const pair = await openSerialPair();
  const trace = join(folder, 'trace');
  const recorder = spawn(
    process.execPath,
    [PROGRAM, 'listen', '--json', '--port', pair.devicePath, '--record', trace],
    { stdio: 'ignore' },
  );
  const ended = new Promise((resolve) => recorder.on('exit', resolve));
  await pair.waitForReceived('?');
  const began = performance.now();
  await pair.playFile(source, perSecond);
  const linesPerSecond = lines / ((performance.now() - began) / 1000);
  const heard = await settledRows(trace, lines);
  recorder.kill('SIGINT');
  await ended;
  await pair.close();
  return {
    linesPerSecond,
    recorded: heard.length,
    inOrder: heard.every((row, index) => `${row}\n` === lineAt(index)),
  };
}

const rowsIn = (trace: string): readonly string[] =>
  readFileSync(trace, 'latin1')
    .split('\n')
    .filter((row) => row !== '' && !row.startsWith('#'))
    .map((row) => row.slice(row.indexOf('\t') + 1));

/** The trace's lines once all are there, or once it has stopped growing. */
async function settledRows(trace: string, wanted: number): Promise<readonly string[]> {
  let rows = rowsIn(trace);
  for (let before = -1; rows.length < wanted && rows.length > before; ) {
    before = rows.length;
    await pause(1000);
    rows = rowsIn(trace);
  }
  return rows;
}

async function show(source: string, lines: number, perSecond: number) {
  const staged = await stageOurs();
  let frames = 0;
  const stop = staged.eye.watch(() => {
    frames += 1;
  });
  staged.board.goSilent(); // its SEQ is not the flood's
  const began = performance.now();
  await staged.board.pair.playFile(source, perSecond);
  const took = (performance.now() - began) / 1000;
  stop();
  const last = (40 + ((lines - 1) % 1000) / 100).toFixed(2);
  await staged.eye.untilShown(`diameter ${last}`, 60_000);
  const lostOnScreen = /\d+ lost/.test(staged.eye.text());
  await staged.close();
  return { framesPerSecond: frames / took, lostOnScreen };
}
