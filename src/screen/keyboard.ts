// The keyboard taken over: raw bytes in, keys out, and given back as it was found.
import type { EventEmitter } from 'node:events';
import { decodeKeys, type Key, settleKeys } from './keys.ts';
import type { Clock } from './pace.ts';

/** The half of a terminal that is read, as process.stdin has it. */
export interface TerminalInput extends Pick<EventEmitter, 'on' | 'off'> {
  readonly isTTY?: boolean;
  setRawMode?(raw: boolean): unknown;
  setEncoding(encoding: 'utf8'): unknown;
  resume(): unknown;
  pause(): unknown;
}

/** A key's sequence arrives at once; an escape byte that nothing follows for so many milliseconds was the escape key. */
const ESCAPE_SETTLES = 40;

export class Keyboard {
  readonly #input: TerminalInput;
  readonly #onKey: (key: Key) => void;
  readonly #clock: Clock;
  #pending = '';
  #callOff: (() => void) | undefined;

  constructor(input: TerminalInput, onKey: (key: Key) => void, clock: Clock) {
    this.#input = input;
    this.#onKey = onKey;
    this.#clock = clock;
    this.takeRaw();
    input.setEncoding('utf8');
    input.on('data', this.#onData);
    input.resume();
  }

  /** Every key by itself and unechoed; again after the program was stopped. */
  takeRaw(): void {
    if (this.#input.isTTY) this.#input.setRawMode?.(true);
  }

  giveBack(): void {
    this.#callOff?.();
    this.#input.off('data', this.#onData);
    if (this.#input.isTTY) this.#input.setRawMode?.(false);
    this.#input.pause();
  }

  readonly #onData = (bytes: string): void => {
    this.#callOff?.();
    const { keys, rest } = decodeKeys(this.#pending, bytes);
    this.#pending = rest;
    if (rest !== '') this.#callOff = this.#clock.after(ESCAPE_SETTLES, this.#settle);
    for (const key of keys) this.#onKey(key);
  };

  readonly #settle = (): void => {
    const keys = settleKeys(this.#pending);
    this.#pending = '';
    for (const key of keys) this.#onKey(key);
  };
}
