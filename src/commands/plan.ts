// `lidwright plan`: walls, turns, lengths, grooves, passes and speeds for a threaded box, or why it cannot be.
import { MOST_STARTS } from '../core/plan/refusal.ts';
import { type Parsed, parseAngle, parseCount, parsePitch, parsePositiveLength } from '../core/quantity.ts';
import type { Tip } from '../core/thread/form.ts';
import { leastAngle, mostAngle } from '../core/thread/pair.ts';
import { type Angle, degrees } from '../core/units.ts';
import { settingOptions } from '../kit/settings.ts';
import { type Asking, askOf, unitTyped, wrongUse } from './asking.ts';
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';
import { heededBeside, unitHeeded, wantedHeeded } from './heeded.ts';
import { answerPlan, type PlanAsked } from './plan-answer.ts';
import { parseRod, parseSpeed, parseTurns } from './plan-quantities.ts';
import { planJson, planLines } from './plan-words.ts';
import { parseClearance } from './season-quantities.ts';

function parseForm(text: string): Parsed<Angle> {
  const angle = parseAngle(text);
  if (!angle.ok || (angle.value >= leastAngle && angle.value <= mostAngle)) return angle;
  return { ok: false, kind: 'bad-quantity', found: text, accepted: "a thread's angle from 20deg to 90deg" };
}

function tipAsked(ask: Asking): Tip {
  const flat = ask.optional('--tip-flat', parsePositiveLength);
  const nose = ask.optional('--tip-radius', parsePositiveLength);
  if (flat !== undefined && nose !== undefined)
    ask.complain('--tip-flat: given together with --tip-radius; a cutter has one tip, give one of them.');
  if (flat !== undefined) return { kind: 'flat', width: flat };
  return nose === undefined ? { kind: 'sharp' } : { kind: 'radius', radius: nose };
}

function readPlan(ask: Asking, typed: Typed): PlanAsked | undefined {
  const heeded = heededBeside(ask, typed, ['unit', 'wanted']);
  const outside = ask.needed('--outside', parsePositiveLength, 'that of the bored part, such as 60mm');
  const engaged = ask.optional('--engaged', parsePositiveLength);
  const turns = ask.optional('--turns', parseTurns);
  if (engaged !== undefined && turns !== undefined)
    ask.complain('--turns: given together with --engaged; give one of them.');
  const asked = {
    bore: ask.optional('--bore', parsePositiveLength),
    pitch: ask.optional('--pitch', parsePitch),
    starts: ask.optional('--starts', (text) => parseCount(text, 1, MOST_STARTS)) ?? 1,
    angle: ask.optional('--angle', parseForm) ?? degrees(60),
    tip: tipAsked(ask),
    engaged,
    turns,
    leastWall: ask.optional('--wall', parsePositiveLength),
    hollow: ask.optional('--hollow', parsePositiveLength),
    boreDepth: ask.optional('--bore-depth', parsePositiveLength),
    clearance:
      typed.options.clearance === undefined
        ? wantedHeeded(ask, heeded, parseClearance)
        : (ask.optional('--clearance', parseClearance) ?? heeded.values.wanted),
    feed: ask.optional('--feed', parsePositiveLength),
    harden: typed.options.harden === true,
    cutter: ask.optional('--cutter', parsePositiveLength),
    speed: ask.optional('--speed', parseSpeed),
    topSpeed: ask.optional('--top-speed', parseSpeed),
    rod: ask.optional('--rod', parseRod),
  };
  return ask.complaints.length > 0 || outside === undefined
    ? undefined
    : { outside, ...asked, unit: unitHeeded(heeded, unitTyped(typed, '--outside')) };
}

function run(typed: Typed, output: Output): ExitCode {
  const ask = askOf(typed);
  const asked = readPlan(ask, typed);
  if (!asked) return wrongUse('plan', ask.complaints, output);
  const answer = answerPlan(asked);
  if (answer.kind === 'impossible') {
    if (typed.options.json) output.data(JSON.stringify({ possible: false, why: answer.why }));
    output.message(`This cannot be: ${answer.why}.`);
    return 1;
  }
  if (typed.options.json) output.data(JSON.stringify(planJson(asked, answer)));
  else for (const line of planLines(asked, answer)) output.data(line);
  return 0;
}

export const planCommand: CommandSpec = {
  name: 'plan',
  summary:
    'Walls, turns, lengths, grooves, passes and speeds for a threaded box; what is not given is suggested.',
  options: [
    { flags: '--outside <length>', about: 'of the bored part, beside its thread' },
    { flags: '--bore <length>', about: 'over the crests' },
    { flags: '--pitch <pitch>', about: '16tpi, 1.5mm' },
    { flags: '--starts <count>', about: 'starts of the thread (1)' },
    { flags: '--angle <angle>', about: 'of the form (60deg)' },
    {
      flags: '--tip-flat <length>',
      about: "the cutter's flat; sharp when neither is given",
    },
    { flags: '--tip-radius <length>', about: "the cutter's nose radius" },
    { flags: '--engaged <length>', about: 'length of thread that holds' },
    { flags: '--turns <number>', about: 'or turns of the lid from first hold to closed' },
    { flags: '--wall <length>', about: 'the least wall, beside the bored thread and inside the spigot' },
    { flags: '--hollow <length>', about: 'the hollow through the spigot' },
    { flags: '--bore-depth <length>', about: 'depth that the bore has' },
    { flags: '--clearance <length>', about: 'wanted, diametral (0.15mm)' },
    { flags: '--feed <length>', about: 'radial feed of one detent: plans the passes' },
    { flags: '--harden', about: 'the wood wants hardening before the finishing pass' },
    { flags: '--cutter <length>', about: "the cutter's diameter" },
    { flags: '--speed <turns>', about: 'turns a minute that are meant' },
    { flags: '--top-speed <turns>', about: "the cutter maker's top speed" },
    {
      flags: '--rod <diameter,length,of>',
      about: 'a rod that stands out of the spindle and turns with it: 8mm,150mm,steel',
    },
    ...settingOptions(['unit']),
    { flags: '--json', about: 'the plan as JSON, lengths in mm' },
  ],
  example: {
    line: 'plan --outside 60mm --feed 0.05mm --cutter 20mm --speed 3000 --top-speed 6000',
    shows: 'a 16 TPI thread with its bore, spigot, walls, lengths, passes and cutting speed',
  },
  run,
};
