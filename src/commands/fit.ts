// `lidwright fit`: the spigot for a bore, its band, what any other spigot would give, and how sure all that is.
import { settingOptions } from '../kit/settings.ts';
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';
import { readFit } from './fit/options.ts';
import { fitReport } from './fit/report.ts';
import { wrongUse } from './options.ts';

function run(typed: Typed, output: Output): ExitCode {
  const question = readFit(typed);
  if ('errors' in question) return wrongUse('fit', question.errors, output);
  const report = fitReport(question, output.terminal ? output.columns : undefined);
  if (typed.options.json === true) output.data(JSON.stringify(report.json));
  else for (const line of report.lines) output.data(line);
  if (report.refusal === undefined) return 0;
  if (typed.options.json !== true) output.message(report.refusal);
  return 1;
}

export const fitCommand: CommandSpec = {
  name: 'fit',
  summary: 'work out the spigot for a threaded bore, and the chance of each fit',
  options: [
    { flags: '--bore <length>', about: 'bore over the crests, measured after its thread is cut' },
    { flags: '--pitch <pitch>', about: 'pitch of the thread: 16tpi or 1.5mm' },
    {
      flags: '--depth <length>',
      about: 'radial depth of both threads (planned for the pitch, as at the bench)',
    },
    { flags: '--spigot-depth <length>', about: "depth of the spigot's thread, if it differs" },
    { flags: '--clearance <length>', about: 'clearance wanted, on the diameter (0.15mm)' },
    { flags: '--spigot <length>', about: 'spigot to judge, measured before its thread is cut' },
    { flags: '--angle <angle>', about: 'included angle of the form, 20 to 90 (60)' },
    { flags: '--tip-flat <length>', about: "width of the cutter's flat tip (sharp)" },
    { flags: '--tip-radius <length>', about: "radius of the cutter's round nose" },
    { flags: '--spigot-tip-flat <length>', about: 'flat tip of another cutter used on the spigot' },
    { flags: '--spigot-tip-radius <length>', about: 'round nose of another cutter used on the spigot' },
    { flags: '--starts <count>', about: 'starts of the thread (1)' },
    { flags: '--cutter <length>', about: 'diameter of a disc cutter, which widens the groove' },
    { flags: '--running-from <length>', about: 'clearance from which a lid runs (0.08mm)' },
    { flags: '--loose-from <length>', about: 'clearance from which a lid is loose (0.3mm)' },
    { flags: '--feed <length>', about: 'radial feed of one detent' },
    {
      flags: '--touch-off <length>',
      about: 'accuracy of each touch-off, plus or minus (one detent, or 0.05mm)',
    },
    {
      flags: '--bore-doubt <length>',
      about: 'standard uncertainty of the bore, as the bench or `replay` reports it',
    },
    {
      flags: '--bias-doubt <length>',
      about: "how far out your setup's fits may be, as standard uncertainty (0.15mm for a new setup)",
    },
    { flags: '--caliper-error <length>', about: "caliper's limit of error (0.03mm)" },
    { flags: '--caliper-step <length>', about: "one step of the caliper's display (0.01mm)" },
    { flags: '--plain', about: 'lid without a thread; a clearance below zero makes it hold by friction' },
    ...settingOptions(['unit']),
    { flags: '--json', about: 'print JSON, lengths in mm' },
  ],
  example: {
    line: 'fit --bore 50mm --pitch 16tpi --depth 1mm --clearance 0.15mm',
    shows: 'a spigot of 51.10 mm, 1.10 mm over the bore, and how likely it is to run at the first trial',
  },
  run,
};
