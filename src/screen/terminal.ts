// The terminal taken over and given back: second screen, hidden cursor, raw keys, resizes, and one restore for every way out.
import type { EventEmitter } from 'node:events';
import { decodeKeys, type Key, settleKeys } from './keys.ts';
import { type Clock, steadyClock } from './pace.ts';

/** The half of a terminal that is written to, as process.stdout has it. */
export interface TerminalOutput extends Pick<EventEmitter, 'on' | 'off'> {
  readonly columns?: number;
  readonly rows?: number;
  write(text: string): boolean;
}

/** The half that is read, as process.stdin has it. */
export interface TerminalInput extends Pick<EventEmitter, 'on' | 'off'> {
  readonly isTTY?: boolean;
  setRawMode?(raw: boolean): unknown;
  setEncoding(encoding: 'utf8'): unknown;
  resume(): unknown;
  pause(): unknown;
}

export interface Size {
  readonly columns: number;
  readonly rows: number;
}

/** What a terminal that says nothing of its size is taken to be. */
export const USUAL: Size = { columns: 80, rows: 24 };

export interface TerminalHandlers {
  onKey(key: Key): void;
  onResize(size: Size): void;
  /** The program was stopped and goes on: whatever was on the screen is gone. */
  onContinue(): void;
}

const ENTER = '\x1b[?1049h\x1b[?25l\x1b[2J';
const LEAVE = '\x1b[m\x1b[?25h\x1b[?1049l';
const BELL = '\x07';
/** A key's sequence arrives at once; an escape byte that nothing follows for so long was the escape key. */
const ESCAPE_SETTLES = 40;

/** Opens the terminal for drawing. Call `close` once on every way out; calling it again does nothing. */
export class Terminal {
  readonly #output: TerminalOutput;
  readonly #input: TerminalInput;
  readonly #clock: Clock;
  readonly #handlers: TerminalHandlers;
  #open = true;
  #pending = '';
  #callOff: (() => void) | undefined;

  constructor(
    output: TerminalOutput,
    input: TerminalInput,
    handlers: TerminalHandlers,
    clock: Clock = steadyClock,
  ) {
    this.#output = output;
    this.#input = input;
    this.#handlers = handlers;
    this.#clock = clock;
    this.#take();
    input.setEncoding('utf8');
    input.on('data', this.#onData);
    input.resume();
    output.on('resize', this.#onResize);
    process.on('SIGCONT', this.#onContinue);
  }

  get size(): Size {
    const { columns, rows } = this.#output;
    return { columns: columns || USUAL.columns, rows: rows || USUAL.rows };
  }

  /** False when the terminal is slow: wait for `drained` before the next frame. */
  write(bytes: string): boolean {
    return !this.#open || bytes === '' || this.#output.write(bytes);
  }

  /** Calls `then` once, when the terminal takes more. */
  drained(then: () => void): void {
    const once = () => {
      this.#output.off('drain', once);
      then();
    };
    this.#output.on('drain', once);
  }

  bell(): void {
    this.write(BELL);
  }

  /** Gives the terminal back as it was found. */
  close(): void {
    if (!this.#open) return;
    this.#callOff?.();
    this.#input.off('data', this.#onData);
    this.#output.off('resize', this.#onResize);
    process.off('SIGCONT', this.#onContinue);
    this.#output.write(LEAVE);
    this.#open = false;
    if (this.#input.isTTY) this.#input.setRawMode?.(false);
    this.#input.pause();
  }

  #take(): void {
    this.#output.write(ENTER);
    if (this.#input.isTTY) this.#input.setRawMode?.(true);
  }

  readonly #onResize = (): void => this.#handlers.onResize(this.size);

  readonly #onContinue = (): void => {
    this.#take();
    this.#handlers.onContinue();
  };

  readonly #onData = (bytes: string): void => {
    this.#callOff?.();
    const { keys, rest } = decodeKeys(this.#pending, bytes);
    this.#pending = rest;
    if (rest !== '') this.#callOff = this.#clock.after(ESCAPE_SETTLES, this.#settle);
    for (const key of keys) this.#handlers.onKey(key);
  };

  readonly #settle = (): void => {
    const keys = settleKeys(this.#pending);
    this.#pending = '';
    for (const key of keys) this.#handlers.onKey(key);
  };
}
