// What `lidwright fit` is asked: its options as a pair of threads, a bore, and how well each is known.
import { planDepth } from '../../core/bench/threads.ts';
import type { CaliperLimits } from '../../core/measure/uncertainty.ts';
import { TOUCH_OFF_BY_EYE } from '../../core/thread/chances.ts';
import type { Tip } from '../../core/thread/form.ts';
import { wideningOf } from '../../core/thread/milling.ts';
import type { Groove, Part } from '../../core/thread/pair.ts';
import { degrees, type Length, mm } from '../../core/units.ts';
import { lengthAboveZero, lengthFromZero, signedLength } from '../../kit/quantities.ts';
import type { Resolved } from '../../kit/setting-sources.ts';
import { flagOf } from '../../kit/settings.ts';
import { type AnswersTo, type Asks, neededOption, type OptionReader, option } from '../options.ts';
import { CLEARANCE, FORM, PITCH, threadClearance, tipOf } from '../thread-options.ts';

const LID = {
  bore: neededOption(
    lengthAboveZero,
    'bore over the crests, measured after its thread is cut',
    'the measured bore, such as --bore 50mm',
  ),
  spigot: option(lengthAboveZero, 'spigot to judge, measured before its thread is cut'),
  boreDoubt: option(lengthAboveZero, 'standard uncertainty of the bore, as the bench or `replay` reports it'),
  caliperError: option(lengthAboveZero, "caliper's limit of error (0.03mm)"),
  caliperStep: option(lengthAboveZero, "one step of the caliper's display (0.01mm)"),
};
const DEPTHS = {
  depth: option(lengthAboveZero, 'radial depth of both threads (planned for the pitch, as at the bench)'),
  spigotDepth: option(lengthAboveZero, "depth of the spigot's thread, if it differs"),
};
const THREAD = {
  ...PITCH,
  ...DEPTHS,
  ...FORM,
  spigotTipFlat: option(lengthFromZero, 'flat tip of another cutter used on the spigot'),
  spigotTipRadius: option(lengthFromZero, 'round nose of another cutter used on the spigot'),
  cutter: option(lengthAboveZero, 'diameter of a disc cutter, which widens the groove'),
  runningFrom: option(lengthAboveZero, 'clearance from which a lid runs (0.08mm)'),
  looseFrom: option(lengthAboveZero, 'clearance from which a lid is loose (0.3mm)'),
  feed: option(lengthAboveZero, 'radial feed of one detent'),
  touchOff: option(lengthAboveZero, 'accuracy of each touch-off, plus or minus (one detent, or 0.05mm)'),
  biasDoubt: option(
    lengthFromZero,
    "how far out your setup's fits may be, as standard uncertainty (0.15mm for a new setup)",
  ),
};
/** In the order of help: what is most often typed comes first. */
const { bore, pitch } = { ...LID, ...THREAD };
export const FIT_OPTIONS: Asks = Object.assign({ bore, pitch, ...DEPTHS, ...CLEARANCE }, LID, THREAD);

/** A common digital caliper: limit of error and step, where none are given; common practice, no source. */
const CALIPER: CaliperLimits = { limitOfError: mm(0.03), step: mm(0.01) };

/** The whole question; undefined where there are errors. */
export function readFit(options: OptionReader, isPlain: boolean) {
  const settings = options.settings(['unit', 'wanted', 'runningFrom', 'looseFrom'], ['unit']);
  const lid = options.read(LID);
  const { caliperError = CALIPER.limitOfError, caliperStep = CALIPER.step, bore, spigot, boreDoubt } = lid;
  const common = {
    spigot,
    clearance: options.clearance(settings, isPlain ? signedLength : threadClearance),
    /** The unit for people. */
    unit: options.unitFor(settings, 'bore'),
    caliper: { limitOfError: caliperError, step: caliperStep },
    /** Standard uncertainty of the bore beyond its caliper's, as from a capture. */
    boreStandard: boreDoubt,
  };
  const thread = isPlain ? readPlain(options) : readThread(options, settings, bore);
  return bore && thread && options.errors.length === 0 ? { bore, ...common, ...thread } : undefined;
}

export type FitQuestion = NonNullable<ReturnType<typeof readFit>>;
export type ThreadQuestion = Extract<FitQuestion, { readonly kind: 'thread' }>;
export type PlainQuestion = Extract<FitQuestion, { readonly kind: 'plain' }>;

function readPlain(options: OptionReader) {
  for (const key of ['pitch', ...Object.keys(DEPTHS)])
    if (options.isTyped(key)) options.addError(`Leave out ${flagOf(key)}: a plain lid has no thread.`);
  return { kind: 'plain' } as const;
}

type ThreadAsked = Partial<AnswersTo<typeof THREAD>>;

function readThread(options: OptionReader, { values }: Resolved, bore: Length | undefined) {
  const asked = options.read(THREAD);
  const { pitch, angle = degrees(60), starts = 1, feed, touchOff, cutter, biasDoubt } = asked;
  const { runningFrom = values.runningFrom, looseFrom = values.looseFrom } = asked;
  const grooves = groovesOf(options, asked);
  if (runningFrom >= looseFrom)
    options.addError('--running-from has to be smaller than --loose-from: a lid runs between the two.');
  if (!bore || !pitch || !grooves) return undefined;
  const widened = (part: Part): Groove => {
    const setup = { pitch, starts, cutter: { angle, ...(cutter ? { diameter: cutter } : {}) } };
    return { ...grooves[part], widening: wideningOf(setup, part, bore, grooves[part].depth) };
  };
  return {
    kind: 'thread',
    pitch,
    pair: { pitch: pitch.length, starts, angle, female: widened('female'), male: widened('male') },
    bounds: { runningFrom, looseFrom },
    /** Whether the depth was worked out, as the bench plans it, and not typed. */
    depthPlanned: !options.isTyped('depth'),
    touchOffWithin: touchOff ?? feed ?? TOUCH_OFF_BY_EYE,
    touchOffFrom: touchOff ? 'given' : feed ? 'feed' : 'assumed',
    /** How far this setup may be out as a whole, standard uncertainty; left out where its trials have shown that it is not. */
    biasDoubt,
    feed,
    cutter,
  } as const;
}

function groovesOf(options: OptionReader, asked: ThreadAsked): Readonly<Record<Part, Groove>> | undefined {
  const tip = tipOf(options, '--tip', asked.tipFlat, asked.tipRadius) ?? { kind: 'sharp' };
  const spigotTip = tipOf(options, '--spigot-tip', asked.spigotTipFlat, asked.spigotTipRadius) ?? tip;
  const depth = options.isTyped('depth') ? asked.depth : plannedDepth(options, asked, tip);
  const spigotDepth = asked.spigotDepth ?? depth;
  if (!depth || !spigotDepth) return undefined;
  return { female: { depth, tip }, male: { depth: spigotDepth, tip: spigotTip } };
}

/** The depth that the bench would plan for this pitch, cutter and feed. */
function plannedDepth(
  options: OptionReader,
  { pitch, angle = degrees(60), feed }: ThreadAsked,
  tip: Tip,
): Length | undefined {
  if (!pitch) return undefined;
  const perDetent = feed && { name: 'feed', perDetent: feed, perDetentStandard: mm(0), lostDetents: 0 };
  const depth = planDepth(pitch, { name: 'cutter', angle, tip }, perDetent);
  if (depth > 0) return depth;
  return options.addError(
    "The cutter's tip is too wide for this pitch. Give --depth, a finer tip or a coarser pitch.",
  );
}
