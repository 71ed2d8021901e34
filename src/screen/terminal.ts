// The terminal taken over and given back: second screen, hidden cursor, raw keys, resizes, and one way to undo it all.
import type { EventEmitter } from 'node:events';
import { Keyboard, type TerminalInput } from './keyboard.ts';
import type { Key } from './keys.ts';
import { type Clock, steadyClock } from './pace.ts';

/** The half of a terminal that is written to, as process.stdout has it. */
export interface TerminalOutput extends Pick<EventEmitter, 'on' | 'off'> {
  readonly columns?: number;
  readonly rows?: number;
  write(text: string): boolean;
}

export interface Size {
  readonly columns: number;
  readonly rows: number;
}

/** What a terminal that says nothing of its size is taken to be. */
const USUAL: Size = { columns: 80, rows: 24 };

export interface TerminalHandlers {
  onKey(key: Key): void;
  onResize(): void;
  /** The program was stopped and goes on: whatever was on the screen is gone. */
  onContinue(): void;
}

const ENTER = '\x1b[?1049h\x1b[?25l\x1b[2J';
const LEAVE = '\x1b[m\x1b[?25h\x1b[?1049l';
const BELL = '\x07';

/** Opens the terminal for drawing. Call `close` once on every way out; calling it again does nothing. */
export class Terminal {
  readonly #output: TerminalOutput;
  readonly #keyboard: Keyboard;
  readonly #handlers: TerminalHandlers;
  #open = true;

  constructor(
    output: TerminalOutput,
    input: TerminalInput,
    handlers: TerminalHandlers,
    clock: Clock = steadyClock,
  ) {
    this.#output = output;
    this.#handlers = handlers;
    output.write(ENTER);
    this.#keyboard = new Keyboard(input, handlers.onKey, clock);
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
    this.#output.off('resize', this.#onResize);
    process.off('SIGCONT', this.#onContinue);
    this.#output.write(LEAVE);
    this.#open = false;
    this.#keyboard.giveBack();
  }

  readonly #onResize = (): void => this.#handlers.onResize();

  readonly #onContinue = (): void => {
    this.#output.write(ENTER);
    this.#keyboard.takeRaw();
    this.#handlers.onContinue();
  };
}
