// The bench screen: what `lidwright` alone opens, on a real line; and the same on a virtual bench, where everything is simulated.
import { MISHAPS, type Mishap } from '../core/bench/teaching.ts';
import { countOf } from '../kit/quantities.ts';
import { SETTING_KEYS, type SettingKey } from '../kit/settings.ts';
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';
import { OptionReader, settingOptions } from './options.ts';
import { endWith } from './output.ts';

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

/** Settings of real devices; the virtual bench simulates its own. */
const OF_REAL_DEVICES: ReadonlySet<SettingKey> = new Set(['port', 'baud', 'caliper', 'cutter', 'feed']);

async function demo(typed: Typed, output: Output): Promise<ExitCode> {
  const options = new OptionReader(typed);
  const seed = options.one('seed', countOf('number', 0, 4_294_967_295)) ?? 1;
  if (options.errors.length > 0) return endWith(output, 2, ...options.errors);
  const { mishap = [] } = typed.options;
  const { startFrom } = await import('./bench/start.ts');
  return startFrom(typed, output, {
    virtual: true,
    seed,
    mishaps: mishap as readonly Mishap[],
    practice: typed.options.practice === true,
  });
}

export const demoCommand: CommandSpec = {
  name: 'demo',
  summary: 'open the bench screen on a virtual bench: simulated hand, caliper, lathe and feed',
  options: [
    ...settingOptions(SETTING_KEYS.filter((key) => !OF_REAL_DEVICES.has(key))),
    {
      flags: '--seed <number>',
      about: 'seed of the simulation; another number gives another bore, hand and lathe (1)',
    },
    {
      flags: '--mishap <names...>',
      about:
        'what goes wrong in the first job; the learner has to notice it, and the record shows it at the end',
      choices: MISHAPS,
    },
    { flags: '--practice', about: 'practise rocking virtual jaws with the arrow keys; nothing is kept' },
  ],
  example: {
    line: 'demo --seed 7 --mishap small-bore tight-trial',
    shows:
      'a bench with everything simulated, where the bore reads small and the lid turns out tight; ? lists the keys, p pauses',
  },
  run: demo,
};
