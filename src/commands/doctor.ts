// `lidwright doctor`: what stands in the way of the bench, and what to do about it.
import { settingOptions } from '../kit/settings.ts';
import type { CommandSpec } from './command.ts';

export const doctorCommand: CommandSpec = {
  name: 'doctor',
  summary: 'checks port, permissions, clock, terminal and records, and says what to do',
  options: [
    ...settingOptions(['port', 'baud', 'glyphs']),
    { flags: '--for <seconds>', about: 'how long to listen to the line (10)' },
    { flags: '--json', about: 'one JSON object a line' },
  ],
  example: {
    line: 'doctor --for 1',
    shows: 'each thing on its own line: ok, attention or bad, and what to do; exits 0, 1 or 3 by the worst',
  },
  run: async (typed, output) => (await import('./doctor/examine.ts')).examine(typed, output),
};
