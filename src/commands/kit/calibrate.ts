// `lidwright kit calibrate`: what a detent of the feed is worth, from measured travels or from a pair that runs.
import { fineFigure, fineWithDoubt, percent, withDoubt } from '../../core/figures.ts';
import { rectangular } from '../../core/measure/uncertainty.ts';
import type { Pitch } from '../../core/quantity.ts';
import { capitalised, forScreen, pathForScreen } from '../../core/safe-text.ts';
import {
  type Calibration,
  type CalibrationRefusal,
  calibrateByPair,
  calibrateByTravel,
  calibrationRefusalText,
  USUAL_WITHIN,
} from '../../core/thread/calibrate.ts';
import { TOUCH_OFF_BY_EYE } from '../../core/thread/chances.ts';
import { type Length, type LengthUnit, mm } from '../../core/units.ts';
import type { KitRead } from '../../kit/kit.ts';
import { lengthAboveZero } from '../../kit/quantities.ts';
import type { ExitCode, Output, Typed } from '../command.ts';
import { OptionReader } from '../options.ts';
import { answer, endWith } from '../output.ts';
import { BY_PAIR, BY_TRAVEL } from '../thread-options.ts';
import { openKit, saveFeed } from './kit-files.ts';

/** The result, and what is saved with it. */
interface Outcome<T = Calibration | CalibrationRefusal> {
  readonly made: T;
  readonly detents: number;
  /** The basis of the answer, as the end of a sentence. */
  readonly basis: string;
  /** Set where a pair proved its detents at its pitch. */
  readonly proven?: { readonly pitch: Pitch; readonly detents: number };
}

function byTravel(options: OptionReader, travels: readonly Length[], unit: LengthUnit): Outcome | undefined {
  const asked = options.read(BY_TRAVEL);
  if (!options.isWhole(asked)) return undefined;
  const { detents, gaugeWithin = USUAL_WITHIN.gauge } = asked;
  const made = calibrateByTravel(detents, travels, mm(rectangular(gaugeWithin)));
  const basis = `a gauge accurate to ${fineFigure(gaugeWithin, unit)}. Before the first detent, turn the feed a little deeper, to take up its lost motion`;
  return { made, detents, basis };
}

function byPair(options: OptionReader, { kit }: KitRead): Outcome | undefined {
  const asked = options.read(BY_PAIR);
  const [cutter, caliper] = [kit.cutters[0], kit.calipers[0]];
  if (!options.isWhole(asked) || !cutter || !caliper) return undefined;
  const { pitch, bore, spigot, play, detents: female, spigotDetents: male = female, starts = 1 } = asked;
  const { playWithin = USUAL_WITHIN.play, touchOffWithin = TOUCH_OFF_BY_EYE } = asked;
  const detents = { female, male };
  const pair = { pitch, starts, cutter, caliper, bore, spigot, detents, play, playWithin, touchOffWithin };
  const basis = `threads cut with "${cutter.name}" and measured with "${caliper.name}", the play known within ${fineFigure(playWithin, kit.unit)}, each touch-off within ${fineFigure(touchOffWithin, kit.unit)}`;
  const proven = female === male ? { proven: { pitch, detents: female } } : {};
  return { made: calibrateByPair(pair), detents: female, basis, ...proven };
}

/** By whichever way was typed; both at once, or neither, is an error. */
function found(options: OptionReader, read: KitRead): Outcome | undefined {
  const travels = options.list('travel', lengthAboveZero);
  const pair = options.isTyped('bore') || options.isTyped('spigot');
  if (travels && pair) options.addError('Give measured travels or a pair that runs, not both.');
  else if (travels) return byTravel(options, travels, read.kit.unit);
  else if (pair) return byPair(options, read);
  else
    options.addError(
      'Give --detents and --travel (measured with a dial gauge or feeler), or --detents with --pitch, --bore, --spigot and --play of a pair that runs.',
    );
  return undefined;
}

/** For a person, in their unit; no figure finer than its doubt. */
function calibrationLines(
  { made, detents, basis }: Outcome<Calibration>,
  unit: LengthUnit,
): readonly string[] {
  const half = mm(made.doubt.expanded95);
  const one = fineWithDoubt(made.perDetent, half, unit);
  const whole = withDoubt(mm(made.perDetent * detents), mm(half * detents), unit);
  const [most] = made.doubt.shares;
  return [
    `One detent is ${one.value} ± ${one.half} ${unit} (95 %).`,
    `Over ${detents} detents that is ${whole} of depth, and twice that of clearance.`,
    ...(most ? [`Biggest unknown: ${most.name}, ${percent(most.share)} of the doubt.`] : []),
    `Calculated for ${basis}.`,
  ];
}

/** Lengths in millimetres. */
const calibrationJson = ({ made, detents }: Outcome<Calibration>) => ({
  kind: 'calibration',
  v: 1,
  perDetentMm: made.perDetent,
  standardMm: made.doubt.standard,
  expanded95Mm: made.doubt.expanded95,
  degreesOfFreedom: Number.isFinite(made.doubt.degreesOfFreedom) ? made.doubt.degreesOfFreedom : 'infinite',
  detents,
  shares: made.doubt.shares,
});

export function calibrate(typed: Typed, output: Output): ExitCode {
  const options = new OptionReader(typed);
  const { read } = openKit(typed, ['caliper', 'cutter', 'unit']);
  const outcome = found(options, read);
  if (!outcome) {
    const help = 'Nothing was saved. `lidwright kit calibrate --help` shows both ways, with an example.';
    return endWith(output, 2, ...options.errors, help);
  }
  const { made } = outcome;
  if (made.kind !== 'calibration')
    return endWith(output, 1, `${capitalised(calibrationRefusalText(made))}. Nothing was saved.`);
  const calibration = { ...outcome, made };
  answer(typed, output, calibrationJson(calibration), calibrationLines(calibration, read.kit.unit));
  const { save } = typed.options;
  return typeof save === 'string' ? saved(save, calibration, typed, output) : 0;
}

function saved(name: string, { made, proven }: Outcome<Calibration>, typed: Typed, output: Output): ExitCode {
  const { home, read } = openKit(typed);
  const { standard, degreesOfFreedom: freedom } = made.doubt;
  const feed = {
    name,
    perDetent: made.perDetent,
    standard: mm(standard),
    freedom,
    ...(proven && { proven }),
  };
  const done = saveFeed(home, read, feed);
  return 'trouble' in done
    ? endWith(output, 3, `Not saved: ${done.trouble}.`)
    : endWith(output, 0, `Saved as feed "${forScreen(name)}" (${pathForScreen(done.path)}).`);
}
