// The bench screen on a virtual bench: a simulated hand, caliper, lathe and feed behind the same line.
import { MISHAPS, type Mishap } from '../core/bench/teaching.ts';
import { parseCount, refusal } from '../core/quantity.ts';
import type { SettingKey } from '../kit/settings.ts';
import { BENCH_SETTINGS } from './bench.ts';
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';
import { settingOptions } from './options.ts';

/** Settings of real devices; the virtual bench simulates its own. */
const OF_REAL_DEVICES: ReadonlySet<SettingKey> = new Set(['port', 'baud', 'caliper', 'cutter', 'feed']);

async function run(typed: Typed, output: Output): Promise<ExitCode> {
  const seed = parseCount(String(typed.options.seed ?? '1'), 0, 4_294_967_295);
  if (!seed.ok) {
    output.message(refusal('--seed', seed));
    return 2;
  }
  const { mishap = [] } = typed.options;
  const { startFrom } = await import('./bench/start.ts');
  return startFrom(typed, output, {
    virtual: true,
    seed: seed.value,
    mishaps: mishap as readonly Mishap[],
    practice: typed.options.practice === true,
  });
}

export const demoCommand: CommandSpec = {
  name: 'demo',
  summary: 'open the bench screen on a virtual bench: simulated hand, caliper, lathe and feed',
  options: [
    ...settingOptions(BENCH_SETTINGS.filter((key) => !OF_REAL_DEVICES.has(key))),
    {
      flags: '--seed <number>',
      about: 'seed of the simulation; another number gives another bore, hand and lathe (1)',
    },
    {
      flags: '--mishap <names...>',
      about: 'what goes wrong in the first job; the learner has to notice, and the record tells at the end',
      choices: MISHAPS,
    },
    { flags: '--practice', about: 'rock virtual jaws with the arrow keys to learn it; nothing is kept' },
  ],
  example: {
    line: 'demo --seed 7 --mishap small-bore tight-trial',
    shows:
      'a bench with everything simulated, where the bore reads small and the lid turns out tight; ? lists the keys, p pauses',
  },
  run,
};
