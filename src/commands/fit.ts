// `lidwright fit`: the spigot for a bore, its band, what any other spigot would give, and how sure all that is.
import { fitRefusalText } from '../core/thread/pair.ts';
import { settingOptions } from '../kit/settings.ts';
import { wrongUse } from './asking.ts';
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';
import { answerPlain, answerThread, type NoFit, noFitJson, plainJson, threadJson } from './fit-answer.ts';
import { type FitAsked, readFit } from './fit-asked.ts';
import { plainLines, threadLines } from './fit-words.ts';

function run(typed: Typed, output: Output): ExitCode {
  const { asked, ask } = readFit(typed);
  if (!asked) return wrongUse('fit', ask.complaints, output);
  return typed.options.json === true ? tellJson(asked, output) : tellLines(asked, output);
}

function tellJson(asked: FitAsked, output: Output): ExitCode {
  const json = (value: unknown): void => output.data(JSON.stringify(value));
  if (asked.kind === 'plain') {
    const answer = answerPlain(asked);
    json(answer.kind === 'plain' ? plainJson(asked, answer) : noFitJson(answer));
    return answer.kind === 'plain' ? 0 : 1;
  }
  const answer = answerThread(asked);
  json(answer.kind === 'thread' ? threadJson(asked, answer) : noFitJson(answer));
  return answer.kind === 'thread' ? 0 : 1;
}

function tellLines(asked: FitAsked, output: Output): ExitCode {
  const tell = (lines: readonly string[]): ExitCode => {
    for (const line of lines) output.data(line);
    return 0;
  };
  if (asked.kind === 'plain') {
    const answer = answerPlain(asked);
    return answer.kind === 'plain' ? tell(plainLines(asked, answer)) : refuse(answer, output);
  }
  const answer = answerThread(asked);
  if (answer.kind !== 'thread') return refuse(answer, output);
  return tell(threadLines(asked, answer, output.terminal ? output.columns : undefined));
}

/** The answer is no: the reason and the nearest thing that would do. */
function refuse({ why }: NoFit, output: Output): ExitCode {
  output.message(`No spigot fits: ${fitRefusalText(why)}.`);
  return 1;
}

export const fitCommand: CommandSpec = {
  name: 'fit',
  summary: 'The spigot for a bore and its thread: target, band, clearance, and the chance of each fit.',
  options: [
    { flags: '--bore <length>', about: 'measured over the crests, after its thread is cut' },
    { flags: '--pitch <pitch>', about: '16tpi or 1.5mm' },
    { flags: '--depth <length>', about: 'radial, of both threads from touch-off' },
    { flags: '--spigot-depth <length>', about: "of the spigot's thread, where it differs" },
    { flags: '--clearance <length>', about: 'wanted, diametral (0.15mm)' },
    { flags: '--spigot <length>', about: 'what this spigot would give, before its thread is cut' },
    { flags: '--angle <angle>', about: 'included angle of the form, 20 to 90 (60)' },
    { flags: '--tip-flat <length>', about: "the cutter's flat; sharp when neither is given" },
    { flags: '--tip-radius <length>', about: "the cutter's nose radius" },
    { flags: '--spigot-tip-flat <length>', about: 'of the cutter on the spigot, where it is another' },
    { flags: '--spigot-tip-radius <length>', about: 'the same, round' },
    { flags: '--starts <count>', about: 'of the thread (1)' },
    { flags: '--cutter <length>', about: 'diameter of a disc cutter, which widens the groove' },
    { flags: '--running-from <length>', about: 'clearance at which a lid runs (0.08mm)' },
    { flags: '--loose-from <length>', about: 'clearance at which it is loose (0.3mm)' },
    { flags: '--feed <length>', about: 'radial feed of one detent' },
    {
      flags: '--touch-off <length>',
      about: 'each touch-off lies within plus or minus this (one detent, or 0.05mm)',
    },
    { flags: '--bore-doubt <length>', about: 'standard uncertainty of the bore, as a capture gives it' },
    { flags: '--caliper-error <length>', about: "the caliper's limit of error (0.03mm)" },
    { flags: '--caliper-step <length>', about: 'one step of its display (0.01mm)' },
    {
      flags: '--plain',
      about: 'a lid without thread: bore less clearance; a hold is a clearance below zero',
    },
    ...settingOptions(['unit']),
    { flags: '--json', about: 'the answer as JSON, lengths in mm' },
  ],
  example: {
    line: 'fit --bore 50mm --pitch 16tpi --depth 1mm --clearance 0.15mm',
    shows: 'a spigot of 51.10 mm, 1.10 mm over the bore, and how likely it runs at the first trial',
  },
  run,
};
