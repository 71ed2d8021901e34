// What is said in lists: trials, what earlier trials taught, notes; each within its place, and saying what was left out.
import type { Job, TrialMade } from '../core/bench/job.ts';
import { coverageFactor } from '../core/measure/student.ts';
import { type LengthUnit, mm } from '../core/units.ts';
import { withDoubt } from './figures.ts';
import { element, plain, saying } from './markup.ts';
import { linesOf } from './type.ts';
import { upTo } from './words.ts';

/** The latest are shown of each; the records keep all of them. */
const TRIALS = 4;
const REASONS = 3;
/** Lines of notes, the width of the page, and the size of its type, in millimetres. */
const NOTE_LINES = 8;
const PAGE_WIDTH = 186;
const TYPE = 3;

const left = (count: number, what: string): string =>
  saying('p', `${count} earlier ${what}${count === 1 ? '' : 's'} not shown: lidwright jobs show has them.`, {
    class: 'small',
  });

const list = (items: readonly string[], first: number): string =>
  element('ol', { start: first }, items.map((words) => saying('li', words)).join(''));

function trialWords({ verdict, relieved, reworked }: TrialMade): string {
  return `${verdict}${relieved ? ', then crests relieved' : ''}${reworked ? ', then cut deeper' : ''}`;
}

export function trialsMarkup({ trials }: Job): string {
  if (trials.length === 0) return '';
  const over = Math.max(0, trials.length - TRIALS);
  const shown = list(trials.slice(over).map(trialWords), over + 1);
  return shown + (over > 0 ? left(over, 'trial') : '');
}

/** A reason ends in what it did: a long one loses its middle. */
function reasonWords(reason: string): string {
  const characters = [...plain(reason)];
  const [head, tail] = [34, 76];
  if (characters.length <= head + tail) return characters.join('');
  return `${characters.slice(0, head).join('')}…${characters.slice(-tail).join('')}`;
}

/** What earlier trials moved, and why; empty where nothing was learned. */
export function learnedMarkup({ setup: { learned } }: Job, unit: LengthUnit): string {
  if (!learned) return '';
  const half = mm(coverageFactor(0.95, Number.POSITIVE_INFINITY) * learned.spread);
  const moved = `Clearance expected to come out over the computed one: ${withDoubt(learned.shift, half, unit)}.`;
  const over = Math.max(0, learned.reasons.length - REASONS);
  const reasons = learned.reasons.slice(over).map(reasonWords);
  const because = reasons.length === 0 ? '' : list(reasons, over + 1);
  return saying('p', moved) + because + (over > 0 ? left(over, 'reason') : '');
}

/** The latest notes that fit, in their order. */
function fitting(notes: readonly string[]): readonly string[] {
  let lines = 0;
  const from = notes.findLastIndex((note) => {
    lines += linesOf(note, PAGE_WIDTH, TYPE);
    return lines > NOTE_LINES;
  });
  return notes.slice(from + 1);
}

/** The longest note that fits alone. */
const MOST = 400;

export function notesMarkup(job: Job): string {
  const notes = job.notes.map((note) => upTo(note, MOST));
  const shown = fitting(notes);
  const over = notes.length - shown.length;
  if (shown.length === 0) return saying('p', 'none yet', { class: 'blank' });
  return (
    shown.map((note) => saying('p', note, { dir: 'auto' })).join('') + (over > 0 ? left(over, 'note') : '')
  );
}
