// The screens under measurement, each in a real pseudo-terminal with a device on another: ours at the spigot stage, and plain Ink.
import { openBoard, type TestBoard } from '../../support/board.ts';
import { bundled } from '../../support/bundled.ts';
import { Day } from '../../support/day.ts';
import { Eye } from '../../support/terminal.ts';

export interface Staged {
  readonly eye: Eye;
  readonly board: TestBoard;
  close(): Promise<void>;
}

/** Our bench with a bore typed, looking at a spigot. */
export async function stageOurs(): Promise<Staged> {
  const day = new Day();
  const board = await day.board();
  const eye = day.open(board, { args: ['--bell', 'off'] });
  await board.pair.waitForReceived('?');
  await board.hello();
  await eye.untilShown('test-01');
  await eye.beginJob();
  await eye.keepBore('42.30');
  eye.press('n');
  await eye.untilShown('TURN TO THIS');
  return { eye, board, close: () => day.close() };
}

/** The plain Ink screen, bundled for production as ours is, with Ink as it is published. */
export async function stagePlain(): Promise<Staged> {
  const { outfile } = await bundled('tests/bench/screen/plain-ink.mjs', { replaced: false });
  const board = await openBoard();
  const eye = new Eye({ command: [process.execPath, outfile, board.path] });
  await eye.untilShown('diameter');
  return {
    eye,
    board,
    async close() {
      await eye.close();
      await board.close();
    },
  };
}
