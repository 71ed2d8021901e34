// The doctor on a real serial pair: a board that speaks, one that is silent, a port that is held, one that is not there, and none.
import { closeSync, openSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { openBoard, type TestBoard } from '../support/board.ts';
import { runLine, type Told } from '../support/command-run.ts';
import { freshFolder } from '../support/fresh-folder.ts';

const doctor = (line: string, home = freshFolder()): Promise<Told> =>
  runLine(home, `doctor --json --for 1 ${line}`);
const found = ({ data }: Told, what: string) =>
  data.map((line) => JSON.parse(line)).find((finding) => finding.what === what);

describe('with a board', () => {
  let board: TestBoard;
  beforeEach(async () => {
    board = await openBoard();
  });
  afterEach(() => board.close());

  /** What the doctor finds while the board, once asked, says this. */
  async function hearing(lines: () => Promise<void>): Promise<Told> {
    const asked = board.pair.waitForReceived('?');
    const run = doctor(`--port ${board.path}`);
    await asked;
    await board.hello();
    await lines();
    return run;
  }

  test('that answers and reads well, the line is ok, with firmware and count', async () => {
    const told = await hearing(() => board.holds(42.3, 8));
    expect(found(told, 'line')).toMatchObject({
      state: 'ok',
      says: expect.stringMatching(/^board test-01, firmware 0\.1\.0.*; 8 readings in 1 s/),
    });
    expect(found(told, 'permission')).toMatchObject({ state: 'ok' });
    expect(told.said.join()).toContain('Listening for 1 s');
  });

  test('whose lines are damaged or lost, the line wants attention, and so does the exit code', async () => {
    const told = await hearing(async () => {
      const damaged = board.readingLine(42.3).replace('42', '43');
      board.readingLine(42.3);
      await board.pair.write(damaged);
      await board.holds(42.3, 3);
    });
    expect(found(told, 'line')).toMatchObject({
      state: 'attention',
      says: expect.stringContaining('2 lines lost, 1 damaged'),
    });
    expect(told.code).toBe(1);
  });

  test('that says nothing, the line is silent', async () => {
    const told = await doctor(`--port ${board.path}`);
    expect(found(told, 'line')).toMatchObject({ says: 'silent for 1 s', state: 'attention' });
  });

  test('whose port another program holds, the holder is named and nothing is opened', async () => {
    const held = openSync(board.path, 'r+');
    const told = await doctor(`--port ${board.path}`);
    closeSync(held);
    const says = expect.stringContaining(`(process ${process.pid})`);
    expect(found(told, 'holder')).toMatchObject({ state: 'bad', says });
    expect(found(told, 'line')).toBeUndefined();
    expect(told.code).toBe(3);
  });
});

test('a port that is not there is bad, and so is a kit file; every other check is still made', async () => {
  const home = freshFolder();
  writeFileSync(join(home, 'settings.toml'), 'baud = "fast"\n');
  const told = await doctor('--port /dev/none-of-that-name', home);
  expect(found(told, 'port')).toMatchObject({
    state: 'bad',
    todo: expect.stringContaining('lidwright ports'),
  });
  const says = expect.stringContaining('baud: "fast" isn\'t accepted');
  expect(found(told, 'kit')).toMatchObject({ state: 'attention', says });
  expect(told.data.map((line) => JSON.parse(line).what)).toEqual(
    expect.arrayContaining(['runtime', 'terminal', 'colour', 'glyphs', 'clock', 'records', 'disk']),
  );
  expect(told.code).toBe(3);
});

test('--for without a number of seconds is wrong use', async () => {
  expect(await doctor('--for ever')).toMatchObject({ code: 2, data: [] });
});
