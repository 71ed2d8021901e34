// The keyboard as Ink reads it: whole keys, one at a time. Ink's own reading of raw bytes types the answers of terminals as text,
// takes an arrow that comes in two pieces for Escape, and gives `42.30` and Enter at once as one text; here digits are a reading.
import { EventEmitter } from 'node:events';
import type { Key as InkKey } from 'ink';
import { decodeKeys, isPasting, type Key, type NamedKey, settleKeys } from './keys.ts';
import { type Clock, steadyClock } from './pace.ts';

/** The half of a terminal that is read, as process.stdin has it. */
export interface TerminalInput extends Pick<EventEmitter, 'on' | 'off'> {
  readonly isTTY?: boolean;
  setRawMode?(raw: boolean): unknown;
  setEncoding(encoding: 'utf8'): unknown;
  resume(): unknown;
  pause(): unknown;
}

/** A key's sequence arrives at once. An escape byte with nothing after it for this many milliseconds was the escape key. */
const ESCAPE_SETTLES = 40;
/** Begins a pasted text on its way through Ink (ASCII's start of text). */
const PASTED = '\x02';

/**
 * One way to write each key that Ink takes for that key alone, and what its useInput calls it. Escape is a numbered key, since a
 * bare one could begin a sequence.
 */
const FOR_INK: { readonly [kind in NamedKey]: readonly [sequence: string, name?: keyof InkKey] } = {
  'back-tab': ['\x1b[Z'],
  tab: ['\t', 'tab'],
  enter: ['\r', 'return'],
  escape: ['\x1b[27u', 'escape'],
  backspace: ['\b', 'backspace'],
  delete: ['\x1b[3~', 'delete'],
  up: ['\x1b[A', 'upArrow'],
  down: ['\x1b[B', 'downArrow'],
  left: ['\x1b[D', 'leftArrow'],
  right: ['\x1b[C', 'rightArrow'],
  home: ['\x1b[H', 'home'],
  end: ['\x1b[F', 'end'],
  'page-up': ['\x1b[5~', 'pageUp'],
  'page-down': ['\x1b[6~', 'pageDown'],
  interrupt: ['\x03'],
  finish: ['\x04'],
  suspend: ['\x1a'],
  'quit-signal': ['\x1c'],
};
const KINDS = Object.keys(FOR_INK) as readonly NamedKey[];
const BY_CONTROL: { readonly [letter: string]: NamedKey } = { c: 'interrupt', d: 'finish', z: 'suspend' };

const forInk = (key: Key): string =>
  key.kind === 'text' ? key.text : key.kind === 'paste' ? PASTED + key.text : FOR_INK[key.kind][0];

/** The key that Ink's useInput tells of. */
export function keyFromInk(input: string, key: InkKey): Key | undefined {
  const kind = namedIn(input, key);
  if (kind) return { kind };
  if (input.startsWith(PASTED)) return { kind: 'paste', text: input.slice(1) };
  return input === '' ? undefined : { kind: 'text', text: input };
}

function namedIn(input: string, key: InkKey): NamedKey | undefined {
  if (key.ctrl) return BY_CONTROL[input];
  if (input === '\x1c') return 'quit-signal';
  if (key.tab && key.shift) return 'back-tab';
  return KINDS.find((kind) => {
    const name = FOR_INK[kind][1];
    return name !== undefined && key[name];
  });
}

/** Gives keys to `onKey`; without one it keeps them until Ink reads them, and emits `readable`. */
export class KeyStream extends EventEmitter {
  readonly isTTY = true;
  readonly #input: TerminalInput;
  readonly #onKey: ((key: Key) => void) | undefined;
  readonly #clock: Clock;
  readonly #unread: string[] = [];
  #pending = '';
  #callOff: (() => void) | undefined;

  constructor(input: TerminalInput, onKey?: (key: Key) => void, clock: Clock = steadyClock) {
    super();
    this.#input = input;
    this.#onKey = onKey;
    this.#clock = clock;
    this.takeRaw();
    input.setEncoding('utf8');
    input.on('data', this.#onData);
    input.resume();
  }

  /** Every key by itself and unechoed. */
  takeRaw(): void {
    if (this.#input.isTTY) this.#input.setRawMode?.(true);
  }

  /** Keys that arrived together with the one that gives the terminal back were meant for the shell, so the bench drops them. */
  giveBackRaw(): void {
    this.#callOff?.();
    this.#pending = '';
    this.#unread.length = 0;
    if (this.#input.isTTY) this.#input.setRawMode?.(false);
  }

  close(): void {
    this.#input.off('data', this.#onData);
    this.giveBackRaw();
    this.#input.pause();
  }

  /** Ink asks for this once it is ready to read. The keyboard is raw from before the first frame on: whoever sees one may press a key. */
  setRawMode(raw: boolean): this {
    if (raw) setImmediate(() => this.#tell());
    return this;
  }
  setEncoding(): this {
    return this;
  }
  ref(): this {
    return this;
  }
  unref(): this {
    return this;
  }
  read(): string | null {
    return this.#unread.shift() ?? null;
  }

  readonly #onData = (bytes: string): void => {
    this.#callOff?.();
    const { keys, rest } = decodeKeys(this.#pending, bytes);
    this.#pending = rest;
    if (rest !== '' && !isPasting(rest)) this.#callOff = this.#clock.after(ESCAPE_SETTLES, this.#settle);
    this.#give(keys);
  };

  readonly #settle = (): void => {
    const keys = settleKeys(this.#pending);
    this.#pending = '';
    this.#give(keys);
  };

  #give(keys: readonly Key[]): void {
    for (const key of keys) {
      if (this.#onKey) this.#onKey(key);
      else this.#unread.push(forInk(key));
    }
    this.#tell();
  }

  #tell(): void {
    if (this.#unread.length > 0) this.emit('readable');
  }
}
