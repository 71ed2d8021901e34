// A day at the bench for the end-to-end tests: a fresh home, the built program in a terminal, a board on another one.
import { execFile } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { type BoardSettings, openBoard, type TestBoard } from './board.ts';
import { whenTestEnds } from './ending.ts';
import { freshFolder } from './fresh-folder.ts';
import { Eye, type Opening, PROGRAM } from './terminal.ts';

/** One feed handle of 0.2 mm a detent, as a turner would have written it down. */
const FEED =
  'name = "cross slide"\nper-detent = "0.2mm"\nlost-detents = 2\nper-detent-standard = "0.002mm"\n';

/** A day that is over when the test ends. */
export function openDay(): Day {
  const day = new Day();
  whenTestEnds(() => day.close());
  return day;
}

export class Day {
  readonly home = freshFolder();
  readonly #eyes: Eye[] = [];
  readonly #boards: TestBoard[] = [];

  /** Puts a feed into the kit, so that detents are worth a depth. */
  withFeed(more: Readonly<Record<string, string>> = {}): this {
    const lines = Object.entries(more).map(([key, value]) => `${key} = "${value}"\n`);
    mkdirSync(join(this.home, 'kit/feeds'), { recursive: true });
    writeFileSync(join(this.home, 'kit/feeds/cross slide.toml'), FEED + lines.join(''));
    return this;
  }

  async board(settings?: BoardSettings): Promise<TestBoard> {
    const board = await openBoard(settings);
    this.#boards.push(board);
    return board;
  }

  /** Opens the bench, on a board where one is given. */
  open(board?: TestBoard, opening: Opening = {}): Eye {
    const port = board ? ['--port', board.path] : [];
    return this.#eye({ ...opening, args: ['bench', ...port, ...(opening.args ?? [])] });
  }

  /** Opens the virtual bench. */
  demo(...args: readonly string[]): Eye {
    return this.#eye({ args: ['demo', ...args] });
  }

  /** Watches a trace on the bench screen; what passes while it plays lies in this home too, so that anything left behind shows. */
  watch(trace: string, ...more: readonly string[]): Eye {
    return this.#eye({ args: ['replay', trace, '--watch', ...more], env: { TMPDIR: this.home } });
  }

  #eye(opening: Opening): Eye {
    const eye = new Eye({
      ...opening,
      env: { LIDWRIGHT_HOME: this.home, ...opening.env },
    });
    this.#eyes.push(eye);
    return eye;
  }

  /** Runs another command of the built program in this home. */
  async run(...args: readonly string[]): Promise<{ code: number; out: string; err: string }> {
    const env = { PATH: process.env.PATH, LIDWRIGHT_HOME: this.home, LANG: 'C.UTF-8' };
    return promisify(execFile)(process.execPath, [PROGRAM, ...args], { env }).then(
      ({ stdout, stderr }) => ({ code: 0, out: stdout, err: stderr }),
      (error: { code: number; stdout: string; stderr: string }) => ({
        code: error.code,
        out: error.stdout,
        err: error.stderr,
      }),
    );
  }

  async close(): Promise<void> {
    for (const eye of this.#eyes) await eye.close();
    for (const board of this.#boards) await board.close();
  }
}
