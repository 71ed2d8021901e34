// The bench on a terminal, drawn by Ink: opened, drawn at a pace, stopped and continued, and left as it was found.
import { readFileSync } from 'node:fs';
import { render, useInput } from 'ink';
import { type ReactNode, useSyncExternalStore } from 'react';
import type { Bench } from '../core/bench/state.ts';
import { ChangedCells, sizeOf, type TerminalOutput } from './changed-cells.ts';
import type { Glyphs } from './glyphs.ts';
import { KeyStream, keyFromInk, type TerminalInput } from './key-stream.ts';
import type { Key } from './keys.ts';
import { type Clock, Pace, steadyClock } from './pace.ts';
import type { Look } from './rows.tsx';
import { Screen, type ScreenProps } from './screen.tsx';
import type { Theme } from './theme.ts';

/** At most so often is a frame drawn: fifty a second. Ink's own limit does not know of a terminal that takes no more. */
const FRAME_MS = 20;

/** The second screen, and pasted text told from typed; the first screen again with its cursor. */
const ENTER = '\x1b[?1049h\x1b[?2004h';
const LEAVE = '\x1b[m\x1b[?2004l\x1b[?25h\x1b[?1049l';
const BELL = '\x07';

interface TerminalDisplayOptions {
  readonly output: TerminalOutput;
  readonly input: TerminalInput;
  readonly glyphs: Glyphs;
  readonly theme: Theme;
  readonly bench: () => Bench;
  readonly onKey: (key: Key) => void;
  /** A component threw: nothing more is drawn. */
  readonly onError: (error: unknown) => void;
  readonly clock?: Clock;
  readonly frameMs?: number;
}

/** What is shown now, for a component that draws it again when it changes: the rest of Ink's tree is left alone. */
class Live {
  #shown: ScreenProps;
  readonly #listeners = new Set<() => void>();

  constructor(shown: ScreenProps) {
    this.#shown = shown;
  }
  readonly subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };
  readonly shown = (): ScreenProps => this.#shown;
  show(shown: ScreenProps): void {
    this.#shown = shown;
    for (const listener of this.#listeners) listener();
  }
}

const LiveScreen = ({ live }: { readonly live: Live }): ReactNode => (
  <Screen {...useSyncExternalStore(live.subscribe, live.shown)} />
);

function Keys({ onKey }: Pick<TerminalDisplayOptions, 'onKey'>): ReactNode {
  useInput((input, inkKey) => {
    const key = keyFromInk(input, inkKey);
    if (key) onKey(key);
  });
  return null;
}

/** Takes the terminal over. Call `close` once on every way out; calling it again does nothing. */
export class TerminalDisplay {
  readonly #options: TerminalDisplayOptions;
  readonly #keys: KeyStream;
  readonly #cells: ChangedCells;
  readonly #pace: Pace;
  readonly #live: Live;
  readonly #app: ReturnType<typeof render>;
  #look: Look;
  #open = true;

  constructor(options: TerminalDisplayOptions) {
    this.#options = options;
    const { output, input, glyphs, theme, clock = steadyClock } = options;
    this.#look = { ...sizeOf(output), glyphs, theme };
    // Raw keys and the handlers of signals come first: whoever sees a frame may press a key or stop the program at once.
    this.#keys = new KeyStream(input, undefined, clock);
    this.#cells = new ChangedCells(output);
    this.#pace = new Pace(options.frameMs ?? FRAME_MS, () => this.#draw(), clock);
    output.on('resize', this.#onResize);
    output.on('drain', this.#onDrain);
    process.on('SIGTSTP', this.#onStop);
    process.on('SIGCONT', this.#onContinue);
    this.#cells.send(ENTER);
    this.#live = new Live({ bench: options.bench(), look: this.#look });
    const tree = (
      <>
        <LiveScreen live={this.#live} />
        <Keys onKey={this.#onKey} />
      </>
    );
    this.#app = render(tree, {
      stdin: this.#keys as unknown as NodeJS.ReadStream,
      stdout: this.#cells as unknown as NodeJS.WriteStream,
      // Every frame is written whole and at once, also where CI is set; which cells go on is for ChangedCells, when is for Pace.
      debug: true,
      exitOnCtrlC: false,
      patchConsole: false,
      isScreenReaderEnabled: false,
    });
    this.#app.waitUntilExit().catch(options.onError);
  }

  /** Draws soon; what was asked for last is always drawn. */
  request(): void {
    if (this.#open) this.#pace.request();
  }

  /** No bell while the terminal is behind: it would ring too late. */
  bell(): void {
    if (this.#open && !this.#cells.full) this.#cells.send(BELL);
  }

  /** Gives the terminal back as it was found. */
  close(): void {
    if (!this.#open) return;
    this.#open = false;
    const { output } = this.#options;
    output.off('resize', this.#onResize);
    output.off('drain', this.#onDrain);
    process.off('SIGTSTP', this.#onStop);
    process.off('SIGCONT', this.#onContinue);
    this.#pace.stop();
    this.#cells.send(LEAVE);
    this.#cells.close();
    this.#app.unmount();
    this.#keys.close();
  }

  /** A full terminal is left alone: it gets the newest picture when it takes more, and never those in between. */
  #draw(): void {
    if (this.#open && !this.#cells.full) this.#live.show({ bench: this.#options.bench(), look: this.#look });
  }

  readonly #onKey = (key: Key): void => {
    if (key.kind === 'suspend') this.#suspend();
    else if (key.kind === 'quit-signal') process.kill(process.pid, 'SIGQUIT');
    else this.#options.onKey(key);
  };

  readonly #onResize = (): void => {
    this.#look = { ...this.#look, ...sizeOf(this.#options.output) };
    this.#cells.forget();
    this.#pace.request();
  };

  readonly #onDrain = (): void => {
    this.#cells.full = false;
    this.#pace.request();
  };

  readonly #onStop = (): void => {
    this.#leaveTerminal();
    process.kill(process.pid, 'SIGSTOP');
  };

  /** The terminal first: once a parent has stopped, the shell is back and the terminal no longer ours. */
  #suspend(): void {
    this.#leaveTerminal();
    stopParents();
    process.kill(process.pid, 'SIGSTOP');
  }

  #leaveTerminal(): void {
    this.#cells.send(LEAVE);
    this.#keys.giveBackRaw();
  }

  /** Whatever was on the screen is gone. */
  readonly #onContinue = (): void => {
    this.#keys.takeRaw();
    this.#cells.send(ENTER);
    this.#cells.forget();
    this.#pace.request();
  };
}

/**
 * The processes around the bench, such as npm and its shell: the parents in our own process group. The terminal itself would stop
 * the whole group for Ctrl-Z where keys are not raw; a shell comes back only once the process that it started has stopped.
 */
function stopParents(): void {
  const group = groupOf(process.pid)?.group;
  for (let parent = process.ppid; parent > 1; ) {
    const found = groupOf(parent);
    if (!found || found.group !== group) break;
    process.kill(parent, 'SIGTSTP');
    parent = found.parent;
  }
}

/** From Linux's /proc/PID/stat: after the name in brackets come state, parent and group (proc(5); from memory). Elsewhere nothing. */
function groupOf(pid: number): { readonly parent: number; readonly group: number } | undefined {
  try {
    const fields = readFileSync(`/proc/${pid}/stat`, 'utf8')
      .replace(/^.*\) /s, '')
      .split(' ');
    return { parent: Number(fields[1]), group: Number(fields[2]) };
  } catch {
    return undefined;
  }
}
