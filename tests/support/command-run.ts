// Runs one command line through the real argument parser in this process: its words are collected, its home is a folder of the test's.
import { vi } from 'vitest';
import type { LazyCommand } from '../../src/commands/command.ts';
import { runProgram } from '../../src/commands/program.ts';

export interface Told {
  readonly code: number;
  /** Lines of stdout, and of stderr. */
  readonly data: readonly string[];
  readonly said: readonly string[];
}

/** A line as printed, in words: only double quotes mean anything. */
export const wordsOf = (line: string): readonly string[] =>
  [...line.matchAll(/"([^"]*)"|(\S+)/g)].map((match) => match[1] ?? match[2] ?? '');

const linesOf = (text: string): readonly string[] => text.split('\n').filter((line) => line !== '');

/** One run; LIDWRIGHT_ variables are those given and no others, and are put back. */
export async function runLine(
  home: string,
  line: string,
  commands: readonly LazyCommand[],
  env: Readonly<Record<string, string>> = {},
): Promise<Told> {
  const before = { ...process.env };
  for (const name of Object.keys(before)) if (name.startsWith('LIDWRIGHT_')) delete process.env[name];
  Object.assign(process.env, { LIDWRIGHT_HOME: home }, env);
  const written = { out: '', err: '' };
  const spies = (['stdout', 'stderr'] as const).map((name) => {
    process[name].setMaxListeners(0);
    return vi.spyOn(process[name], 'write').mockImplementation((text) => {
      written[name === 'stdout' ? 'out' : 'err'] += String(text);
      return true;
    });
  });
  try {
    const code = await runProgram(wordsOf(line), commands);
    return { code, data: linesOf(written.out), said: linesOf(written.err) };
  } finally {
    for (const spy of spies) spy.mockRestore();
    for (const name of Object.keys(process.env)) if (name.startsWith('LIDWRIGHT_')) delete process.env[name];
    Object.assign(process.env, before);
  }
}
