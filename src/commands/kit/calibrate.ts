// `lidwright kit calibrate`: what a detent of the feed is worth, from measured travels or from a pair that runs.
import { calibrateByPairInHand } from '../../core/bench/calibration/model.ts';
import { fineFigure, fineWithDoubt, percent, withDoubt } from '../../core/figures.ts';
import { rectangular } from '../../core/measure/uncertainty.ts';
import { MOST_STARTS } from '../../core/plan/refusal.ts';
import {
  type Parsed,
  type Pitch,
  parseCount,
  parsePitch,
  parsePositiveLength,
  parseUnsignedLength,
} from '../../core/quantity.ts';
import { forScreen, pathForScreen } from '../../core/safe-text.ts';
import {
  type Calibration,
  type CalibrationRefusal,
  calibrateByTravel,
  calibrationRefusalText,
} from '../../core/thread/calibrate.ts';
import { type Length, type LengthUnit, mm } from '../../core/units.ts';
import type { KitRead } from '../../kit/kit.ts';
import type { ExitCode, Output, Typed } from '../command.ts';
import { type OptionReader, readOptions } from '../options.ts';
import { saveFeed } from '../save-feed.ts';
import { openKit } from './open-kit.ts';

/** What was found, and what is saved with it. */
interface Outcome<T = Calibration | CalibrationRefusal> {
  readonly made: T;
  readonly detents: number;
  /** What the answer rests on, as the end of a sentence. */
  readonly basis: string;
  /** Set where a pair proved its detents at its pitch. */
  readonly proven?: { readonly pitch: Pitch; readonly detents: number };
}

const MOST_DETENTS = 100_000;
/** Where nothing was said; our own choices, each said with the answer. */
const GAUGE_WITHIN = mm(0.01);
const PLAY_WITHIN = mm(0.05);
const TOUCH_OFF_WITHIN = mm(0.05);

const parseDetents = (text: string): Parsed<number> => parseCount(text, 1, MOST_DETENTS);

function byTravel(options: OptionReader, travels: readonly Length[], unit: LengthUnit): Outcome | undefined {
  const detents = options.required('--detents', parseDetents, 'the detents fed for each travel, such as 20');
  const within = options.optional('--gauge-within', parseUnsignedLength) ?? GAUGE_WITHIN;
  if (options.errors.length > 0 || detents === undefined) return undefined;
  const made = calibrateByTravel(detents, travels, mm(rectangular(within)));
  const basis = `a gauge accurate to ${fineFigure(within, unit)}. Before the first detent, turn the feed a little deeper, to take up its lost motion`;
  return { made, detents, basis };
}

function byPair(options: OptionReader, { kit }: KitRead): Outcome | undefined {
  const pitch = options.required('--pitch', parsePitch, 'the pitch of the thread, such as 16tpi or 1.5mm');
  const bore = options.required('--bore', parsePositiveLength, 'the bore over the crests, such as 42.10mm');
  const spigot = options.required(
    '--spigot',
    parsePositiveLength,
    'the spigot before its thread, such as 43.50mm',
  );
  const play = options.required(
    '--play',
    parseUnsignedLength,
    'how far the closed lid moves along its axis, such as 0.1mm',
  );
  const female = options.required('--detents', parseDetents, 'how many deep the bore was cut, such as 14');
  const male = options.optional('--spigot-detents', parseDetents) ?? female;
  const starts = options.optional('--starts', (text) => parseCount(text, 1, MOST_STARTS)) ?? 1;
  const playWithin = options.optional('--play-within', parseUnsignedLength) ?? PLAY_WITHIN;
  const touchOffWithin = options.optional('--touch-off-within', parseUnsignedLength) ?? TOUCH_OFF_WITHIN;
  const [cutter, caliper] = [kit.cutters[0], kit.calipers[0]];
  if (options.errors.length > 0) return undefined;
  if (!pitch || !bore || !spigot || play === undefined || !female || !male || !cutter || !caliper)
    return undefined;
  const detents = { female, male };
  const pair = { pitch, starts, cutter, caliper, bore, spigot, detents, play, playWithin, touchOffWithin };
  const basis = `threads cut with "${cutter.name}" and measured with "${caliper.name}", the play known within ${fineFigure(playWithin, kit.unit)}, each touch-off within ${fineFigure(touchOffWithin, kit.unit)}`;
  const proven = female === male ? { proven: { pitch, detents: female } } : {};
  return { made: calibrateByPairInHand(pair), detents: female, basis, ...proven };
}

/** By whichever way was typed; both at once, or neither, is an error. */
function found(options: OptionReader, read: KitRead): Outcome | undefined {
  const travels = options.list('--travel', parsePositiveLength);
  const pair = options.isTyped('--bore') || options.isTyped('--spigot');
  if (travels && pair) options.addError('Give measured travels or a pair that runs, not both.');
  else if (travels) return byTravel(options, travels, read.kit.unit);
  else if (pair) return byPair(options, read);
  else
    options.addError(
      'Give --detents and --travel (measured with a dial gauge or feeler), or --detents with --pitch, --bore, --spigot and --play of a pair that runs.',
    );
  return undefined;
}

/** For a person, in the unit they count in; nothing finer than its doubt. */
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

/** One object a line, lengths in millimetres. */
const calibrationJson = ({ made, detents }: Outcome<Calibration>): string =>
  JSON.stringify({
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
  const options = readOptions(typed);
  const { read } = openKit(typed, ['caliper', 'cutter', 'unit']);
  const outcome = found(options, read);
  if (!outcome) return refuse(options.errors, output);
  const { made } = outcome;
  if (made.kind !== 'calibration') {
    output.message(`${calibrationRefusalText(made)}. Nothing was saved.`);
    return 1;
  }
  const calibration = { ...outcome, made };
  if (typed.options.json === true) output.data(calibrationJson(calibration));
  else for (const line of calibrationLines(calibration, read.kit.unit)) output.data(line);
  const { save } = typed.options;
  return typeof save === 'string' ? saved(save, calibration, typed, output) : 0;
}

function saved(name: string, { made, proven }: Outcome<Calibration>, typed: Typed, output: Output): ExitCode {
  const { home, read } = openKit(typed);
  const figures = {
    perDetent: made.perDetent,
    standard: mm(made.doubt.standard),
    freedom: made.doubt.degreesOfFreedom,
  };
  const done = saveFeed(home, read, { name, ...figures, ...(proven ? { proven } : {}) });
  if ('trouble' in done) {
    output.message(`Not saved: ${done.trouble}.`);
    return 3;
  }
  output.message(`Saved as feed "${forScreen(name)}" (${pathForScreen(done.path)}).`);
  return 0;
}

function refuse(errors: readonly string[], output: Output): ExitCode {
  for (const sentence of errors) output.message(sentence);
  output.message('Nothing was saved. `lidwright kit calibrate --help` shows both ways, with an example.');
  return 2;
}
