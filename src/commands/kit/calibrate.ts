// Finding what a detent of the feed is worth: from measured travels, or from a pair that runs; and keeping it.

import { calibrateByPairInHand } from '../../core/bench/calibration/model.ts';
import { lengthText } from '../../core/bench/parse-text.ts';
import type { Kit } from '../../core/bench/setup.ts';
import { rectangular } from '../../core/measure/uncertainty.ts';
import { MOST_STARTS } from '../../core/plan/refusal.ts';
import { type Parsed, parseCount, parsePitch, parsePositiveLength } from '../../core/quantity.ts';
import { forScreen } from '../../core/safe-text.ts';
import { calibrateByTravel, calibrationRefusalText } from '../../core/thread/calibrate.ts';
import { type Length, mm } from '../../core/units.ts';
import type { KitRead } from '../../kit/kit.ts';
import { parseUnsignedLength } from '../../kit/value.ts';
import { type Asking, askOf } from '../asking.ts';
import type { ExitCode, Output, Typed } from '../command.ts';
import { calibratedJson, calibratedLines, type Found } from './calibrated.ts';
import { keepFeed } from './keep-feed.ts';
import { openKit } from './opening.ts';

const MOST_DETENTS = 100_000;
/** Where nothing was said; our own choices, each told with the answer. */
const GAUGE_WITHIN = mm(0.01);
const PLAY_WITHIN = mm(0.05);
const TOUCH_OFF_WITHIN = mm(0.05);

const parseDetents = (text: string): Parsed<number> => parseCount(text, 1, MOST_DETENTS);

function travelsTyped(ask: Asking, typed: Typed): readonly Length[] | undefined {
  const given = typed.options.travel;
  if (!Array.isArray(given)) return undefined;
  const parsed = given.map((text) => parsePositiveLength(String(text)));
  for (const each of parsed)
    if (!each.ok)
      ask.complain(`--travel: "${forScreen(each.found)}" is not accepted; give ${each.accepted}.`);
  return parsed.flatMap((each) => (each.ok ? [each.value] : []));
}

function byTravel(ask: Asking, travels: readonly Length[], { unit }: Kit): Found | undefined {
  const detents = ask.needed('--detents', parseDetents, 'how many were fed for each travel, such as 20');
  const within = ask.optional('--gauge-within', parseUnsignedLength) ?? GAUGE_WITHIN;
  if (ask.complaints.length > 0 || detents === undefined) return undefined;
  const made = calibrateByTravel(detents, travels, mm(rectangular(within)));
  return {
    made,
    detents,
    taken: `with a gauge within ${lengthText(within, unit)}; turn the feed deeper before the first detent counts, so that its lost motion is out`,
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
  const { unit, cutters, calipers } = read.kit;
  const [cutter, caliper] = [cutters[0], calipers[0]];
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
  const taken = `for threads cut with "${cutter.name}" and measured with "${caliper.name}", the play known within ${lengthText(playWithin, unit)}, each touch-off within ${lengthText(touchOffWithin, unit)}`;
  return { made, detents: both, taken, ...(both === male ? { proven: { pitch, detents: both } } : {}) };
}

/** Which way was asked for; both at once, or neither, is a complaint. */
function found(typed: Typed, ask: Asking, read: KitRead): Found | undefined {
  const travels = travelsTyped(ask, typed);
  const pair = typed.options.bore !== undefined || typed.options.spigot !== undefined;
  if (travels && pair) ask.complain('Give either measured travels or a pair that runs, not both.');
  else if (travels) return byTravel(ask, travels, read.kit);
  else if (pair) return byPair(ask, read);
  else
    ask.complain(
      'Give --detents and --travel (measured with a dial gauge or feeler), or --detents with --pitch, --bore, --spigot and --play of a pair that runs.',
    );
  return undefined;
}

export function calibrate(typed: Typed, output: Output): ExitCode {
  const ask = askOf(typed);
  const { read } = openKit(typed, ['caliper', 'cutter', 'unit']);
  const of = found(typed, ask, read);
  if (!of) return complain(ask.complaints, output);
  const { made } = of;
  if (made.kind !== 'calibration') {
    output.message(`${calibrationRefusalText(made)}. Nothing was kept.`);
    return 1;
  }
  const whole = { ...of, made };
  if (typed.options.json === true) output.data(calibratedJson(whole));
  else for (const line of calibratedLines(whole, read.kit.unit)) output.data(line);
  const { save: name } = typed.options;
  return typeof name === 'string' ? keepFeed(name, whole, typed, output) : 0;
}

function complain(sentences: readonly string[], output: Output): ExitCode {
  for (const sentence of sentences) output.message(sentence);
  output.message('Nothing was kept. `lidwright kit calibrate --help` shows both ways, with an example.');
  return 2;
}
