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

/** What is said of each kind of a thing: the answer itself, or how it comes from the thing. */
type AnswersByKind<Of extends { readonly kind: string }, Answer, More extends readonly unknown[]> = {
  readonly [kind in Of['kind']]:
    | Answer
    | ((of: Extract<Of, { readonly kind: kind }>, ...more: More) => Answer);
};

/** A table of answers by kind, as a function. */
export const byKind =
  <Of extends { readonly kind: string }, Answer, More extends readonly unknown[] = []>(
    answers: AnswersByKind<Of, Answer, More>,
  ) =>
  (of: Of, ...more: More): Answer => {
    const answer = answers[of.kind as Of['kind']] as Answer | ((of: Of, ...more: More) => Answer);
    return answer instanceof Function ? answer(of, ...more) : answer;
  };

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

export const doubtWords = byKind<Doubt, string, [unit: LengthUnit]>({
  'no-readings': 'nothing was read',
  'not-rocked': "the jaws weren't rocked: no peak",
  'too-few-peaks': ({ found, needed }) => `${counted(found, 'peak')} found, ${needed} needed`,
  'peaks-disagree': ({ agreeing, needed, spread }, unit) =>
    `only ${agreeing} of ${needed} peaks agree; they are ${lengthFigure(spread, unit)} apart`,
  'peak-beyond': ({ beyond, agreeing }, unit) =>
    `one peak is ${lengthFigure(beyond, unit)} above the ${agreeing} that agree`,
  drifting: ({ change }, unit) => `the peaks drift by ${lengthFigure(change, unit)}`,
  jumped: ({ change }, unit) => `the peaks jump by ${lengthFigure(change, unit)} partway`,
  'no-curve': 'the readings jump between two sizes',
  'held-off': ({ height }, unit) =>
    `the jaws may not have crossed the widest point: peaks only ${lengthFigure(height, unit)} high`,
  'unit-changed': ({ from, to }) => `the caliper was switched from ${from} to ${to}`,
  'too-many-bad-readings': ({ bad, of }) => `${bad} of ${of} readings made no sense`,
});

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

const calibrationWords = byKind<CalibrationTrouble, string>({
  'no-pair': ({ lack }) => `You can't use a pair: ${LACKS[lack]}.`,
  'no-count': 'No board counts this feed. Type how many detents you will feed, then press Enter.',
  'nothing-asked': ({ question }) =>
    question === 'mark'
      ? 'Set the gauge to zero and press Enter first. Then the board counts.'
      : 'All done. Enter to continue, b to change an answer.',
  'not-fed': ({ detents }) =>
    `The board counted ${counted(detents, 'detent')} since the gauge was zeroed. Feed deeper, then type the travel.`,
  'other-count': ({ detents, first }) =>
    `That travel was over ${counted(detents, 'detent')}, and the first was over ${first}. Feed ${first}, or press a to start over.`,
  'count-broken': ({ why }) => `That count is lost: ${VOID_WORDS[why]}. Zero the gauge again.`,
  'not-answered': 'Answer the question first.',
  'other-key': "That key isn't for calibrating. Press Esc to leave first.",
  'no-name': 'Give the feed a name first.',
  'no-calibration': ({ why }) => `Nothing to keep: ${safe(why)}.`,
});

/** Lands make a ring show small, never large: what is shown otherwise is not this ring, or not measured well. */
function noLandWords({ why, known, shown }: Extract<Refusal, { kind: 'no-land' }>, unit: LengthUnit): string {
  const read = `a ring of ${lengthFigure(known, unit)} reads ${lengthFigure(shown, unit)}`;
  return why === 'reads-high'
    ? `Not kept: ${read}, which isn't possible. Check the zero and measure it again.`
    : `Not kept: ${read}, so this isn't that ring. Press a and enter this ring's size.`;
}

/** Why an action was not done, and what to do. */
export const refusalWords = byKind<Refusal, string, [unit: LengthUnit]>({
  'no-reading': 'Nothing to keep yet. Measure first, or type the reading.',
  'stale-reading': 'That reading is too old. Wait for a new one.',
  moving: 'The reading is still moving. Hold the jaws still, then press Enter.',
  'another-board': ({ board }) =>
    `This is another board, ${safe(board, 20)}. Measure again, and check its zero.`,
  'not-agreed': "Not kept: it isn't STEADY yet.",
  'readings-disagree': ({ spread, allowed }, unit) =>
    `Not kept: the readings are ${lengthFigure(spread, unit)} apart; up to ${lengthFigure(allowed, unit)} is allowed. Take one back with u, or measure again.`,
  'closed-jaws': 'Not kept: the jaws are closed. Measure the spigot.',
  'zero-wanders': ({ spread, allowed }, unit) =>
    `Not kept: the closed jaws wander by ${lengthFigure(mm(spread), unit)}; up to ${lengthFigure(mm(allowed), unit)} is allowed. Wipe them and close them gently.`,
  'jaws-open': ({ shown, most }, unit) =>
    `Not kept: the jaws are open at ${lengthFigure(mm(shown), unit)}; closed jaws show at most ${lengthFigure(mm(most), unit)}. Close them.`,
  missing: ({ what }) => MISSING[what],
  'depth-void': ({ why }) => `The depth is lost: ${VOID_WORDS[why]}. Touch off again.`,
  'bad-number': ({ found, accepted }) => `"${safe(found, 24)}" isn't accepted. Enter ${safe(accepted, 90)}.`,
  'no-fit': ({ why }) => `That gives no fit: ${safe(why)}.`,
  'no-land': noLandWords,
  'crests-whole': ({ spigot }, unit) =>
    `Not below the spigot's ${lengthFigure(spigot, unit)}: its crests are still whole, so that tells nothing about the depth. Type the flat.`,
  'board-counts': "The board counts this feed. Turn the handle, don't press keys.",
  'nothing-to-undo': 'Nothing left to undo.',
  'no-mishap': 'Press x where you rock the bore, cut a thread or try the pair. d damages lines at any stage.',
  closed: 'This job is closed. Press u to open it again, or w for a new one.',
  calibration: ({ trouble }) => calibrationWords(trouble),
  'no-job': 'No job is open. Press w for a new one, j for an earlier one.',
});

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

export const noticeWords = byKind<Notice, string, [unit: LengthUnit]>({
  kept: ({ what }) => (isKept(what) && KEPT[what]) || `Kept: ${safe(what)}.`,
  'depth-voided': ({ part }) => `The depth of the ${partWord(part)}'s thread is lost. Touch off again.`,
  refused: ({ why }, unit) => refusalWords(why, unit),
  question: ({ ask }, unit) => questionWords(ask, unit),
  undone: ({ what }) =>
    `Undone: ${safe(what)
      .replaceAll('-', ' ')
      .replace(/^(\w+) taken$/, 'the $1')}.`,
  'feed-kept': ({ name }) => `Feed "${safe(name, 40)}" is in your kit. The next job will offer it.`,
  mishap: ({ what }) => MISHAP_WORDS[what],
  'other-bench':
    'Another bench is working on this job too. What it kept is shown now, so check the bore and the target.',
  'board-fault': ({ fault }) => BOARD_FAULT_WORDS[fault],
  'not-done': ({ why }) => `NOT DONE: ${safe(why)}.`.replace(/\.+$/, '.'),
  'not-saved': ({ why }) => `NOT SAVED: ${safe(why)}. Trying again every few seconds.`,
});

/** A plain question, and how to answer it. */
const questionWords = byKind<KeepQuestion, string, [unit: LengthUnit]>({
  'odd-size': ({ expected, found }, unit) => {
    const near = expected === null ? '' : `, not near ${lengthFigure(expected, unit)}`;
    return `Is it really ${lengthFigure(found, unit)}${near}? Press Enter for yes, or correct it.`;
  },
  'is-spigot': ({ found }, unit) =>
    `Is ${lengthFigure(found, unit)} the spigot, not the bore? Nothing larger was measured yet. Press Enter for yes.`,
  'odd-shape': ({ found, known }, unit) =>
    `Is it really ${lengthFigure(found, unit)}, when the first size was ${lengthFigure(known, unit)}? Press Enter for yes, or measure it again.`,
  'off-size': ({ over, word }, unit) =>
    `${lengthFigure(mm(Math.abs(over)), unit)} ${over > 0 ? 'over' : 'under'} the target${word === null ? '' : `: ${FIT_WORDS[word]}`}. Keep it anyway? Press Enter for yes.`,
});

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
export const adviceWords = byKind<TrialAdvice, string, [unit: LengthUnit]>({
  runs: 'It runs. Wax it and record it.',
  'runs-over-range':
    "Leave it. It's loose now, but runs in the worst humidity it is made for. Wax it and record it.",
  deepen: ({ strokes, detents, part, by, buys }, unit) => {
    const chased = strokes === undefined ? '' : ` (about ${counted(strokes, 'stroke')})`;
    const feed = detents === null ? chased : ` (${counted(detents, 'detent')})`;
    return `Cut the ${partWord(part)}'s thread ${lengthFigure(by, unit)} deeper${feed}: adds ${lengthFigure(buys, unit)} of clearance.`;
  },
  chase:
    "Chase the spigot's thread a stroke or two deeper, or the bore's. That adds twice its depth of clearance.",
  'relieve-crests': ({ part }) =>
    `Sand the crests of the ${partWord(part)} lightly first. They may be all that touches.`,
  ease: ({ by }, unit) => `Ease the spigot by about ${lengthFigure(by, unit)} on the diameter.`,
  leave: 'Leave it. No cut takes clearance away; only a new spigot would.',
  'no-more': ({ part }) => `Don't cut the ${partWord(part)} any deeper: there would be no crest left.`,
});

/** What is known of the zero, and whether it is time to look again. */
export function zeroWords(bench: Bench, job: Job): string {
  if (!job.zero) return 'not checked';
  const again = zeroAge(bench, job) === 'fresh' ? '' : ': check again';
  return `${lengthFigure(job.zero.error, bench.unit)} taken off${again}`;
}
