// `lidwright align`: what to take off the shoulder so that the grain of lid and body lines up.
import { type Trim, trimFor } from '../core/plan/alignment.ts';
import { MOST_STARTS, planRefusalText } from '../core/plan/refusal.ts';
import { type Pitch, parseAngle, parseCount, parsePitch } from '../core/quantity.ts';
import { type Angle, inDegrees, inInches, type Length } from '../core/units.ts';
import { askOf, parseWord, wrongUse } from './asking.ts';
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';

interface Asked {
  readonly pitch: Pitch;
  readonly starts: number;
  readonly toGo: Angle;
  readonly bored: 'lid' | 'body';
}

const DIAL = ['12', '1', '2', '3', '4', '5', '6', '7', '8', '9', '10', '11'] as const;
/** Where a clock's hand would stand after this turn. */
const onDial = (turn: Angle): string => DIAL[Math.round(inDegrees(turn) / 30) % 12] ?? '12';

/** Whatever the caliper counts in. */
const both = (length: Length): string => `${length.toFixed(2)} mm (${inInches(length).toFixed(3)} in)`;

function words(asked: Asked, trim: Trim): readonly string[] {
  const [spigotPart, boredPart] = asked.bored === 'lid' ? ['body', 'lid'] : ['lid', 'body'];
  const tenth = `0.1 mm turns the lid ${inDegrees(trim.perTenth).toFixed(0)} degrees, so creep up on it and try it on.`;
  const several = asked.starts > 1 ? ` It closes at ${asked.starts} places; enter it at the nearest.` : '';
  if (trim.amount === 0) return [`The grain lines up as it closes: take nothing off.${several} ${tenth}`];
  return [
    `Take ${both(trim.amount)} off the shoulder of the ${spigotPart} (the part with the spigot), or as much off the rim of the ${boredPart}.`,
    `The lid then turns on by ${inDegrees(trim.turnsOn).toFixed(0)} degrees, as from 12 to ${onDial(trim.turnsOn)} on a clock, and the grain lines up.${several}`,
    tenth,
    `Either cut brings the spigot's end as much nearer the bottom of the bore: see that there is room.`,
    `The other way round, a ring ${both(trim.ring)} thick on the shoulder turns it back to the closing before; wood cannot be put back any other way.`,
  ];
}

function run(typed: Typed, output: Output): ExitCode {
  const ask = askOf(typed);
  const pitch = ask.needed('--pitch', parsePitch, 'the thread, such as 16tpi or 1.5mm');
  const toGo = ask.needed('--turn', parseAngle, 'what the lid has still to turn, such as 90deg');
  const starts = ask.optional('--starts', (text) => parseCount(text, 1, MOST_STARTS)) ?? 1;
  const bored = ask.optional('--bored', parseWord(['lid', 'body'])) ?? 'lid';
  if (!pitch || toGo === undefined || ask.complaints.length > 0)
    return wrongUse('align', ask.complaints, output);
  const trim = trimFor({ pitch: pitch.length, starts, toGo });
  if (trim.kind !== 'trim') return wrongUse('align', [`--turn: ${planRefusalText(trim)}.`], output);
  const asked: Asked = { pitch, starts, toGo, bored };
  if (typed.options.json) output.data(JSON.stringify(answer(asked, trim)));
  else for (const line of words(asked, trim)) output.data(line);
  return 0;
}

const answer = (asked: Asked, trim: Trim) => ({
  trimMm: trim.amount,
  trimFrom: asked.bored === 'lid' ? 'body' : 'lid',
  turnsOnDeg: inDegrees(trim.turnsOn),
  ringMm: trim.ring,
  perTenthDeg: inDegrees(trim.perTenth),
  pitchMm: asked.pitch.length,
  starts: asked.starts,
});

export const alignCommand: CommandSpec = {
  name: 'align',
  summary: 'What to take off the shoulder so that the grain lines up when the lid is closed.',
  options: [
    { flags: '--pitch <pitch>', about: 'the thread: 16tpi, 1.5mm' },
    {
      flags: '--turn <angle>',
      about: 'how far the lid has still to turn to line up: 90deg; negative once it has gone past its mark',
    },
    { flags: '--starts <count>', about: 'starts of the thread (1)' },
    {
      flags: '--bored <part>',
      about: 'which part is bored; the other has the spigot (lid)',
      choices: ['lid', 'body'],
    },
    { flags: '--json', about: 'the answer as JSON, lengths in mm' },
  ],
  example: {
    line: 'align --pitch 16tpi --turn 90deg',
    shows: 'a quarter of the lead, 0.40 mm, to come off',
  },
  run,
};
