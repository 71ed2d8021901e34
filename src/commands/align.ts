// `lidwright align`: what to take off the shoulder so that the grain of lid and body lines up.
import { fixed } from '../core/figures.ts';
import { type Trim, trimFor } from '../core/plan/alignment.ts';
import { MOST_STARTS, planRefusalText } from '../core/plan/refusal.ts';
import { type Pitch, parseAngle, parseCount, parsePitch, parseWord } from '../core/quantity.ts';
import { type Angle, inDegrees, inUnit, type Length, type LengthUnit } from '../core/units.ts';
import { settingOptions } from '../kit/settings.ts';
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';
import { settingsBeside } from './command-settings.ts';
import { type OptionReader, readOptions, wrongUse } from './options.ts';

const PARTS = ['lid', 'body'] as const;

interface AlignQuestion {
  readonly pitch: Pitch;
  readonly starts: number;
  readonly toGo: Angle;
  readonly bored: (typeof PARTS)[number];
  /** Undefined where no unit is set: then amounts are shown in both. */
  readonly unit: LengthUnit | undefined;
}

function readAlign(options: OptionReader, typed: Typed): AlignQuestion | undefined {
  const { values, from } = settingsBeside(options, typed, ['unit']);
  const pitch = options.required('--pitch', parsePitch, 'the pitch of the thread, such as 16tpi or 1.5mm');
  const toGo = options.required('--turn', parseAngle, 'how much further the lid has to turn, such as 90deg');
  const starts = options.optional('--starts', (text) => parseCount(text, 1, MOST_STARTS)) ?? 1;
  const bored = options.optional('--bored', parseWord(PARTS)) ?? 'lid';
  if (!pitch || toGo === undefined || options.errors.length > 0) return undefined;
  return { pitch, starts, toGo, bored, unit: from.unit === 'default' ? undefined : values.unit };
}

const DIAL = ['12', '1', '2', '3', '4', '5', '6', '7', '8', '9', '10', '11'] as const;
/** Where a clock's hand would stand after this turn. */
const onDial = (turn: Angle): string => DIAL[Math.round(inDegrees(turn) / 30) % 12] ?? '12';

/** Hundredths of a millimetre or thousandths of an inch: nobody trims a shoulder finer. */
const DECIMALS = { mm: 2, in: 3 } as const;

function amountIn(length: Length, unit: LengthUnit | undefined): string {
  const shown = (of: LengthUnit): string => `${fixed(inUnit(length, of), DECIMALS[of])} ${of}`;
  return unit ? shown(unit) : `${shown('mm')} (${shown('in')})`;
}

function lines({ bored, starts, unit }: AlignQuestion, trim: Trim): readonly string[] {
  const [spigotPart, boredPart] = bored === 'lid' ? ['body', 'lid'] : ['lid', 'body'];
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

const json = ({ pitch, starts, bored }: AlignQuestion, trim: Trim) => ({
  trimMm: trim.amount,
  trimFrom: bored === 'lid' ? 'body' : 'lid',
  turnsOnDeg: inDegrees(trim.turnsOn),
  ringMm: trim.ring,
  perTenthDeg: inDegrees(trim.perTenth),
  pitchMm: pitch.length,
  starts,
});

function run(typed: Typed, output: Output): ExitCode {
  const options = readOptions(typed);
  const question = readAlign(options, typed);
  if (!question) return wrongUse('align', options.errors, output);
  const { pitch, starts, toGo } = question;
  const trim = trimFor({ pitch: pitch.length, starts, toGo });
  if (trim.kind !== 'trim') return wrongUse('align', [`--turn: ${planRefusalText(trim)}.`], output);
  if (typed.options.json) output.data(JSON.stringify(json(question, trim)));
  else for (const line of lines(question, trim)) output.data(line);
  return 0;
}

export const alignCommand: CommandSpec = {
  name: 'align',
  summary: 'work out what to take off the shoulder so that the grain lines up',
  options: [
    { flags: '--pitch <pitch>', about: 'pitch of the thread: 16tpi or 1.5mm' },
    {
      flags: '--turn <angle>',
      about: 'how much further the closed lid has to turn: 90deg; negative if it has gone past its mark',
    },
    { flags: '--starts <count>', about: 'starts of the thread (1)' },
    {
      flags: '--bored <part>',
      about: 'part that is bored, lid or body; the other has the spigot (lid)',
      offers: PARTS,
    },
    ...settingOptions(['unit']),
    { flags: '--json', about: 'print JSON, lengths in mm' },
  ],
  example: {
    line: 'align --pitch 16tpi --turn 90deg',
    shows: 'a quarter of the lead, 0.40 mm, to take off',
  },
  run,
};
