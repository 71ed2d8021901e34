// `lidwright plan`: walls, turns, lengths, grooves, passes and speeds for a threaded box, or why it isn't possible.
import { settingOptions } from '../kit/settings.ts';
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';
import { readOptions, wrongUse } from './options.ts';
import { readPlan } from './plan/options.ts';
import { answerPlan, planJson, planLines } from './plan/report.ts';

function run(typed: Typed, output: Output): ExitCode {
  const options = readOptions(typed);
  const question = readPlan(options, typed);
  if (!question) return wrongUse('plan', options.errors, output);
  const answer = answerPlan(question);
  if (answer.kind === 'impossible') {
    if (typed.options.json) output.data(JSON.stringify({ possible: false, why: answer.why }));
    output.message(`Not possible: ${answer.why}.`);
    return 1;
  }
  if (typed.options.json) output.data(JSON.stringify(planJson(question, answer)));
  else for (const line of planLines(question, answer)) output.data(line);
  return 0;
}

export const planCommand: CommandSpec = {
  name: 'plan',
  summary: 'plan a threaded box: walls, turns, lengths, grooves, passes and speeds',
  options: [
    { flags: '--outside <length>', about: 'outside diameter of the bored part, where its thread is' },
    { flags: '--bore <length>', about: 'bore over the crests (suggested)' },
    { flags: '--pitch <pitch>', about: 'pitch of the thread: 16tpi or 1.5mm (suggested)' },
    { flags: '--starts <count>', about: 'starts of the thread (1)' },
    { flags: '--angle <angle>', about: 'included angle of the form, 20 to 90 (60)' },
    { flags: '--tip-flat <length>', about: "width of the cutter's flat tip (sharp)" },
    { flags: '--tip-radius <length>', about: "radius of the cutter's round nose" },
    { flags: '--engaged <length>', about: 'length of thread that engages (suggested)' },
    {
      flags: '--turns <number>',
      about: 'turns of the lid from first engagement to closed, instead of --engaged',
    },
    { flags: '--wall <length>', about: 'minimum wall outside the bored thread and inside the spigot' },
    { flags: '--hollow <length>', about: 'diameter of the hollow through the spigot' },
    { flags: '--bore-depth <length>', about: 'depth of the bore' },
    { flags: '--clearance <length>', about: 'clearance wanted, on the diameter (0.15mm)' },
    { flags: '--feed <length>', about: 'radial feed of one detent; plans the passes' },
    { flags: '--harden', about: 'harden the wood before the finishing pass' },
    { flags: '--cutter <length>', about: 'diameter of the cutter' },
    { flags: '--speed <turns>', about: 'speed you mean to use, in turns a minute' },
    { flags: '--top-speed <turns>', about: "the cutter maker's top speed, in turns a minute" },
    {
      flags: '--rod <diameter,length,material>',
      about: 'rod that sticks out of the spindle and turns with it: 8mm,150mm,steel',
    },
    ...settingOptions(['unit']),
    { flags: '--json', about: 'print JSON, lengths in mm' },
  ],
  example: {
    line: 'plan --outside 60mm --feed 0.05mm --cutter 20mm --speed 3000 --top-speed 6000',
    shows: 'a 16 TPI thread with its bore, spigot, walls, lengths, passes and cutting speed',
  },
  run,
};
