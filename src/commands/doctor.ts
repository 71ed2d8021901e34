// `lidwright doctor`: what keeps the bench from working, and what to do about it.
import type { CommandSpec } from './command.ts';
import { JSON_LINES, settingOptions } from './options.ts';

export const doctorCommand: CommandSpec = {
  name: 'doctor',
  summary: 'check port, permissions, clock, terminal, kit and records, and say what to do',
  options: [
    ...settingOptions(['port', 'baud', 'glyphs']),
    { flags: '--for <seconds>', about: 'how long to listen to the line, in seconds (10)' },
    JSON_LINES,
  ],
  example: {
    line: 'doctor --for 1',
    shows: 'one line for each check: ok, attention or bad, and what to do; exit code 0, 1 or 3 for the worst',
  },
  run: async (typed, output) => (await import('./doctor/examine.ts')).examine(typed, output),
};
