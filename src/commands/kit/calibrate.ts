// Finding what a detent of the feed is worth: from measured travels, or from a pair that runs; and keeping it.
import { lengthText, pitchText } from '../../core/bench/texts.ts';
import { rectangular } from '../../core/measure/uncertainty.ts';
import { MOST_STARTS } from '../../core/plan/refusal.ts';
import { type Parsed, type Pitch, parseCount, parsePitch, parsePositiveLength } from '../../core/quantity.ts';
import {
  type Calibration,
  type CalibrationRefusal,
  calibrateByTravel,
  calibrationRefusalText,
} from '../../core/thread/calibrate.ts';
import { type Length, mm } from '../../core/units.ts';
import { calibrateByPairInHand } from '../../kit/calibration.ts';
import { addedItem, changedItem } from '../../kit/item-file.ts';
import type { FactTexts } from '../../kit/kind.ts';
import { itemsOf, type KitRead } from '../../kit/kit.ts';
import { sameName } from '../../kit/names.ts';
import { shown, shownPath } from '../../kit/trouble.ts';
import { parseUnsignedLength } from '../../kit/value.ts';
import { type Asking, askOf } from '../asking.ts';
import type { ExitCode, Output, Typed } from '../command.ts';
import { keep, openKit, tellTroubles } from './opening.ts';

const MOST_DETENTS = 100_000;
/** Where nothing was said; our own choices, each told with the answer. */
const GAUGE_WITHIN = mm(0.01);
const PLAY_WITHIN = mm(0.05);
const TOUCH_OFF_WITHIN = mm(0.05);

const parseDetents = (text: string): Parsed<number> => parseCount(text, 1, MOST_DETENTS);

/** What was found, and what has to be kept with it. */
interface Found {
  readonly made: Calibration | CalibrationRefusal;
  readonly taken: string;
  /** Set where a pair proved its detents at its pitch. */
  readonly proven?: { readonly pitch: Pitch; readonly detents: number };
  readonly detents: number;
}

function travelsTyped(ask: Asking, typed: Typed): readonly Length[] | undefined {
  const given = typed.options.travel;
  if (!Array.isArray(given)) return undefined;
  const parsed = given.map((text) => parsePositiveLength(String(text)));
  for (const each of parsed)
    if (!each.ok) ask.complain(`--travel: "${shown(each.found)}" is not accepted; give ${each.accepted}.`);
  return parsed.flatMap((each) => (each.ok ? [each.value] : []));
}

function byTravel(ask: Asking, travels: readonly Length[]): Found | undefined {
  const detents = ask.needed('--detents', parseDetents, 'how many were fed for each travel, such as 20');
  const within = ask.optional('--gauge-within', parseUnsignedLength) ?? GAUGE_WITHIN;
  if (ask.complaints.length > 0 || detents === undefined) return undefined;
  const made = calibrateByTravel(detents, travels, mm(rectangular(within)));
  return {
    made,
    detents,
    taken: `with a gauge within ${lengthText(within, 'mm')}; turn the feed deeper before the first detent counts, so that its lost motion is out`,
  };
}

function byPair(ask: Asking, read: KitRead): Found | undefined {
  const pitch = ask.needed('--pitch', parsePitch, 'the thread, such as 16tpi or 1.5mm');
  const bore = ask.needed('--bore', parsePositiveLength, 'over the crests, such as 42.10mm');
  const spigot = ask.needed('--spigot', parsePositiveLength, 'before it was threaded, such as 43.50mm');
  const play = ask.needed(
    '--play',
    parseUnsignedLength,
    'how far the closed lid shakes along its axis, such as 0.1mm',
  );
  const both = ask.needed('--detents', parseDetents, 'how many deep the bore was cut, such as 14');
  const male = ask.optional('--spigot-detents', parseDetents) ?? both;
  const starts = ask.optional('--starts', (text) => parseCount(text, 1, MOST_STARTS)) ?? 1;
  const playWithin = ask.optional('--play-within', parseUnsignedLength) ?? PLAY_WITHIN;
  const touchOffWithin = ask.optional('--touch-off-within', parseUnsignedLength) ?? TOUCH_OFF_WITHIN;
  const [cutter, caliper] = [read.kit.cutters[0], read.kit.calipers[0]];
  if (!pitch || !bore || !spigot || play === undefined || !both || !male || !cutter || !caliper)
    return undefined;
  if (ask.complaints.length > 0) return undefined;
  const detents = { female: both, male };
  const made = calibrateByPairInHand({
    pitch,
    starts,
    cutter,
    caliper,
    bore,
    spigot,
    detents,
    play,
    playWithin,
    touchOffWithin,
  });
  const taken = `for threads cut with "${cutter.name}" and measured with "${caliper.name}", the play known within ${lengthText(playWithin, 'mm')}, each touch-off within ${lengthText(touchOffWithin, 'mm')}`;
  return { made, detents: both, taken, ...(both === male ? { proven: { pitch, detents: both } } : {}) };
}

/** Which way was asked for; both at once, or neither, is a complaint. */
function found(typed: Typed, ask: Asking, read: KitRead): Found | undefined {
  const travels = travelsTyped(ask, typed);
  const pair = typed.options.bore !== undefined || typed.options.spigot !== undefined;
  if (travels && pair) ask.complain('Give either measured travels or a pair that runs, not both.');
  else if (travels) return byTravel(ask, travels);
  else if (pair) return byPair(ask, read);
  else
    ask.complain(
      'Give --detents and --travel (measured with a dial gauge or feeler), or --detents with --pitch, --bore, --spigot and --play of a pair that runs.',
    );
  return undefined;
}

/** Decimals that show an interval of this half-width to two figures. */
const decimalsFor = (half: number): number =>
  half > 0 ? Math.min(Math.max(1 - Math.floor(Math.log10(half)), 0), 9) : 6;

function words({ made, detents, taken }: Found & { readonly made: Calibration }): readonly string[] {
  const { perDetent, doubt } = made;
  const half = doubt.expanded95;
  const places = decimalsFor(half);
  const depth = half * detents;
  const [most] = doubt.shares;
  const largest = most
    ? ` The largest part of that doubt: ${most.name}, ${Math.round(100 * most.share)} %.`
    : '';
  return [
    `One detent is ${perDetent.toFixed(places)} mm, give or take ${half.toFixed(places)} mm at 95 %.`,
    `Over ${detents} detents that is ${depth.toFixed(decimalsFor(depth))} mm of depth, and twice as much of clearance.${largest}`,
    `Reckoned ${taken}.`,
  ];
}

const json = ({ made, detents }: Found & { readonly made: Calibration }): string =>
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

const exact = (value: number, figures: number): string => `${Number(value.toPrecision(figures))}mm`;

/** The list of proven detents with this one put in, in place of an older one at the same pitch. */
function provenText(before: string | undefined, { pitch, detents }: NonNullable<Found['proven']>): string {
  const others = (before ?? '')
    .split(',')
    .map((each) => each.trim())
    .filter((each) => each !== '');
  const at = ` at ${pitchText(pitch)}`;
  return [...others.filter((each) => !each.endsWith(at)), `${detents}${at}`].join(', ');
}

/** Keeps the answer as a feed of the kit: a new one, or the one of that name with its two figures changed. */
function save(
  name: string,
  of: Found & { readonly made: Calibration },
  typed: Typed,
  output: Output,
): ExitCode {
  const { home, read } = openKit(typed);
  const there = itemsOf(read).find(({ facts }) => sameName(facts.name, name));
  if (there && there.kind !== 'feed') {
    output.message(`"${there.facts.name}" is a ${there.kind}; give the feed another name. Nothing was kept.`);
    return 2;
  }
  const facts: FactTexts = {
    'per-detent': exact(of.made.perDetent, 9),
    'per-detent-standard': exact(of.made.doubt.standard, 3),
    ...(of.proven ? { proven: provenText(there?.texts.proven, of.proven) } : {}),
  };
  const edited = there ? changedItem(home, there, facts) : addedItem(home, 'feed', name, facts);
  if (!edited.ok) return tellTroubles(edited.troubles, output);
  if (!keep(edited.path, edited.text, output)) return 3;
  output.message(`Kept as feed "${shown(name)}" (${shownPath(edited.path)}).`);
  return 0;
}

export function calibrate(typed: Typed, output: Output): ExitCode {
  const ask = askOf(typed);
  const { read } = openKit(typed, ['caliper', 'cutter']);
  const of = found(typed, ask, read);
  if (!of) return complain(ask.complaints, output);
  const { made } = of;
  if (made.kind !== 'calibration') {
    output.message(`${calibrationRefusalText(made)}. Nothing was kept.`);
    return 1;
  }
  const whole = { ...of, made };
  if (typed.options.json === true) output.data(json(whole));
  else for (const line of words(whole)) output.data(line);
  const { save: name } = typed.options;
  return typeof name === 'string' ? save(name, whole, typed, output) : 0;
}

function complain(sentences: readonly string[], output: Output): ExitCode {
  for (const sentence of sentences) output.message(sentence);
  output.message('Nothing was kept. `lidwright kit calibrate --help` shows both ways, with an example.');
  return 2;
}
