// What `lidwright fit` was asked: its options as a pair of threads, a bore, and how well each is known.
import type { CaliperLimits } from '../core/measure/uncertainty.ts';
import { type Pitch, parseCount, parseLength, parsePitch, parsePositiveLength } from '../core/quantity.ts';
import type { FitBounds } from '../core/thread/fit.ts';
import type { Tip } from '../core/thread/form.ts';
import { wideningOf } from '../core/thread/milling.ts';
import type { Groove, Pair, Part } from '../core/thread/pair.ts';
import { degrees, type Length, type LengthUnit, mm } from '../core/units.ts';
import { type Asking, askOf, unitTyped } from './asking.ts';
import type { Typed } from './command.ts';
import { parseClearance, parseThreadAngle, parseTipSize } from './fit-quantities.ts';
import { type Heeded, heededBeside, unitHeeded, wantedHeeded } from './heeded.ts';

/** What is asked of any lid. */
interface Common {
  readonly bore: Length;
  readonly spigot: Length | undefined;
  readonly clearance: Length;
  /** The unit the bore was typed in: answers for people come in it. */
  readonly unit: LengthUnit;
  readonly caliper: CaliperLimits;
  /** Standard uncertainty of the bore beyond its caliper's, as from a capture. */
  readonly boreStandard: Length | undefined;
}

export interface ThreadAsked extends Common {
  readonly kind: 'thread';
  readonly pitch: Pitch;
  readonly pair: Pair;
  readonly bounds: FitBounds;
  readonly touchOffWithin: Length;
  /** Where that figure comes from, for the answer. */
  readonly touchOffFrom: 'given' | 'feed' | 'assumed';
  readonly feed: Length | undefined;
  readonly cutter: Length | undefined;
}

export interface PlainAsked extends Common {
  readonly kind: 'plain';
}

export type FitAsked = ThreadAsked | PlainAsked;

/** Where neither a touch-off nor a feed is given, a touch-off by eye is taken to lie within this; our own figure. */
const TOUCH_OFF = mm(0.05);
/** A common digital caliper: limit of error and step, where none are given; the limit is a usual figure, no standard's. */
const CALIPER: CaliperLimits = { limitOfError: mm(0.03), step: mm(0.01) };

/** Reads everything; undefined when the asker has complaints. */
export function readFit(typed: Typed): { readonly asked: FitAsked | undefined; readonly ask: Asking } {
  const ask = askOf(typed);
  const heeded = heededBeside(ask, typed, ['unit', 'wanted', 'runningFrom', 'looseFrom']);
  const asked = typed.options.plain === true ? readPlain(ask, typed, heeded) : readThread(ask, typed, heeded);
  return { asked: ask.complaints.length > 0 ? undefined : asked, ask };
}

function readCommon(
  ask: Asking,
  typed: Typed,
  heeded: Heeded,
  parseWanted: typeof parseLength,
): Common | undefined {
  const bore = ask.needed('--bore', parsePositiveLength, 'the measured bore, such as --bore 50mm');
  const common = {
    spigot: ask.optional('--spigot', parsePositiveLength),
    clearance:
      typed.options.clearance === undefined
        ? wantedHeeded(ask, heeded, parseWanted)
        : (ask.optional('--clearance', parseWanted) ?? heeded.values.wanted),
    unit: unitHeeded(heeded, unitTyped(typed, '--bore')),
    caliper: {
      limitOfError: ask.optional('--caliper-error', parsePositiveLength) ?? CALIPER.limitOfError,
      step: ask.optional('--caliper-step', parsePositiveLength) ?? CALIPER.step,
    },
    boreStandard: ask.optional('--bore-doubt', parsePositiveLength),
  };
  return bore && { bore, ...common };
}

function readPlain(ask: Asking, typed: Typed, heeded: Heeded): PlainAsked | undefined {
  const common = readCommon(ask, typed, heeded, parseLength);
  for (const option of ['pitch', 'depth', 'spigotDepth'])
    if (typed.options[option] !== undefined)
      ask.complain('--plain: a plain lid has no pitch and no depth; leave them out.');
  return common && { kind: 'plain', ...common };
}

function readThread(ask: Asking, typed: Typed, heeded: Heeded): ThreadAsked | undefined {
  const common = readCommon(ask, typed, heeded, parseClearance);
  const pitch = ask.needed('--pitch', parsePitch, 'the pitch, such as --pitch 16tpi');
  const angle = ask.optional('--angle', parseThreadAngle) ?? degrees(60);
  const starts = ask.optional('--starts', (text) => parseCount(text, 1, 12)) ?? 1;
  const feed = ask.optional('--feed', parsePositiveLength);
  const touchOff = ask.optional('--touch-off', parsePositiveLength);
  const cutter = ask.optional('--cutter', parsePositiveLength);
  const grooves = readGrooves(ask);
  const bounds = readBounds(ask, heeded);
  if (!common || !pitch || !grooves || !bounds) return undefined;
  const wide = (part: Part): Groove => {
    const setup = { pitch, starts, cutter: { angle, ...(cutter ? { diameter: cutter } : {}) } };
    return { ...grooves[part], widening: wideningOf(setup, part, common.bore, grooves[part].depth) };
  };
  return {
    kind: 'thread',
    ...common,
    pitch,
    pair: { pitch: pitch.length, starts, angle, female: wide('female'), male: wide('male') },
    bounds,
    touchOffWithin: touchOff ?? feed ?? TOUCH_OFF,
    touchOffFrom: touchOff ? 'given' : feed ? 'feed' : 'assumed',
    feed,
    cutter,
  };
}

function readGrooves(ask: Asking): Readonly<Record<Part, Groove>> | undefined {
  const depth = ask.needed(
    '--depth',
    parsePositiveLength,
    'the radial depth of the thread, such as --depth 1mm',
  );
  const spigotDepth = ask.optional('--spigot-depth', parsePositiveLength) ?? depth;
  const tip = readTip(ask, '--tip');
  const spigotTip = readTip(ask, '--spigot-tip');
  if (!depth || !spigotDepth) return undefined;
  return {
    female: { depth, tip: tip ?? { kind: 'sharp' } },
    male: { depth: spigotDepth, tip: spigotTip ?? tip ?? { kind: 'sharp' } },
  };
}

function readTip(ask: Asking, of: '--tip' | '--spigot-tip'): Tip | undefined {
  const width = ask.optional(`${of}-flat`, parseTipSize);
  const radius = ask.optional(`${of}-radius`, parseTipSize);
  if (width && radius) ask.complain(`${of}-flat, ${of}-radius: a tip is flat or round, not both; give one.`);
  if (width === undefined && radius === undefined) return undefined;
  if (width) return { kind: 'flat', width };
  return radius ? { kind: 'radius', radius } : { kind: 'sharp' };
}

function readBounds(ask: Asking, { values }: Heeded): FitBounds | undefined {
  const runningFrom = ask.optional('--running-from', parsePositiveLength) ?? values.runningFrom;
  const looseFrom = ask.optional('--loose-from', parsePositiveLength) ?? values.looseFrom;
  if (runningFrom < looseFrom) return { runningFrom, looseFrom };
  ask.complain(
    '--running-from, --loose-from: a lid runs from the first to the second; the first must be the smaller.',
  );
  return undefined;
}
