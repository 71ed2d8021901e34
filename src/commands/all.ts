// Every command by name; its module is loaded only when it is called for, so that starting stays quick.
import type { LazyCommand } from './command.ts';

/** The first is what `lidwright` alone does. */
export const COMMANDS: readonly LazyCommand[] = [
  { name: 'bench', load: async () => (await import('./bench.ts')).benchCommand },
  { name: 'demo', load: async () => (await import('./bench.ts')).demoCommand },
  { name: 'ports', load: async () => (await import('./ports.ts')).portsCommand },
  { name: 'fit', load: async () => (await import('./fit.ts')).fitCommand },
  { name: 'season', load: async () => (await import('./season.ts')).seasonCommand },
  { name: 'plan', load: async () => (await import('./plan.ts')).planCommand },
  { name: 'align', load: async () => (await import('./align.ts')).alignCommand },
  { name: 'jobs', load: async () => (await import('./jobs.ts')).jobsCommand },
  { name: 'sheet', load: async () => (await import('./sheet.ts')).sheetCommand },
  { name: 'kit', load: async () => (await import('./kit.ts')).kitCommand },
  { name: 'listen', load: async () => (await import('./listen.ts')).listenCommand },
  { name: 'replay', load: async () => (await import('./replay.ts')).replayCommand },
  { name: 'doctor', load: async () => (await import('./doctor.ts')).doctorCommand },
  { name: 'completions', load: async () => (await import('./completions.ts')).completionsCommand(COMMANDS) },
  { name: 'man', load: async () => (await import('./man.ts')).manCommand(COMMANDS) },
];
