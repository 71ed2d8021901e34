// `lidwright plan`: walls, turns, lengths, grooves, passes and speeds for a threaded box, or why it isn't possible.
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';
import { askOptions, JSON_OPTION, readOptions, settingOptions } from './options.ts';
import { answer, endWith, wrongUse } from './output.ts';
import { PLAN_OPTIONS, readPlan } from './plan/options.ts';
import { answerPlan, planJson, planLines } from './plan/report.ts';

function run(typed: Typed, output: Output): ExitCode {
  const options = readOptions(typed);
  const question = readPlan(options, typed);
  if (!question) return wrongUse('plan', options.errors, output);
  const plan = answerPlan(question);
  if (plan.kind === 'answer')
    return answer(typed, output, planJson(question, plan), planLines(question, plan));
  answer(typed, output, { possible: false, why: plan.why }, []);
  return endWith(output, 1, `Not possible: ${plan.why}.`);
}

export const planCommand: CommandSpec = {
  name: 'plan',
  summary: 'plan a threaded box: walls, turns, lengths, grooves, passes and speeds',
  options: [
    ...askOptions(PLAN_OPTIONS),
    { flags: '--harden', about: 'harden the wood before the finishing pass' },
    ...settingOptions(['unit']),
    JSON_OPTION,
  ],
  example: {
    line: 'plan --outside 60mm --feed 0.05mm --cutter 20mm --speed 3000 --top-speed 6000',
    shows: 'a 16 TPI thread with its bore, spigot, walls, lengths, passes and cutting speed',
  },
  run,
};
