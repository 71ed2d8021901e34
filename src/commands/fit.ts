// `lidwright fit`: the spigot for a bore, its band, what any other spigot would give, and how sure all that is.
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';
import { FIT_OPTIONS, readFit } from './fit/options.ts';
import { fitReport } from './fit/report.ts';
import { askOptions, JSON_OPTION, settingOptions } from './options.ts';
import { answer, endWith, wrongUse } from './output.ts';

function run(typed: Typed, output: Output): ExitCode {
  const question = readFit(typed);
  if ('errors' in question) return wrongUse('fit', question.errors, output);
  const { json, lines, refusal } = fitReport(question, output.terminal ? output.columns : undefined);
  answer(typed, output, json, lines);
  if (refusal === undefined) return 0;
  return typed.options.json === true ? 1 : endWith(output, 1, refusal);
}

export const fitCommand: CommandSpec = {
  name: 'fit',
  summary: 'work out the spigot for a threaded bore, and the chance of each fit',
  options: [
    ...askOptions(FIT_OPTIONS),
    { flags: '--plain', about: 'lid without a thread; a clearance below zero makes it hold by friction' },
    ...settingOptions(['unit']),
    JSON_OPTION,
  ],
  example: {
    line: 'fit --bore 50mm --pitch 16tpi --depth 1mm --clearance 0.15mm',
    shows: 'a spigot of 51.10 mm, 1.10 mm over the bore, and how likely it is to run at the first trial',
  },
  run,
};
