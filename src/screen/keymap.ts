// The keys: what each orders, given what the bench shows, what it is called on the last line of a screen, and what the help says
// of it. Letters are words in a form or a note, and orders everywhere else.
import type { Action, HandEvent } from '../core/bench/event.ts';
import type { Job } from '../core/bench/job.ts';
import type { Bench } from '../core/bench/state.ts';
import type { TeachingOrder } from '../core/bench/teaching.ts';
import type { Key, NamedKey } from './keys.ts';
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

/** A key as the help has it, at length and in a word. */
interface HelpKey extends KeyHint {
  readonly short: string;
}
type HelpRow = readonly [key: string, does: string, short: string];
const helpKey = ([key, does, short]: HelpRow): HelpKey => ({ key, does, short });

/** Every key of a stage. */
const ALL_KEYS = (
  [
    ['Enter', "keep what is shown (space and the board's button 1 do the same)", 'keep'],
    ['a', 'measure again, or another size of the part (button 2)', 'again'],
    ['n  b', 'next stage, previous stage (buttons 3 and 4)', 'next, back'],
    [
      '0-9',
      'type a reading, with mm or in if you like, then Enter; up picks one to change',
      'type a reading',
    ],
    ['u', 'undo the last thing kept; nothing is ever lost', 'undo'],
    ['m', 'millimetres or inches', 'mm/inch'],
    ['e', 'write a note', 'note'],
    ['s', 'write the job sheet', 'sheet'],
    ['k + -', 'calibrate the feed; one detent deeper or back', 'feed'],
    ['w  j  v', 'a new job, earlier jobs, the virtual bench if no board is plugged in', 'jobs, virtual'],
    ['q', 'leave; the job stays as it is', 'leave'],
  ] as const
).map(helpKey);

/** Keys that only the virtual bench has. */
export const TEACHING_KEYS = (
  [
    ['p', "pause, go on; the virtual bench's time stands still", 'pause'],
    ['<  >', 'slower, faster', 'slower, faster'],
    ['x', 'make this stage go wrong: a small bore, a lost count, a tight pair', 'mishap'],
    ['d', 'damage the next lines from the caliper', 'damage lines'],
  ] as const
).map(helpKey);

/** What keys of these names do where both threads are chased by hand, and at those threads. */
const BY_HAND = { 'k + -': helpKey(['k', 'set up a feed handle for other jobs', 'feed']) };
const FLAT = "type the crest's flat, or a spigot's diameter over the crests, then Enter";
const AT_CHASING = {
  ...BY_HAND,
  a: helpKey(['+ a -', 'count a stroke (button 2 does too), or take one back', 'stroke']),
  '0-9': helpKey(['0-9', FLAT, 'flat, crests']),
};

/** Every key of this job's stage, for its help. */
export function helpKeys(job: Job | null): readonly HelpKey[] {
  if (!job?.setup.byHand) return ALL_KEYS;
  const own: { readonly [key: string]: HelpKey } = job.stage.endsWith('thread') ? AT_CHASING : BY_HAND;
  return ALL_KEYS.map((known) => own[known.key] ?? known);
}

interface Orders {
  readonly [letter: string]: HandEvent;
}
const act = (action: Action): HandEvent => ({ kind: 'action', action });
const teach = (order: TeachingOrder | 'mishap'): HandEvent => ({ kind: 'teaching-asked', order });

/** Orders by letter, at a stage and at the welcome. */
const ORDERS: Orders = {
  ' ': act('keep'),
  a: act('again'),
  n: act('next'),
  b: act('back'),
  u: { kind: 'undo-asked' },
  m: { kind: 'unit-switched' },
  e: { kind: 'note-asked' },
  s: { kind: 'sheet-asked' },
  k: { kind: 'calibrate-asked' },
  w: { kind: 'new-job-asked' },
  j: { kind: 'jobs-asked' },
  v: { kind: 'virtual-asked' },
  q: { kind: 'quit-asked' },
  '?': { kind: 'help-switched' },
};
/** More of them on the virtual bench. */
const TEACHING_ORDERS: Orders = {
  p: teach('pause'),
  '<': teach('slower'),
  '>': teach('faster'),
  x: teach('mishap'),
  d: teach('bad-lines'),
};

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

/** What keys without a letter do wherever they do anything. */
const EVENTS: { readonly [kind in NamedKey]?: HandEvent } = {
  enter: { kind: 'entered' },
  escape: { kind: 'escaped' },
  backspace: { kind: 'erased' },
  delete: { kind: 'erased' },
  interrupt: { kind: 'quit-asked' },
  up: { kind: 'moved', by: -1 },
  down: { kind: 'moved', by: 1 },
  finish: { kind: 'form-finished' },
  end: { kind: 'form-finished' },
  'page-down': { kind: 'form-finished' },
};

/** The event a key is, or nothing where it means nothing. */
export function eventFor(key: Key, bench: Bench): HandEvent | undefined {
  const writing = isWriting(bench);
  if (key.kind === 'text')
    return writing ? { kind: 'typed', text: key.text } : letterAtStage(key.text, bench);
  if (key.kind === 'paste') return bench.help ? undefined : { kind: 'typed', text: key.text };
  const { kind } = key;
  // A caliper that types like a keyboard may end its number with a tab.
  if (kind === 'tab' && !writing && bench.typed !== '') return EVENTS.enter;
  if (isByKey(bench) && (kind === 'right' || kind === 'left')) return teach(`jaws-${kind}`);
  if (kind === 'tab' || kind === 'right') return writing ? EVENTS.down : act('next');
  if (kind === 'back-tab' || kind === 'left') return writing ? EVENTS.up : act('back');
  return EVENTS[kind];
}
