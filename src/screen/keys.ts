// Bytes from the keyboard as keys. Pure: a lone escape byte is settled by the caller, who has the clock.
// The runtime's own decoder passes the tails of unknown sequences on as typed text, which at this bench would be a reading.

export type NamedKey =
  | 'enter'
  | 'escape'
  | 'backspace'
  | 'delete'
  | 'tab'
  | 'back-tab'
  | 'up'
  | 'down'
  | 'left'
  | 'right'
  | 'home'
  | 'end'
  | 'page-up'
  | 'page-down'
  | 'interrupt'
  | 'suspend'
  | 'quit-signal'
  | 'finish';

/** Typed text comes one character at a time, however fast; pasted text comes whole, and none of it is ever an order. */
export type Key = { readonly kind: 'text' | 'paste'; readonly text: string } | { readonly kind: NamedKey };

export interface Decoded {
  readonly keys: readonly Key[];
  /** The unfinished tail: to be put before the next bytes. */
  readonly rest: string;
}

const ESC = '\x1b';
const CONTROLS: { readonly [character: string]: NamedKey } = {
  '\r': 'enter',
  '\n': 'enter',
  '\t': 'tab',
  '\b': 'backspace',
  '\x7f': 'backspace',
  '\x03': 'interrupt',
  '\x04': 'finish',
  '\x1a': 'suspend',
  '\x1c': 'quit-signal',
};
/** The final bytes of arrows, Home and End, also in the keypad's application mode (ECMA-48 and VT-style keyboards; from memory). */
const ENDINGS: { readonly [ending: string]: NamedKey } = {
  A: 'up',
  B: 'down',
  C: 'right',
  D: 'left',
  H: 'home',
  F: 'end',
};
/** The same after CSI, with those that a number tells apart. */
const SEQUENCES: { readonly [ending: string]: NamedKey } = {
  ...ENDINGS,
  Z: 'back-tab',
  '1~': 'home',
  '3~': 'delete',
  '4~': 'end',
  '5~': 'page-up',
  '6~': 'page-down',
  '7~': 'home',
  '8~': 'end',
};
/** And after SS3, with the keypad's Enter. */
const SINGLES: { readonly [single: string]: NamedKey } = { ...ENDINGS, M: 'enter' };

/** No sequence of a keyboard is longer; a longer tail is noise and is let go. */
const LONGEST_SEQUENCE = 256;
/** Around what is pasted, where a terminal was asked to say so (DEC private mode 2004; from memory). */
const PASTE_BEGINS = '\x1b[200~';
const PASTE_ENDS = '\x1b[201~';
/** More than any field or note takes; what is pasted beyond it is cut off. */
const LONGEST_PASTE = 4096;
const SHOWN = /^\P{C}$/u;
const STRING_STARTS = ']PX^_';

/** What the front of an input is: a key, or nothing that means anything here, and how much of the input it took. */
interface Taken {
  readonly key?: Key;
  readonly length: number;
}

/** Decodes what has arrived: `pending` is the rest of the last call, `bytes` what is new, both as text. */
export function decodeKeys(pending: string, bytes: string): Decoded {
  const keys: Key[] = [];
  let input = pending + bytes;
  while (input !== '') {
    const taken = input.startsWith(ESC) ? sequence(input) : character(input);
    if (!taken) return { keys, rest: kept(input) };
    if (taken.key) keys.push(taken.key);
    input = input.slice(taken.length);
  }
  return { keys, rest: '' };
}

/** What is kept of an unfinished tail. Of a long paste that is its beginning, and what may begin the mark of its end. */
function kept(input: string): string {
  if (!isPasting(input)) return input.length > LONGEST_SEQUENCE ? '' : input;
  return input.length <= LONGEST_PASTE
    ? input
    : input.slice(0, LONGEST_PASTE) +
        input.slice(Math.max(LONGEST_PASTE, input.length - PASTE_ENDS.length + 1));
}

/** True while a paste is under way: its end may take as long as it likes. */
export const isPasting = (rest: string): boolean => rest.startsWith(PASTE_BEGINS);

/** What the unfinished tail means when nothing followed it: a lone escape is the escape key, anything else is noise. */
export const settleKeys = (rest: string): readonly Key[] => (rest === ESC ? [{ kind: 'escape' }] : []);

function character(input: string): Taken {
  if (input.startsWith('\r\n')) return { key: { kind: 'enter' }, length: 2 };
  const single = String.fromCodePoint(input.codePointAt(0) ?? 0);
  if (SHOWN.test(single)) return { key: { kind: 'text', text: single }, length: single.length };
  const kind = CONTROLS[single];
  return kind ? { key: { kind }, length: 1 } : { length: single.length };
}

/** Takes a sequence off the front; undefined while it is not finished. */
function sequence(input: string): Taken | undefined {
  const introducer = input[1];
  if (introducer === undefined) return undefined;
  if (introducer === ESC) return { key: { kind: 'escape' }, length: 1 };
  if (input.startsWith(PASTE_BEGINS)) return pasted(input);
  if (introducer === '[') return controlSequence(input);
  if (introducer === 'O') return input.length > 2 ? taken(SINGLES[input[2] ?? ''], 3) : undefined;
  if (STRING_STARTS.includes(introducer)) return controlString(input);
  return { length: 1 + String.fromCodePoint(input.codePointAt(1) ?? 0).length };
}

/** Everything up to the end's mark, as one line of text. */
function pasted(input: string): Taken | undefined {
  const end = input.indexOf(PASTE_ENDS);
  if (end < 0) return undefined;
  const text = input
    .slice(PASTE_BEGINS.length, Math.min(end, LONGEST_PASTE))
    .replace(/\s*[\r\n\t]\s*/g, ' ')
    .replace(/\p{C}/gu, '')
    .trim();
  const length = end + PASTE_ENDS.length;
  return text === '' ? { length } : { key: { kind: 'paste', text }, length };
}

/** CSI, parameters and intermediates (0x20 to 0x3f), and a final byte (ECMA-48 5.4, from memory). */
function controlSequence(input: string): Taken | undefined {
  let end = 2;
  while (end < input.length && input.charCodeAt(end) >= 0x20 && input.charCodeAt(end) < 0x40) end += 1;
  const final = input[end];
  if (final === undefined) return undefined;
  if (final < '@' || final > '~') return { length: end };
  const parameters = input.slice(2, end);
  const number = final === '~' ? String(Number.parseInt(parameters, 10)) : '';
  return taken(/^[\d;]*$/.test(parameters) ? SEQUENCES[number + final] : undefined, end + 1);
}

/** OSC, DCS, SOS, PM and APC run to a string terminator, or to the bell. */
function controlString(input: string): Taken | undefined {
  const ends = [input.indexOf('\x07'), input.indexOf(`${ESC}\\`)].map((at, which) =>
    at < 0 ? at : at + 1 + which,
  );
  const finished = ends.filter((end) => end > 0);
  return finished.length > 0 ? { length: Math.min(...finished) } : undefined;
}

const taken = (kind: NamedKey | undefined, length: number): Taken =>
  kind ? { key: { kind }, length } : { length };
