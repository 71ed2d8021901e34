// Every sentence of the bench screen that is not about one stage alone: refusals, notices, doubts, cues, advice.
import type { TrialAdvice } from '../core/bench/advice.ts';
import type { Fact } from '../core/bench/entry.ts';
import type { Job } from '../core/bench/job.ts';
import type { Part, Setup } from '../core/bench/setup.ts';
import type { Bench, Cue, Notice, Refusal } from '../core/bench/state.ts';
import { zeroAge } from '../core/bench/zero-age.ts';
import { counted, lengthFigure } from '../core/figures.ts';
import type { Doubt } from '../core/measure/rocking.ts';
import type { FitWord } from '../core/thread/fit.ts';
import { type Length, type LengthUnit, mm } from '../core/units.ts';
import { calibrationWords } from './calibration-words.ts';
import { safe } from './text.ts';
import { voidWords } from './void-words.ts';

/** The part as the turner sees it: bore and spigot, whichever of them is the lid. */
export const partWord = (part: Part): string => (part === 'female' ? 'bore' : 'spigot');

/** Which of the two pieces a part is. */
const pieceOf = (setup: Setup, part: Part): string => {
  const other = setup.bored === 'lid' ? 'body' : 'lid';
  return part === 'female' ? setup.bored : other;
};

export const FIT_WORDS: { readonly [word in FitWord]: string } = {
  seized: 'will not go together',
  tight: 'goes, but binds',
  running: 'runs freely',
  loose: 'runs, but rattles',
};

/** A plain lid is as wanted, or it is not. */
const PLAIN_FITS: { readonly [word in FitWord]: string } = {
  seized: 'far too tight',
  tight: 'tighter than wanted',
  running: 'as wanted',
  loose: 'looser than wanted',
};
export const fitName = ({ fit }: Setup, word: FitWord): string => (fit === 'plain' ? PLAIN_FITS[word] : word);

/** What there is between the parts: clearance, or the hold of a plain lid that is larger than its bore. */
export const looseness = (
  { fit }: Setup,
  clearance: Length,
): { readonly name: string; readonly value: Length } =>
  fit === 'plain' && clearance < 0
    ? { name: 'hold', value: mm(-clearance) }
    : { name: 'clearance', value: clearance };

export function doubtWords(doubt: Doubt, unit: LengthUnit): string {
  switch (doubt.kind) {
    case 'no-readings':
      return 'nothing was read';
    case 'not-rocked':
      return 'the jaws were not rocked: no top was passed';
    case 'too-few-tops':
      return `${counted(doubt.found, 'top')} found, ${doubt.needed} needed`;
    case 'tops-disagree':
      return `only ${doubt.agreeing} of ${doubt.needed} tops agree; they lie ${lengthFigure(doubt.spread, unit)} apart`;
    case 'top-beyond':
      return `one top stands ${lengthFigure(doubt.beyond, unit)} beyond the ${doubt.agreeing} that agree`;
    case 'drifting':
      return `the tops move by ${lengthFigure(doubt.change, unit)} as it goes on`;
    case 'unit-changed':
      return `the caliper was switched from ${doubt.from} to ${doubt.to}`;
    case 'too-many-bad-readings':
      return `${doubt.bad} of ${doubt.of} readings were impossible`;
    default:
      return doubt satisfies never;
  }
}

/** What to do about a doubt, by its kind. */
export const DOUBT_CURES: { readonly [kind in Doubt['kind']]: string } = {
  'no-readings': 'Switch the caliper on and look at its cable, or type what it shows.',
  'not-rocked': 'Keep one jaw still and swing the other past the widest place, to and fro.',
  'too-few-tops': 'Rock on: a few more slow swings past the widest place.',
  'tops-disagree': 'Rock slower, one jaw held still, until the tops agree.',
  'top-beyond': 'Seat the still jaw again, press a to begin again, and rock.',
  drifting: 'Let the jaws settle, press a to begin again, and rock.',
  'unit-changed': 'Press a to begin again, and leave the unit key alone while rocking.',
  'too-many-bad-readings': "Look at the caliper's cable and battery, then press a to begin again.",
};

const isDoubtKind = (text: string): text is Doubt['kind'] => text in DOUBT_CURES;

const MISSING: { readonly [what in Extract<Refusal, { kind: 'missing' }>['what']]: string } = {
  bore: 'There is no bore yet: type its diameter, or go back to bore size.',
  spigot: 'There is no spigot yet: go back to spigot and take one.',
  'touch-off': 'Touch off first: bring the cutter up until it just marks the wood, then Enter.',
  feed: 'No feed is known for this job: type the depth that was cut, then Enter.',
  count: 'The board has not said yet where its feed stands: wait a second, then touch off again.',
  trial: 'No trial was made yet.',
  zero: 'The zero was not checked yet.',
  depth: 'Nothing is cut yet: feed deeper first.',
};

/** Lands make a ring show small, never large: what is shown otherwise is not this ring, or not measured well. */
function noLandWords({ why, known, shown }: Extract<Refusal, { kind: 'no-land' }>, unit: LengthUnit): string {
  const read = `a ring of ${lengthFigure(known, unit)} reads ${lengthFigure(shown, unit)}`;
  return why === 'reads-high'
    ? `Not taken: ${read}, which no jaws do. Check the zero and measure it again.`
    : `Not taken: ${read}, so it is another one. Press a and type the size of this one.`;
}

/** Why an action was not done, and what to do. */
export function refusalWords(why: Refusal, unit: LengthUnit): string {
  switch (why.kind) {
    case 'no-reading':
      return 'Nothing to take yet: measure first, or type the number.';
    case 'stale-reading':
      return 'The last reading is too old to take: let the caliper speak again.';
    case 'moving':
      return 'The reading still moves: hold the jaws still, then take.';
    case 'another-board':
      return `Another board speaks now, ${safe(why.board, 20)}: measure anew, and check its zero.`;
    case 'not-agreed':
      return isDoubtKind(why.reason)
        ? `Not taken. ${DOUBT_CURES[why.reason]}`
        : 'Not taken: the tops do not agree.';
    case 'zero-wanders':
      return `Not taken: closed jaws wander by ${lengthFigure(mm(why.spread), unit)}, ${lengthFigure(mm(why.allowed), unit)} is allowed. Wipe them and close them gently.`;
    case 'jaws-open':
      return `Not taken: the jaws stand open at ${lengthFigure(mm(why.shown), unit)}; closed ones show no more than ${lengthFigure(mm(why.most), unit)}. Close them.`;
    case 'missing':
      return MISSING[why.what];
    case 'depth-void':
      return `The depth is void, since ${voidWords(why.why)}: touch off again.`;
    case 'bad-number':
      return `"${safe(why.found, 24)}" is not taken: give ${safe(why.accepted, 90)}.`;
    case 'no-fit':
      return `That gives no fit: ${safe(why.why)}.`;
    case 'no-land':
      return noLandWords(why, unit);
    case 'board-counts':
      return 'The board counts this feed: turn the handle, not the keys.';
    case 'nothing-to-undo':
      return 'Nothing is left to undo.';
    case 'closed':
      return 'This job is closed: press u to open it again, or w for a new one.';
    case 'calibration':
      return calibrationWords(why.trouble);
    case 'no-job':
      return 'No job is open: press w for a new one, j for earlier ones.';
    default:
      return why satisfies never;
  }
}

/** What was kept, by the fact's kind. */
const KEPT: { readonly [kind in Fact['kind']]: string } = {
  'job-begun': 'Job begun.',
  'setup-changed': 'Setup changed.',
  'stage-entered': 'Stage entered.',
  'zero-taken': 'Zero kept: it is taken off every reading from now on.',
  'ring-taken': 'Jaw land kept: small bores are corrected from now on.',
  'hollow-measured': 'Reading kept.',
  'bore-taken': 'Bore kept.',
  'capture-doubted': 'The doubtful readings are kept with the job.',
  'target-set': 'Target kept.',
  'spigot-taken': 'Spigot kept.',
  'touched-off': 'Touched off: depth counts from here.',
  'feed-counted': 'Feed kept.',
  'depth-voided': 'The depth of the thread is void: touch off again.',
  'thread-cut': 'Thread kept.',
  hardened: 'Hardening kept.',
  'trial-made': 'Trial kept.',
  'crests-relieved': 'Crests relieved, kept.',
  'grain-seen': 'Grain angle kept.',
  'note-added': 'Note kept.',
  'job-renamed': 'Name kept.',
  'job-closed': 'Job closed.',
  'job-reopened': 'Job opened again.',
  'job-removed': 'Job removed.',
  'job-restored': 'Job restored.',
  undone: 'Undone.',
};

const isFactKind = (text: string): text is Fact['kind'] => text in KEPT;
const plainKind = (what: string): string => (isFactKind(what) ? what.replaceAll('-', ' ') : safe(what));

export function noticeWords(notice: Notice, unit: LengthUnit): string {
  switch (notice.kind) {
    case 'kept':
      return isFactKind(notice.what) ? KEPT[notice.what] : `Kept: ${safe(notice.what)}.`;
    case 'refused':
      return refusalWords(notice.why, unit);
    case 'undone':
      return `Undone: ${plainKind(notice.what)}.`;
    case 'feed-kept':
      return `Feed "${safe(notice.name, 40)}" kept in your kit: the next new job is offered it.`;
    case 'not-done':
      return `NOT DONE: ${safe(notice.why)}.`.replace(/\.+$/, '.');
    case 'not-saved':
      return `NOT SAVED: ${safe(notice.why)}. It is tried again every few seconds.`;
    default:
      return notice satisfies never;
  }
}

/** The word that flashes with each sound. */
export const CUE_WORDS: { readonly [cue in Cue]: string } = {
  agreed: 'AGREED',
  near: 'NEAR',
  at: 'AT SIZE',
  past: 'PAST',
  'link-lost': 'NO READINGS',
  kept: 'KEPT',
  refused: 'NOT DONE',
};

/** What can still be done after a trial, one line each. */
export function adviceWords(advice: TrialAdvice, setup: Setup, unit: LengthUnit): string {
  switch (advice.kind) {
    case 'runs':
      return 'It runs: leave it, wax it, record it.';
    case 'deepen': {
      const by = advice.detents === null ? lengthFigure(advice.by, unit) : counted(advice.detents, 'detent');
      return `${by} more on the ${partWord(advice.part)} (the ${pieceOf(setup, advice.part)}) buys ${lengthFigure(advice.buys, unit)}.`;
    }
    case 'relieve-crests':
      return `Sand the crests of the ${partWord(advice.part)} lightly first: crests may be all that touches.`;
    case 'ease':
      return `Ease the spigot by about ${lengthFigure(advice.by, unit)} on the diameter.`;
    case 'leave':
      return 'Leave it: no cut takes clearance away again. A new spigot would.';
    case 'no-more':
      return `No deeper on the ${partWord(advice.part)}: its crest would be eaten.`;
    default:
      return advice satisfies never;
  }
}

/** What is known of the zero, and whether it is time to look again. */
export function zeroWords(bench: Bench, job: Job): string {
  const error = job.zero ? `${lengthFigure(job.zero.error, bench.unit)} taken off` : '';
  const standing = zeroAge(bench, job);
  switch (standing) {
    case 'unchecked':
      return 'not checked';
    case 'fresh':
      return error;
    case 'old':
    case 'restarted':
      return `${error}: check again`;
    default:
      return standing satisfies never;
  }
}
