// The keys by name and what they do, for the last line of a screen and for the help.
import type { Job } from '../core/bench/job.ts';
import type { KeyHint } from './scene.ts';

const hint = (key: string, does: string): KeyHint => ({ key, does });

const HELP = hint('?', 'help');
const UNIT = hint('m', 'mm/inch');
const UNDO = hint('u', 'undo');
const CALIBRATE = hint('k', 'calibrate');
const LEAVE = hint('q', 'leave');

export const stageKeys = (takes: string, again = 'again'): readonly KeyHint[] => [
  hint('Enter', takes),
  hint('a', again),
  hint('n', 'next'),
  hint('b', 'back'),
  HELP,
  LEAVE,
  UNDO,
  UNIT,
];

export const countingKeys = (takes: string): readonly KeyHint[] => [
  hint('Enter', takes),
  hint('a', 'touch off'),
  hint('+ -', 'detent'),
  hint('n', 'next'),
  hint('b', 'back'),
  HELP,
  LEAVE,
  CALIBRATE,
  UNDO,
];

/** Where no detents are counted by key. */
export const threadKeys = (takes: string): readonly KeyHint[] => [
  hint('Enter', takes),
  ...(takes === 'touch off' ? [] : [hint('a', 'touch off')]),
  hint('n', 'next'),
  hint('b', 'back'),
  HELP,
  LEAVE,
  CALIBRATE,
  UNDO,
];

/** Where a job has no feed to count with. */
export const typedDepthKeys: readonly KeyHint[] = [
  hint('0-9', 'type the depth'),
  hint('n', 'next'),
  hint('b', 'back'),
  HELP,
  LEAVE,
  CALIBRATE,
  UNDO,
];

/** Where a thread is chased by hand. */
export const chasingKeys: readonly KeyHint[] = [
  hint('+ -', 'stroke'),
  hint('0-9', 'flat'),
  hint('Enter', 'keep'),
  hint('n', 'next'),
  hint('b', 'back'),
  HELP,
  LEAVE,
  UNDO,
  UNIT,
];

export const calibrateKeys = (takes: string, go: string, again = 'start over'): readonly KeyHint[] => [
  hint('Enter', takes),
  hint('n', go),
  hint('b', 'back'),
  hint('a', again),
  HELP,
  UNIT,
  hint('Esc', 'leave'),
];
export const namingKeys: readonly KeyHint[] = [hint('Enter', 'keep the feed'), hint('Esc', 'back')];

export const formKeys: readonly KeyHint[] = [
  hint('Enter', 'next field'),
  hint('↑ ↓', 'move'),
  hint('space', 'next choice'),
  hint('End', 'begin the job'),
  hint('Esc', 'leave'),
];

export const listKeys: readonly KeyHint[] = [
  hint('Enter', 'open'),
  hint('↑ ↓', 'move'),
  hint('w', 'new job'),
  hint('Esc', 'back'),
];

export const noteKeys: readonly KeyHint[] = [hint('Enter', 'keep'), hint('Esc', 'leave')];
export const typingKeys: readonly KeyHint[] = [hint('Enter', 'keep this number'), hint('Esc', 'clear')];
export const welcomeKeys = (virtual: boolean): readonly KeyHint[] => [
  hint('Enter', 'new job'),
  hint('j', 'earlier jobs'),
  ...(virtual ? [hint('v', 'virtual bench')] : []),
  HELP,
  LEAVE,
  CALIBRATE,
];

export const practiceKeys = (virtual: boolean, does: string): readonly KeyHint[] => [
  hint('Enter', does),
  ...(virtual ? [hint('← →', 'rock the jaws')] : [hint('0-9', "type the ring's size")]),
  hint('a', 'start over'),
  HELP,
  LEAVE,
  UNIT,
];

/** With nothing to measure with. */
export const noJawsKeys: readonly KeyHint[] = [hint('v', 'virtual jaws'), HELP, LEAVE];

type HelpKey = KeyHint & { readonly short: string };

/** Keys that only the virtual bench has, for its help. */
export const TEACHING_KEYS: readonly HelpKey[] = [
  { ...hint('p', "pause, go on; the virtual bench's time stands still"), short: 'pause' },
  { ...hint('<  >', 'slower, faster'), short: 'slower, faster' },
  { ...hint('x', 'make this stage go wrong: a small bore, a lost count, a tight pair'), short: 'mishap' },
  { ...hint('d', 'damage the next lines from the caliper'), short: 'damage lines' },
];
export const pauseKey = (paused: boolean): KeyHint => hint('p', paused ? 'go on' : 'pause');

/** Every key of a stage, for its help: at length, and in a word. */
const ALL_KEYS: readonly HelpKey[] = [
  { ...hint('Enter', "keep what is shown (space and the board's button 1 do the same)"), short: 'keep' },
  { ...hint('a', 'start this measurement again (button 2)'), short: 'again' },
  { ...hint('n  b', 'next stage, previous stage (buttons 3 and 4)'), short: 'next, back' },
  {
    ...hint('0-9', 'type a reading, with mm or in if you like, then Enter; up changes the last one'),
    short: 'type a reading',
  },
  { ...hint('u', 'undo the last thing kept; nothing is ever lost'), short: 'undo' },
  { ...hint('m', 'millimetres or inches'), short: 'mm/inch' },
  { ...hint('e', 'write a note'), short: 'note' },
  { ...hint('s', 'write the job sheet'), short: 'sheet' },
  { ...hint('k + -', 'calibrate the feed; one detent deeper or back'), short: 'feed' },
  { ...hint('w  j', 'a new job, earlier jobs'), short: 'new, earlier' },
  { ...hint('q', 'leave; the job stays as it is'), short: 'leave' },
];

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
