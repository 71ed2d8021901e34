// The keys: what each orders, given what the bench shows, what it is called on the last line of a screen, and what the help says
// of it. Letters are words in a form or a note, and orders everywhere else.
import type { Action, HandEvent } from '../core/bench/event.ts';
import type { Job } from '../core/bench/job.ts';
import type { Bench } from '../core/bench/state.ts';
import type { Key } from './keys.ts';
import type { KeyHint } from './scene.ts';

const hint = (key: string, does: string): KeyHint => ({ key, does });
/** Keys by name with what they do, in their order. */
const hints = (keys: { readonly [key: string]: string }): readonly KeyHint[] =>
  Object.entries(keys).map(([key, does]) => hint(key, does));

const HELP_AND_LEAVE = hints({ '?': 'help', q: 'leave' });
const MOVE = [...hints({ n: 'next', b: 'back' }), ...HELP_AND_LEAVE];
const UNIT = hint('m', 'mm/inch');
const UNDO = hint('u', 'undo');
const CALIBRATE = hint('k', 'calibrate');

export const stageKeys = (does: string, again = 'again'): readonly KeyHint[] => [
  ...hints({ Enter: does, a: again }),
  ...MOVE,
  UNDO,
  UNIT,
];

const atThread = (own: { readonly [key: string]: string }): readonly KeyHint[] => [
  ...hints(own),
  ...MOVE,
  CALIBRATE,
  UNDO,
];
export const countingKeys = (does: string): readonly KeyHint[] =>
  atThread({ Enter: does, a: 'touch off', '+ -': 'detent' });
/** Where no detents are counted by key. */
export const threadKeys = (does: string): readonly KeyHint[] =>
  atThread(does === 'touch off' ? { Enter: does } : { Enter: does, a: 'touch off' });
/** Where a job has no feed to count with. */
export const typedDepthKeys = atThread({ '0-9': 'type the depth' });

/** Where a thread is chased by hand. */
export const chasingKeys: readonly KeyHint[] = [
  ...hints({ '+ -': 'stroke', '0-9': 'flat', Enter: 'keep' }),
  ...MOVE,
  UNDO,
  UNIT,
];

export const openRecordKeys: readonly KeyHint[] = [
  ...hints({ Enter: 'close the job' }),
  ...MOVE,
  UNDO,
  ...hints({ e: 'note', s: 'sheet' }),
];
export const closedRecordKeys: readonly KeyHint[] = [
  ...hints({ s: 'sheet', w: 'new job', j: 'jobs', u: 'open it again', b: 'back' }),
  ...HELP_AND_LEAVE,
];

export const calibrateKeys = (does: string, go: string, again = 'start over'): readonly KeyHint[] =>
  hints({ Enter: does, n: go, b: 'back', a: again, '?': 'help', m: 'mm/inch', Esc: 'leave' });
export const namingKeys = hints({ Enter: 'keep the feed', Esc: 'back' });
export const formKeys = hints({
  Enter: 'next field',
  '↑ ↓': 'move',
  space: 'next choice',
  End: 'begin the job',
  Esc: 'leave',
});
export const listKeys = hints({ Enter: 'open', '↑ ↓': 'move', w: 'new job', Esc: 'back' });
export const noteKeys = hints({ Enter: 'keep', Esc: 'leave' });
export const typingKeys = hints({ Enter: 'keep this number', Esc: 'clear' });
export const welcomeKeys = (virtual: boolean): readonly KeyHint[] => [
  ...hints({ Enter: 'new job', j: 'earlier jobs' }),
  ...(virtual ? hints({ v: 'virtual bench' }) : []),
  ...HELP_AND_LEAVE,
  CALIBRATE,
];

export const practiceKeys = (virtual: boolean, does: string): readonly KeyHint[] => [
  hint('Enter', does),
  ...hints(virtual ? { '← →': 'rock the jaws' } : { '0-9': "type the ring's size" }),
  hint('a', 'start over'),
  ...HELP_AND_LEAVE,
  UNIT,
];
/** With nothing to measure with. */
export const noJawsKeys: readonly KeyHint[] = [hint('v', 'virtual jaws'), ...HELP_AND_LEAVE];
export const pauseKey = (paused: boolean): KeyHint => hint('p', paused ? 'go on' : 'pause');

interface Orders {
  readonly [letter: string]: HandEvent;
}
/** A key as the help has it, at length and in a word, with what its letters order. */
interface HelpKey extends KeyHint {
  readonly short: string;
  readonly orders?: Orders;
}

const act = (action: Action): HandEvent => ({ kind: 'action', action });

/** Every key of a stage. */
const ALL_KEYS: readonly HelpKey[] = [
  {
    ...hint('Enter', "keep what is shown (space and the board's button 1 do the same)"),
    short: 'keep',
    orders: { ' ': act('keep') },
  },
  {
    ...hint('a', 'measure again, or another size of the part (button 2)'),
    short: 'again',
    orders: { a: act('again') },
  },
  {
    ...hint('n  b', 'next stage, previous stage (buttons 3 and 4)'),
    short: 'next, back',
    orders: { n: act('next'), b: act('back') },
  },
  {
    ...hint('0-9', 'type a reading, with mm or in if you like, then Enter; up picks one to change'),
    short: 'type a reading',
  },
  {
    ...hint('u', 'undo the last thing kept; nothing is ever lost'),
    short: 'undo',
    orders: { u: { kind: 'undo-asked' } },
  },
  { ...hint('m', 'millimetres or inches'), short: 'mm/inch', orders: { m: { kind: 'unit-switched' } } },
  { ...hint('e', 'write a note'), short: 'note', orders: { e: { kind: 'note-asked' } } },
  { ...hint('s', 'write the job sheet'), short: 'sheet', orders: { s: { kind: 'sheet-asked' } } },
  {
    ...hint('k + -', 'calibrate the feed; one detent deeper or back'),
    short: 'feed',
    orders: { k: { kind: 'calibrate-asked' } },
  },
  {
    ...hint('w  j  v', 'a new job, earlier jobs, the virtual bench if no board is plugged in'),
    short: 'jobs, virtual',
    orders: {
      w: { kind: 'new-job-asked' },
      j: { kind: 'jobs-asked' },
      v: { kind: 'virtual-asked' },
    },
  },
  { ...hint('q', 'leave; the job stays as it is'), short: 'leave', orders: { q: { kind: 'quit-asked' } } },
];

/** Keys that only the virtual bench has. */
export const TEACHING_KEYS: readonly HelpKey[] = [
  {
    ...hint('p', "pause, go on; the virtual bench's time stands still"),
    short: 'pause',
    orders: { p: { kind: 'teaching-asked', order: 'pause' } },
  },
  {
    ...hint('<  >', 'slower, faster'),
    short: 'slower, faster',
    orders: {
      '<': { kind: 'teaching-asked', order: 'slower' },
      '>': { kind: 'teaching-asked', order: 'faster' },
    },
  },
  {
    ...hint('x', 'make this stage go wrong: a small bore, a lost count, a tight pair'),
    short: 'mishap',
    orders: { x: { kind: 'teaching-asked', order: 'mishap' } },
  },
  {
    ...hint('d', 'damage the next lines from the caliper'),
    short: 'damage lines',
    orders: { d: { kind: 'teaching-asked', order: 'bad-lines' } },
  },
];

const ordersOf = (keys: readonly HelpKey[]): Orders => Object.assign({}, ...keys.map(({ orders }) => orders));
/** Orders by letter, at a stage and at the welcome: what the help names, and the help itself. */
const ORDERS: Orders = { ...ordersOf(ALL_KEYS), '?': { kind: 'help-switched' } };
/** More of them on the virtual bench. */
const TEACHING_ORDERS = ordersOf(TEACHING_KEYS);

/** What keys of these names do where both threads are chased by hand, and at those threads. */
const BY_HAND: { readonly [key: string]: HelpKey } = {
  'k + -': { ...hint('k', 'set up a feed handle for other jobs'), short: 'feed' },
};
const AT_CHASING: { readonly [key: string]: HelpKey } = {
  ...BY_HAND,
  a: { ...hint('+ a -', 'count a stroke (button 2 does too), or take one back'), short: 'stroke' },
  '0-9': {
    ...hint('0-9', "type the crest's flat, or a spigot's diameter over the crests, then Enter"),
    short: 'flat, crests',
  },
};

/** Every key of this job's stage, for its help. */
export function helpKeys(job: Job | null): readonly HelpKey[] {
  if (!job?.setup.byHand) return ALL_KEYS;
  const own = job.stage.endsWith('thread') ? AT_CHASING : BY_HAND;
  return ALL_KEYS.map((known) => own[known.key] ?? known);
}

/** Characters that begin a number; the rest is shown as typed and judged when it is entered. */
const BEGINS = /^[0-9.,-]$/;

const isCounting = (bench: Bench): boolean =>
  bench.mode.kind === 'stage' && (bench.job?.stage.endsWith('thread') ?? false);

function letterAtStage(text: string, bench: Bench): HandEvent | undefined {
  if (bench.help) return text === 'q' || text === '?' ? ORDERS['?'] : undefined;
  if (bench.typed !== '') return { kind: 'typed', text };
  if (isCounting(bench) && (text === '+' || text === '-'))
    return { kind: 'detent-keyed', by: text === '+' ? 1 : -1 };
  if (BEGINS.test(text)) return { kind: 'typed', text };
  const letter = text.toLowerCase();
  return ORDERS[letter] ?? (bench.teaching ? TEACHING_ORDERS[letter] : undefined);
}

/** Words are being typed: every letter is text. */
const isWriting = ({ mode }: Bench): boolean =>
  mode.kind === 'form' ||
  mode.kind === 'note' ||
  (mode.kind === 'calibrate' && mode.calibrating.step === 'naming');

/** Arrows rock the virtual jaws. */
const isByKey = ({ mode, teaching }: Bench): boolean => mode.kind === 'practice' && teaching !== null;

/** The event a key is, or nothing where it means nothing. */
export function eventFor(key: Key, bench: Bench): HandEvent | undefined {
  switch (key.kind) {
    case 'text':
      return isWriting(bench) ? { kind: 'typed', text: key.text } : letterAtStage(key.text, bench);
    case 'paste':
      return bench.help ? undefined : { kind: 'typed', text: key.text };
    case 'enter':
      return { kind: 'entered' };
    case 'escape':
      return { kind: 'escaped' };
    case 'backspace':
    case 'delete':
      return { kind: 'erased' };
    case 'interrupt':
      return { kind: 'quit-asked' };
    case 'tab':
      // A caliper that types like a keyboard may end its number with a tab.
      if (!isWriting(bench) && bench.typed !== '') return { kind: 'entered' };
      return isWriting(bench) ? { kind: 'moved', by: 1 } : { kind: 'action', action: 'next' };
    case 'right':
      if (isByKey(bench)) return { kind: 'teaching-asked', order: 'jaws-right' };
      return isWriting(bench) ? { kind: 'moved', by: 1 } : { kind: 'action', action: 'next' };
    case 'left':
      if (isByKey(bench)) return { kind: 'teaching-asked', order: 'jaws-left' };
      return isWriting(bench) ? { kind: 'moved', by: -1 } : { kind: 'action', action: 'back' };
    case 'back-tab':
      return isWriting(bench) ? { kind: 'moved', by: -1 } : { kind: 'action', action: 'back' };
    case 'up':
      return { kind: 'moved', by: -1 };
    case 'down':
      return { kind: 'moved', by: 1 };
    case 'finish':
    case 'end':
    case 'page-down':
      return { kind: 'form-finished' };
    case 'home':
    case 'page-up':
    case 'suspend':
    case 'quit-signal':
      return undefined;
    default:
      return key satisfies never;
  }
}
