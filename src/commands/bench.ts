// The bench screen: what `lidwright` alone opens, on the port used last or the only one there.
import { SETTING_KEYS } from '../kit/settings.ts';
import type { CommandSpec } from './command.ts';
import { settingOptions } from './options.ts';

export const benchCommand: CommandSpec = {
  name: 'bench',
  summary:
    'open the bench screen on the port used last or the only one there; `lidwright` alone does the same',
  options: [
    ...settingOptions(SETTING_KEYS),
    { flags: '--practice', about: 'practise rocking on a ring of known size; nothing is kept' },
  ],
  example: {
    line: 'bench --unit in',
    shows: 'the bench in inches; with no board plugged in, v starts the virtual bench',
  },
  run: async (typed, output) =>
    (await import('./bench/start.ts')).startFrom(typed, output, {
      virtual: false,
      seed: 1,
      mishaps: [],
      practice: typed.options.practice === true,
    }),
};
