// Runs one command line through the real argument parser in this process: its words are collected, its home is a folder of the test's.
import { vi } from 'vitest';
import { COMMANDS } from '../../src/commands/all.ts';
import type { CommandSpec } from '../../src/commands/command.ts';
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

/** The one object of an answer that was asked for with --json. */
export const objectIn = ({ data }: Pick<Told, 'data'>) => JSON.parse(data.join('\n'));

/**
 * One run, on a terminal where `columns` says how wide it is. LIDWRIGHT_ variables are those given and no others, and are put back.
 */
export async function runLine(
  home: string,
  line: string | readonly string[],
  env: Readonly<Record<string, string>> = {},
  columns?: number,
): Promise<Told> {
  const before = { ...process.env };
  for (const name of Object.keys(before)) if (name.startsWith('LIDWRIGHT_')) delete process.env[name];
  Object.assign(process.env, { LIDWRIGHT_HOME: home }, env);
  const written = { stdout: '', stderr: '' };
  const spies = (['stdout', 'stderr'] as const).map((name) => {
    process[name].setMaxListeners(0);
    return vi.spyOn(process[name], 'write').mockImplementation((text) => {
      written[name] += String(text);
      return true;
    });
  });
  const terminal = { isTTY: process.stdout.isTTY, columns: process.stdout.columns };
  Object.assign(process.stdout, { isTTY: columns !== undefined, columns });
  try {
    const code = await runProgram(typeof line === 'string' ? wordsOf(line) : line, COMMANDS);
    return { code, data: linesOf(written.stdout), said: linesOf(written.stderr) };
  } finally {
    for (const spy of spies) spy.mockRestore();
    Object.assign(process.stdout, terminal);
    for (const name of Object.keys(process.env)) if (name.startsWith('LIDWRIGHT_')) delete process.env[name];
    Object.assign(process.env, before);
  }
}

/** A command and its subcommands. */
export const withSubs = (spec: CommandSpec): readonly CommandSpec[] => [
  spec,
  ...(spec.sub ?? []).flatMap(withSubs),
];

/** Every command and its subcommands. */
export const everyCommand = async (): Promise<readonly CommandSpec[]> =>
  (await Promise.all(COMMANDS.map(({ load }) => load()))).flatMap(withSubs);
