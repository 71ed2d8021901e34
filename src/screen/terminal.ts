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
  /** A terminal that was full takes more. */
  onDrained(): void;
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
  #full = false;

  constructor(
    output: TerminalOutput,
    input: TerminalInput,
    handlers: TerminalHandlers,
    clock: Clock = steadyClock,
  ) {
    this.#output = output;
    this.#handlers = handlers;
    this.write(ENTER);
    this.#keyboard = new Keyboard(input, handlers.onKey, clock);
    output.on('resize', this.#onResize);
    output.on('drain', this.#onDrain);
    process.on('SIGCONT', this.#onContinue);
  }

  get size(): Size {
    const { columns, rows } = this.#output;
    return { columns: columns || USUAL.columns, rows: rows || USUAL.rows };
  }

  /** True while the terminal has not taken what was written last: a frame drawn now would only wait behind that one. */
  get full(): boolean {
    return this.#full;
  }

  write(bytes: string): void {
    if (this.#open && bytes !== '') this.#full = !this.#output.write(bytes);
  }

  /** A full terminal is not rung: the bell would come late, for something long past. */
  bell(): void {
    if (!this.#full) this.write(BELL);
  }

  /** Gives the terminal back as it was found. */
  close(): void {
    if (!this.#open) return;
    this.#output.off('resize', this.#onResize);
    this.#output.off('drain', this.#onDrain);
    process.off('SIGCONT', this.#onContinue);
    this.#output.write(LEAVE);
    this.#open = false;
    this.#keyboard.giveBack();
  }

  readonly #onResize = (): void => this.#handlers.onResize();

  readonly #onDrain = (): void => {
    this.#full = false;
    this.#handlers.onDrained();
  };

  readonly #onContinue = (): void => {
    this.write(ENTER);
    this.#keyboard.takeRaw();
    this.#handlers.onContinue();
  };
}
