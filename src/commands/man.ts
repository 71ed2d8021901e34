// `lidwright man`: the manual page, made from the definitions of every command.
import about from '../../package.json' with { type: 'json' };
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';

async function run(_typed: Typed, output: Output): Promise<ExitCode> {
  const { COMMANDS } = await import('./all.ts');
  const { manPage } = await import('./shell/manual.ts');
  const specs = await Promise.all(COMMANDS.map(({ load }) => load()));
  output.data(manPage(specs, { version: about.version, about: about.description }));
  return 0;
}

export const manCommand: CommandSpec = {
  name: 'man',
  summary: 'the manual page, as roff',
  options: [],
  example: { line: 'man', shows: 'the page; `lidwright man > lidwright.1` and `man ./lidwright.1` read it' },
  run,
};
