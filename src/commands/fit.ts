// `lidwright fit`: the spigot for a bore, its band, what any other spigot would give, and how sure all that is.
import { fitRefusalText } from '../core/thread/pair.ts';
import { settingOptions } from '../kit/settings.ts';
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';
import { readFit } from './fit/options.ts';
import {
  answerPlain,
  answerThread,
  noFitJson,
  plainJson,
  plainLines,
  threadJson,
  threadLines,
} from './fit/report.ts';
import { wrongUse } from './options.ts';

/** An answer in both forms. */
interface Report {
  readonly json: unknown;
  readonly lines: readonly string[];
}

function run(typed: Typed, output: Output): ExitCode {
  const question = readFit(typed);
  if ('errors' in question) return wrongUse('fit', question.errors, output);
  const columns = output.terminal ? output.columns : undefined;
  const json = typed.options.json === true;
  if (question.kind === 'plain') {
    const answer = answerPlain(question);
    if (answer.kind === 'no') return refuse(answer, json, output);
    return tell({ json: plainJson(question, answer), lines: plainLines(question, answer) }, json, output);
  }
  const answer = answerThread(question);
  if (answer.kind === 'no') return refuse(answer, json, output);
  const lines = json ? [] : threadLines(question, answer, columns);
  return tell({ json: threadJson(question, answer), lines }, json, output);
}

function tell(report: Report, json: boolean, output: Output): ExitCode {
  for (const line of json ? [JSON.stringify(report.json)] : report.lines) output.data(line);
  return 0;
}

/** The answer is no: the reason and the nearest thing that would do. */
function refuse(answer: Parameters<typeof noFitJson>[0], json: boolean, output: Output): ExitCode {
  if (json) output.data(JSON.stringify(noFitJson(answer)));
  else output.message(`No spigot fits: ${fitRefusalText(answer.why)}.`);
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
    { flags: '--bore-doubt <length>', about: 'standard uncertainty of the bore, as a capture gives it' },
    {
      flags: '--bias-doubt <length>',
      about: 'how far your setup may be out as a whole, standard uncertainty (0.15mm for a new one)',
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
