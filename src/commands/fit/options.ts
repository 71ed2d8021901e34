// What `lidwright fit` is asked: its options as a pair of threads, a bore, and how well each is known.
import { planDepth } from '../../core/bench/planned-depth.ts';
import type { CaliperLimits } from '../../core/measure/uncertainty.ts';
import {
  type Pitch,
  parseCount,
  parseLength,
  parsePitch,
  parsePositiveLength,
  parseUnsignedLength,
} from '../../core/quantity.ts';
import { TOUCH_OFF_BY_EYE } from '../../core/thread/chances.ts';
import type { FitBounds } from '../../core/thread/fit.ts';
import type { Tip } from '../../core/thread/form.ts';
import { wideningOf } from '../../core/thread/milling.ts';
import type { Groove, Pair, Part } from '../../core/thread/pair.ts';
import { type Angle, type Length, type LengthUnit, mm } from '../../core/units.ts';
import type { Typed } from '../command.ts';
import { type CommandSettings, clearanceFor, settingsBeside, unitFor } from '../command-settings.ts';
import { type OptionReader, readOptions, unitTyped } from '../options.ts';
import { parseClearance, readAngle, readTip } from '../thread-options.ts';

/** What is asked of any lid. */
interface LidQuestion {
  readonly bore: Length;
  readonly spigot: Length | undefined;
  readonly clearance: Length;
  /** The unit for people: as set, else what the bore was typed in. */
  readonly unit: LengthUnit;
  readonly caliper: CaliperLimits;
  /** Standard uncertainty of the bore beyond its caliper's, as from a capture. */
  readonly boreStandard: Length | undefined;
}

export interface ThreadQuestion extends LidQuestion {
  readonly kind: 'thread';
  readonly pitch: Pitch;
  readonly pair: Pair;
  readonly bounds: FitBounds;
  /** Whether the depth was worked out, as the bench plans it, and not typed. */
  readonly depthPlanned: boolean;
  readonly touchOffWithin: Length;
  /** How far this setup may be out as a whole, standard uncertainty; left out where its trials have shown that it is not. */
  readonly biasDoubt: Length | undefined;
  readonly touchOffFrom: 'given' | 'feed' | 'assumed';
  readonly feed: Length | undefined;
  readonly cutter: Length | undefined;
}

export interface PlainQuestion extends LidQuestion {
  readonly kind: 'plain';
}

export type FitQuestion = ThreadQuestion | PlainQuestion;

/** A common digital caliper: limit of error and step, where none are given; common practice, no source. */
const CALIPER: CaliperLimits = { limitOfError: mm(0.03), step: mm(0.01) };
const MOST_STARTS = 12;

/** The whole question, or what is wrong with it. */
export function readFit(typed: Typed): FitQuestion | { readonly errors: readonly string[] } {
  const options = readOptions(typed);
  const settings = settingsBeside(options, typed, ['unit', 'wanted', 'runningFrom', 'looseFrom']);
  const question =
    typed.options.plain === true ? readPlain(options, typed, settings) : readThread(options, typed, settings);
  return question && options.errors.length === 0 ? question : { errors: options.errors };
}

function readLid(
  options: OptionReader,
  typed: Typed,
  settings: CommandSettings,
  parse: typeof parseClearance,
): LidQuestion | undefined {
  const bore = options.required('--bore', parsePositiveLength, 'the measured bore, such as --bore 50mm');
  const rest = {
    spigot: options.optional('--spigot', parsePositiveLength),
    clearance: clearanceFor(options, settings, parse),
    unit: unitFor(settings, unitTyped(typed, '--bore')),
    caliper: {
      limitOfError: options.optional('--caliper-error', parsePositiveLength) ?? CALIPER.limitOfError,
      step: options.optional('--caliper-step', parsePositiveLength) ?? CALIPER.step,
    },
    boreStandard: options.optional('--bore-doubt', parsePositiveLength),
  };
  return bore && { bore, ...rest };
}

function readPlain(
  options: OptionReader,
  typed: Typed,
  settings: CommandSettings,
): PlainQuestion | undefined {
  const lid = readLid(options, typed, settings, (text) => parseLength(text));
  for (const flag of ['--pitch', '--depth', '--spigot-depth'])
    if (options.isTyped(flag)) options.addError(`Leave out ${flag}: a plain lid has no thread.`);
  return lid && { kind: 'plain', ...lid };
}

function readThread(
  options: OptionReader,
  typed: Typed,
  settings: CommandSettings,
): ThreadQuestion | undefined {
  const lid = readLid(options, typed, settings, parseClearance);
  const pitch = options.required('--pitch', parsePitch, 'the pitch, such as --pitch 16tpi');
  const angle = readAngle(options);
  const starts = options.optional('--starts', (text) => parseCount(text, 1, MOST_STARTS)) ?? 1;
  const feed = options.optional('--feed', parsePositiveLength);
  const touchOff = options.optional('--touch-off', parsePositiveLength);
  const cutter = options.optional('--cutter', parsePositiveLength);
  const grooves = readGrooves(options, { pitch, angle, feed });
  const bounds = readBounds(options, settings);
  if (!lid || !pitch || !grooves || !bounds) return undefined;
  const widened = (part: Part): Groove => {
    const setup = { pitch, starts, cutter: { angle, ...(cutter ? { diameter: cutter } : {}) } };
    return { ...grooves[part], widening: wideningOf(setup, part, lid.bore, grooves[part].depth) };
  };
  return {
    kind: 'thread',
    ...lid,
    pitch,
    pair: { pitch: pitch.length, starts, angle, female: widened('female'), male: widened('male') },
    bounds,
    depthPlanned: !options.isTyped('--depth'),
    touchOffWithin: touchOff ?? feed ?? TOUCH_OFF_BY_EYE,
    touchOffFrom: touchOff ? 'given' : feed ? 'feed' : 'assumed',
    biasDoubt: options.optional('--bias-doubt', parseUnsignedLength),
    feed,
    cutter,
  };
}

interface Form {
  readonly pitch: Pitch | undefined;
  readonly angle: Angle;
  readonly feed: Length | undefined;
}

function readGrooves(options: OptionReader, form: Form): Readonly<Record<Part, Groove>> | undefined {
  const tip = readTip(options, '--tip') ?? { kind: 'sharp' };
  const spigotTip = readTip(options, '--spigot-tip') ?? tip;
  const typedDepth = options.optional('--depth', parsePositiveLength);
  const depth = options.isTyped('--depth') ? typedDepth : plannedDepth(options, form, tip);
  const spigotDepth = options.optional('--spigot-depth', parsePositiveLength) ?? depth;
  if (!depth || !spigotDepth) return undefined;
  return { female: { depth, tip }, male: { depth: spigotDepth, tip: spigotTip } };
}

/** The depth that the bench would plan for this pitch, cutter and feed. */
function plannedDepth(options: OptionReader, { pitch, angle, feed }: Form, tip: Tip): Length | undefined {
  if (!pitch) return undefined;
  const perDetent = feed && { name: 'feed', perDetent: feed, perDetentStandard: mm(0), lostDetents: 0 };
  const depth = planDepth(pitch, { name: 'cutter', angle, tip }, perDetent);
  if (depth > 0) return depth;
  options.addError(
    "The cutter's tip is too wide for this pitch. Give --depth, a finer tip or a coarser pitch.",
  );
  return undefined;
}

function readBounds(options: OptionReader, { values }: CommandSettings): FitBounds | undefined {
  const runningFrom = options.optional('--running-from', parsePositiveLength) ?? values.runningFrom;
  const looseFrom = options.optional('--loose-from', parsePositiveLength) ?? values.looseFrom;
  if (runningFrom < looseFrom) return { runningFrom, looseFrom };
  options.addError('--running-from has to be smaller than --loose-from: a lid runs between the two.');
  return undefined;
}
