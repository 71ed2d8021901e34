// What is said in lines: what earlier trials taught, and notes; within the lines that the page has left, and saying what was left out.
import type { Job } from '../core/bench/job.ts';
import { withDoubt } from '../core/figures.ts';
import { coverageFactor } from '../core/measure/student.ts';
import { characters, forPaper } from '../core/safe-text.ts';
import { type LengthUnit, mm } from '../core/units.ts';
import { element, saying } from './markup.ts';
import { section } from './table.ts';
import { cutTo, linesOf, NAME, PAGE_WIDTH, SMALL } from './type.ts';
import { upTo, woodWords } from './words.ts';

/** Lines of small type that name, woods, reasons and notes share beyond the first of name and woods; found by printing the fullest page. */
const LINES = 10;
/** The latest reasons are shown, at least the last one; the records keep all of them. */
const REASONS = 3;
/** Lines that notes have before reasons take any. */
const NOTES_FIRST = 5;
/** A line of the name in large type takes the room of so many small ones. */
const NAME_LINES = 1.4;

const lines = (words: string): number => linesOf(words, PAGE_WIDTH, SMALL);

const leftOut = (count: number, what: string): string =>
  count === 0 ? '' : ` (${count} earlier ${what}${count === 1 ? '' : 's'}: see lidwright jobs show)`;

/** The last texts that fit in so many lines, in their order. */
function latest(texts: readonly string[], room: number): readonly string[] {
  let taken = 0;
  const over = texts.findLastIndex((words) => {
    taken += lines(words);
    return taken > room;
  });
  return texts.slice(over + 1);
}

/** A reason ends in what it did: a long one loses its middle. */
function reasonWords(reason: string): string {
  const all = [...characters(forPaper(reason))];
  const [head, tail] = [34, 76];
  if (all.length <= head + tail) return all.join('');
  return `${all.slice(0, head).join('')}…${all.slice(-tail).join('')}`;
}

/** Lines that are left once name and woods have theirs. */
function roomOf(job: Job): number {
  const name = (linesOf(upTo(job.name), PAGE_WIDTH, NAME.small) - 1) * NAME_LINES;
  return LINES - name - (lines(woodWords(job.setup)) - 1);
}

function reasonsOf(job: Job): readonly string[] {
  const notes = job.notes.reduce((sum, note) => sum + lines(note), 0);
  const reasons = (job.setup.learned?.reasons ?? []).slice(-REASONS).map(reasonWords);
  const shown = latest(reasons, roomOf(job) - 1 - Math.min(notes, NOTES_FIRST));
  return shown.length > 0 ? shown : reasons.slice(-1);
}

/** What earlier trials moved, and why; empty where nothing was learned. */
export function learnedSection(job: Job, unit: LengthUnit): string {
  const { learned } = job.setup;
  if (!learned) return '';
  const half = mm(coverageFactor(0.95, Number.POSITIVE_INFINITY) * learned.spread);
  const moved = `Clearance expected to come out over the computed one: ${withDoubt(learned.shift, half, unit)}.`;
  const reasons = reasonsOf(job);
  const over = learned.reasons.length - reasons.length;
  const items = reasons.map((words) => saying('li', words)).join('');
  const because = items === '' ? '' : element('ol', { start: over + 1 }, items);
  return section(`Learned from earlier trials${leftOut(over, 'reason')}`, saying('p', moved) + because);
}

/** Lines that are left for notes once reasons have theirs too. */
function roomForNotes(job: Job): number {
  const learned = job.setup.learned ? 1 : 0;
  return roomOf(job) - reasonsOf(job).reduce((sum, words) => sum + lines(words), learned);
}

/** The latest notes that fit; of one that is too long for itself, its beginning. */
export function notesSection(job: Job): string {
  const room = roomForNotes(job);
  const whole = latest(job.notes, room);
  const last = job.notes.at(-1);
  const cut = whole.length === 0 && last !== undefined;
  const shown = cut ? [cutTo(forPaper(last), 0.9 * PAGE_WIDTH * Math.floor(room), SMALL)] : whole;
  const content = shown.map((note) => saying('p', note, { dir: 'auto' })).join('');
  const rest = cut ? ' (cut: see lidwright jobs show)' : leftOut(job.notes.length - whole.length, 'note');
  return section(`Notes${rest}`, content || saying('p', 'none yet', { class: 'blank' }), 'notes');
}
