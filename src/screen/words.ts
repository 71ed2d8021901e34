// Every sentence of the bench screen that is not about one stage alone: refusals, notices, doubts, cues, advice.
import type { TrialAdvice } from '../core/bench/advice.ts';
import type { CalibrationTrouble, PairLack } from '../core/bench/calibration/model.ts';
import type { Fact } from '../core/bench/entry.ts';
import type { Job } from '../core/bench/job.ts';
import type { Setup } from '../core/bench/setup.ts';
import { zeroAge } from '../core/bench/stages/zero.ts';
import type { Bench, BOARD_FAULTS, Cue, KeepQuestion, Notice, Refusal } from '../core/bench/state.ts';
import type { Mishap } from '../core/bench/teaching.ts';
import { counted, lengthFigure } from '../core/figures.ts';
import type { Doubt } from '../core/measure/verdict.ts';
import type { VoidReason } from '../core/thread/depth.ts';
import type { FitWord } from '../core/thread/fit.ts';
import { partWord } from '../core/thread/pair.ts';
import { type Length, type LengthUnit, mm } from '../core/units.ts';
import { safe } from './text.ts';

export const FIT_WORDS: { readonly [word in FitWord]: string } = {
  seized: "won't go together",
  tight: 'goes on but binds',
  running: 'runs freely',
  loose: 'turns freely but is loose',
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
      return "the jaws weren't rocked: no peak";
    case 'too-few-peaks':
      return `${counted(doubt.found, 'peak')} found, ${doubt.needed} needed`;
    case 'peaks-disagree':
      return `only ${doubt.agreeing} of ${doubt.needed} peaks agree; they are ${lengthFigure(doubt.spread, unit)} apart`;
    case 'peak-beyond':
      return `one peak is ${lengthFigure(doubt.beyond, unit)} above the ${doubt.agreeing} that agree`;
    case 'drifting':
      return `the peaks drift by ${lengthFigure(doubt.change, unit)}`;
    case 'jumped':
      return `the peaks jump by ${lengthFigure(doubt.change, unit)} partway`;
    case 'no-curve':
      return 'the readings jump between two sizes';
    case 'held-off':
      return `the jaws may not have crossed the widest point: peaks only ${lengthFigure(doubt.height, unit)} high`;
    case 'unit-changed':
      return `the caliper was switched from ${doubt.from} to ${doubt.to}`;
    case 'too-many-bad-readings':
      return `${doubt.bad} of ${doubt.of} readings made no sense`;
    default:
      return doubt satisfies never;
  }
}

/** What to do about a doubt, by its kind. */
export const DOUBT_CURES: { readonly [kind in Doubt['kind']]: string } = {
  'no-readings': 'Switch the caliper on or check its cable, or type the reading.',
  'not-rocked': 'Hold one jaw still and rock the other back and forth past the widest point.',
  'too-few-peaks': 'Keep rocking: a few more slow swings past the widest point.',
  'peaks-disagree': 'Rock more slowly, one jaw held still, until the peaks agree.',
  'peak-beyond': 'Seat the still jaw again, press a to start over, and rock.',
  drifting: 'Let the jaws settle, press a to start over, and rock.',
  jumped: 'Check the zero, press a to start over, and rock.',
  'no-curve': 'Rock slowly, so that the readings pass through every size on the way.',
  'held-off': 'Swing farther, past the widest point on both sides.',
  'unit-changed': 'Press a to start over, and leave the unit key alone while rocking.',
  'too-many-bad-readings': "Check the caliper's cable and battery, then press a to start over.",
};

const MISSING: { readonly [what in Extract<Refusal, { kind: 'missing' }>['what']]: string } = {
  bore: 'No bore yet. Type its diameter, or press b for bore size.',
  spigot: 'No spigot yet. Press b and measure one.',
  'touch-off': 'Touch off first: feed in until the cutter just marks the wood, then press Enter.',
  feed: 'This job has no feed. Type the depth you cut, then press Enter.',
  count: "The board hasn't reported its count yet. Wait a second, then touch off again.",
  trial: 'Say what the pair did: press 1 to 4.',
  zero: "The zero hasn't been checked.",
  depth: 'Nothing cut yet. Feed deeper first.',
  rocking: 'Nothing measured yet. Rock the jaws first.',
  ring: 'Type the size marked on your ring, then press Enter.',
};

/** Why a count of the feed can no longer be trusted. */
export const VOID_WORDS: { readonly [why in VoidReason]: string } = {
  restart: 'the board restarted and counts from zero',
  overrun: 'the feed turned too fast to be counted',
  'other-board': 'another board is plugged in',
  impossible: 'no hand and no groove makes that count',
  'set-aside': 'the feed may have moved in the meantime',
};

/** What the job on the bench lacks to be a pair that calibrates. */
export const LACKS: { readonly [lack in PairLack]: string } = {
  job: "no job is open; press j and open the pair's job",
  thread: 'this job is a plain lid',
  bore: 'this job has no bore yet',
  spigot: 'this job has no spigot yet',
  trial: "this pair hasn't run yet; do its trial first",
};

export function calibrationWords(trouble: CalibrationTrouble): string {
  switch (trouble.kind) {
    case 'no-pair':
      return `You can't use a pair: ${LACKS[trouble.lack]}.`;
    case 'no-count':
      return 'No board counts this feed. Type how many detents you will feed, then press Enter.';
    case 'nothing-asked':
      return trouble.question === 'mark'
        ? 'Set the gauge to zero and press Enter first. Then the board counts.'
        : 'All done. Enter to continue, b to change an answer.';
    case 'not-fed':
      return `The board counted ${counted(trouble.detents, 'detent')} since the gauge was zeroed. Feed deeper, then type the travel.`;
    case 'other-count':
      return `That travel was over ${counted(trouble.detents, 'detent')}, and the first was over ${trouble.first}. Feed ${trouble.first}, or press a to start over.`;
    case 'count-broken':
      return `That count is lost: ${VOID_WORDS[trouble.why]}. Zero the gauge again.`;
    case 'not-answered':
      return 'Answer the question first.';
    case 'other-key':
      return "That key isn't for calibrating. Press Esc to leave first.";
    case 'no-name':
      return 'Give the feed a name first.';
    case 'no-calibration':
      return `Nothing to keep: ${safe(trouble.why)}.`;
    default:
      return trouble satisfies never;
  }
}

/** Lands make a ring show small, never large: what is shown otherwise is not this ring, or not measured well. */
function noLandWords({ why, known, shown }: Extract<Refusal, { kind: 'no-land' }>, unit: LengthUnit): string {
  const read = `a ring of ${lengthFigure(known, unit)} reads ${lengthFigure(shown, unit)}`;
  return why === 'reads-high'
    ? `Not kept: ${read}, which isn't possible. Check the zero and measure it again.`
    : `Not kept: ${read}, so this isn't that ring. Press a and enter this ring's size.`;
}

/** Why an action was not done, and what to do. */
export function refusalWords(why: Refusal, unit: LengthUnit): string {
  switch (why.kind) {
    case 'no-reading':
      return 'Nothing to keep yet. Measure first, or type the reading.';
    case 'stale-reading':
      return 'That reading is too old. Wait for a new one.';
    case 'moving':
      return 'The reading is still moving. Hold the jaws still, then press Enter.';
    case 'another-board':
      return `This is another board, ${safe(why.board, 20)}. Measure again, and check its zero.`;
    case 'not-agreed':
      return "Not kept: it isn't STEADY yet.";
    case 'readings-disagree':
      return `Not kept: the readings are ${lengthFigure(why.spread, unit)} apart; up to ${lengthFigure(why.allowed, unit)} is allowed. Take one back with u, or measure again.`;
    case 'closed-jaws':
      return 'Not kept: the jaws are closed. Measure the spigot.';
    case 'zero-wanders':
      return `Not kept: the closed jaws wander by ${lengthFigure(mm(why.spread), unit)}; up to ${lengthFigure(mm(why.allowed), unit)} is allowed. Wipe them and close them gently.`;
    case 'jaws-open':
      return `Not kept: the jaws are open at ${lengthFigure(mm(why.shown), unit)}; closed jaws show at most ${lengthFigure(mm(why.most), unit)}. Close them.`;
    case 'missing':
      return MISSING[why.what];
    case 'depth-void':
      return `The depth is lost: ${VOID_WORDS[why.why]}. Touch off again.`;
    case 'bad-number':
      return `"${safe(why.found, 24)}" isn't accepted. Enter ${safe(why.accepted, 90)}.`;
    case 'no-fit':
      return `That gives no fit: ${safe(why.why)}.`;
    case 'no-land':
      return noLandWords(why, unit);
    case 'crests-whole':
      return `Not below the spigot's ${lengthFigure(why.spigot, unit)}: its crests are still whole, so that tells nothing about the depth. Type the flat.`;
    case 'board-counts':
      return "The board counts this feed. Turn the handle, don't press keys.";
    case 'nothing-to-undo':
      return 'Nothing left to undo.';
    case 'no-mishap':
      return 'Press x where you rock the bore, cut a thread or try the pair. d damages lines at any stage.';
    case 'closed':
      return 'This job is closed. Press u to open it again, or w for a new one.';
    case 'calibration':
      return calibrationWords(why.trouble);
    case 'no-job':
      return 'No job is open. Press w for a new one, j for an earlier one.';
    default:
      return why satisfies never;
  }
}

/** What goes wrong on the virtual bench, on request. */
const MISHAP_WORDS: { readonly [mishap in Mishap]: string } = {
  'small-bore': 'A chip is caught under a jaw: the bore reads small until you leave this stage.',
  'bad-lines': 'The next lines from the caliper are damaged on their way.',
  'lost-count': 'The handle was spun faster than the board can count.',
  'tight-trial': 'The spigot takes up moisture: the pair is tight now.',
};

/** The same once the job is over. */
export const MISHAP_NAMES: typeof MISHAP_WORDS = {
  'small-bore': 'a chip under a jaw',
  'bad-lines': 'damaged lines',
  'lost-count': 'a lost count',
  'tight-trial': 'a swollen spigot',
};

/** What was kept, by the fact's kind; of the others nothing is said. */
const KEPT: { readonly [kind in Fact['kind']]?: string } = {
  'job-begun': 'Job begun.',
  'zero-taken': 'Zero kept. It is taken off every reading from now on.',
  'ring-taken': 'Jaw land kept: small bores are corrected from now on.',
  'hollow-measured': 'Reading kept.',
  'bore-taken': 'Bore kept.',
  'spigot-taken': 'Spigot kept.',
  'touched-off': 'Touched off: depth counts from here.',
  'thread-cut': 'Thread kept.',
  'thread-chased': 'Thread kept.',
  'crests-measured': "Size over the crests kept. It replaces the spigot's size.",
  hardened: 'Hardening kept.',
  'trial-made': 'Trial kept.',
  'crests-relieved': 'Crests relieved: kept.',
  'grain-seen': 'Grain angle kept.',
  'note-added': 'Note kept.',
  'job-closed': 'Job closed.',
};

const isKept = (text: string): text is keyof typeof KEPT => text in KEPT;

const BOARD_FAULT_WORDS: { readonly [fault in (typeof BOARD_FAULTS)[number]]: string } = {
  'caliper-noise': "Electrical noise on the caliper's lead. Move the lead away from the motor's cables.",
  'caliper-data':
    "The caliper's data lead is open, shorted or crossed. Check the lead. If the jaws are closed at 0.00, open them once.",
  'feed-windows': 'The feed sensors never overlap. Mount them closer; see the wiring notes.',
};

export function noticeWords(notice: Notice, unit: LengthUnit): string {
  switch (notice.kind) {
    case 'kept':
      return (isKept(notice.what) && KEPT[notice.what]) || `Kept: ${safe(notice.what)}.`;
    case 'depth-voided':
      return `The depth of the ${partWord(notice.part)}'s thread is lost. Touch off again.`;
    case 'refused':
      return refusalWords(notice.why, unit);
    case 'question':
      return questionWords(notice.ask, unit);
    case 'undone':
      return `Undone: ${safe(notice.what)
        .replaceAll('-', ' ')
        .replace(/^(\w+) taken$/, 'the $1')}.`;
    case 'feed-kept':
      return `Feed "${safe(notice.name, 40)}" is in your kit. The next job will offer it.`;
    case 'mishap':
      return MISHAP_WORDS[notice.what];
    case 'other-bench':
      return 'Another bench is working on this job too. What it kept is shown now, so check the bore and the target.';
    case 'board-fault':
      return BOARD_FAULT_WORDS[notice.fault];
    case 'not-done':
      return `NOT DONE: ${safe(notice.why)}.`.replace(/\.+$/, '.');
    case 'not-saved':
      return `NOT SAVED: ${safe(notice.why)}. Trying again every few seconds.`;
    default:
      return notice satisfies never;
  }
}

/** A plain question, and how to answer it. */
function questionWords(ask: KeepQuestion, unit: LengthUnit): string {
  switch (ask.kind) {
    case 'odd-size': {
      const expected = ask.expected === null ? '' : `, not near ${lengthFigure(ask.expected, unit)}`;
      return `Is it really ${lengthFigure(ask.found, unit)}${expected}? Press Enter for yes, or correct it.`;
    }
    case 'is-spigot':
      return `Is ${lengthFigure(ask.found, unit)} the spigot, not the bore? Nothing larger was measured yet. Press Enter for yes.`;
    case 'odd-shape':
      return `Is it really ${lengthFigure(ask.found, unit)}, when the first size was ${lengthFigure(ask.known, unit)}? Press Enter for yes, or measure it again.`;
    case 'off-size':
      return `${lengthFigure(mm(Math.abs(ask.over)), unit)} ${ask.over > 0 ? 'over' : 'under'} the target${ask.word === null ? '' : `: ${FIT_WORDS[ask.word]}`}. Keep it anyway? Press Enter for yes.`;
    default:
      return ask satisfies never;
  }
}

/** The word that flashes with each sound. */
export const CUE_WORDS: { readonly [cue in Cue]: string } = {
  agreed: 'STEADY',
  near: 'NEAR',
  at: 'AT SIZE',
  past: 'PAST',
  'link-lost': 'NO READINGS',
  kept: 'KEPT',
  refused: 'NOT DONE',
};

/** What can still be done after a trial, one line each. */
export function adviceWords(advice: TrialAdvice, unit: LengthUnit): string {
  switch (advice.kind) {
    case 'runs':
      return 'It runs. Wax it and record it.';
    case 'runs-over-range':
      return "Leave it. It's loose now, but runs in the worst humidity it is made for. Wax it and record it.";
    case 'deepen': {
      const { strokes } = advice;
      const chased = strokes === undefined ? '' : ` (about ${counted(strokes, 'stroke')})`;
      const detents = advice.detents === null ? chased : ` (${counted(advice.detents, 'detent')})`;
      return `Cut the ${partWord(advice.part)}'s thread ${lengthFigure(advice.by, unit)} deeper${detents}: adds ${lengthFigure(advice.buys, unit)} of clearance.`;
    }
    case 'chase':
      return "Chase the spigot's thread a stroke or two deeper, or the bore's. That adds twice its depth of clearance.";
    case 'relieve-crests':
      return `Sand the crests of the ${partWord(advice.part)} lightly first. They may be all that touches.`;
    case 'ease':
      return `Ease the spigot by about ${lengthFigure(advice.by, unit)} on the diameter.`;
    case 'leave':
      return 'Leave it. No cut takes clearance away; only a new spigot would.';
    case 'no-more':
      return `Don't cut the ${partWord(advice.part)} any deeper: there would be no crest left.`;
    default:
      return advice satisfies never;
  }
}

/** What is known of the zero, and whether it is time to look again. */
export function zeroWords(bench: Bench, job: Job): string {
  if (!job.zero) return 'not checked';
  const again = zeroAge(bench, job) === 'fresh' ? '' : ': check again';
  return `${lengthFigure(job.zero.error, bench.unit)} taken off${again}`;
}
