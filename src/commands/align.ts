// `lidwright align`: what to take off the shoulder so that the grain of lid and body lines up.
import { cutLength } from '../core/figures.ts';
import { type Trim, trimFor } from '../core/plan/alignment.ts';
import { planRefusalText } from '../core/plan/refusal.ts';
import { type Angle, inDegrees, type Length, type LengthUnit } from '../core/units.ts';
import { anyAngle } from '../kit/quantities.ts';
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';
import { askOptions, JSON_OPTION, neededOption, OptionReader, settingOptions } from './options.ts';
import { answer, wrongUse } from './output.ts';
import { BORED, PITCH, STARTS } from './thread-options.ts';

const OPTIONS = {
  ...PITCH,
  turn: neededOption(
    anyAngle,
    'how much further the closed lid has to turn: 90deg; negative if it has gone past its mark',
    'how much further the lid has to turn, such as 90deg',
  ),
  ...STARTS,
  ...BORED,
};

/** Where a clock's hand would stand after this turn. */
const onDial = (turn: Angle): number => Math.round(inDegrees(turn) / 30) % 12 || 12;

/** In both units where none is set; nobody trims a shoulder finer. */
const amountIn = (length: Length, unit: LengthUnit | undefined): string =>
  unit ? cutLength(length, unit) : `${cutLength(length, 'mm')} (${cutLength(length, 'in')})`;

function linesOf(
  trim: Trim,
  starts: number,
  [spigotPart, boredPart]: readonly [string, string],
  unit: LengthUnit | undefined,
): readonly string[] {
  const creep = `0.1 mm turns the lid ${inDegrees(trim.perTenth).toFixed(0)} degrees, so take off a little at a time and try the lid.`;
  const several = starts > 1 ? ` The lid can start in ${starts} places. Start it at the nearest one.` : '';
  if (trim.amount === 0)
    return [`The grain lines up when the lid is closed. Take nothing off.${several}`, creep];
  return [
    `Take ${amountIn(trim.amount, unit)} off the shoulder of the ${spigotPart} (the part with the spigot), or the same off the rim of the ${boredPart}.`,
    `The lid then turns ${inDegrees(trim.turnsOn).toFixed(0)} degrees further, as from 12 to ${onDial(trim.turnsOn)} on a clock, and the grain lines up.${several}`,
    creep,
    "Either cut brings the spigot's end closer to the bottom of the bore by that much. Check that there is room.",
    `Or glue a ring ${amountIn(trim.ring, unit)} thick on the shoulder: the lid then closes that much sooner, and the grain lines up. Only a ring puts wood back.`,
  ];
}

function run(typed: Typed, output: Output): ExitCode {
  const options = new OptionReader(typed);
  const { values, from } = options.settings(['unit']);
  const asked = options.read(OPTIONS);
  if (!options.isWhole(asked)) return wrongUse('align', options.errors, output);
  const { pitch, turn: toGo, starts = 1, bored = 'lid' } = asked;
  const trim = trimFor({ pitch: pitch.length, starts, toGo });
  if (trim.kind !== 'trim') return wrongUse('align', [`--turn: ${planRefusalText(trim)}.`], output);
  const parts = bored === 'lid' ? (['body', 'lid'] as const) : (['lid', 'body'] as const);
  const json = {
    trimMm: trim.amount,
    trimFrom: parts[0],
    turnsOnDeg: inDegrees(trim.turnsOn),
    ringMm: trim.ring,
    perTenthDeg: inDegrees(trim.perTenth),
    pitchMm: pitch.length,
    starts,
  };
  const unit = from.unit === 'default' ? undefined : values.unit;
  return answer(typed, output, json, linesOf(trim, starts, parts, unit));
}

export const alignCommand: CommandSpec = {
  name: 'align',
  summary: 'work out what to take off the shoulder so that the grain lines up',
  options: [...askOptions(OPTIONS), ...settingOptions(['unit']), JSON_OPTION],
  example: {
    line: 'align --pitch 16tpi --turn 90deg',
    shows: 'how much to take off: 0.40 mm, a quarter of the lead',
  },
  run,
};
