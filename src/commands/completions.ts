// `lidwright completions`: what a shell may offer where, made from the definitions of every command.
import about from '../../package.json' with { type: 'json' };
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';
import type { Place } from './shell/grammar.ts';

const SHELLS: { readonly [shell in string]?: () => Promise<(root: Place) => string> } = {
  bash: async () => (await import('./shell/bash.ts')).bashScript,
  zsh: async () => (await import('./shell/zsh.ts')).zshScript,
  fish: async () => (await import('./shell/fish.ts')).fishScript,
};

async function run(typed: Typed, output: Output): Promise<ExitCode> {
  const script = await SHELLS[String(typed.args[0])]?.();
  if (!script) {
    output.message(`completions: give ${Object.keys(SHELLS).join(', ')}.`);
    return 2;
  }
  const { COMMANDS } = await import('./all.ts');
  const { HOME_OPTION } = await import('./program.ts');
  const { grammarOf } = await import('./shell/grammar.ts');
  const specs = await Promise.all(COMMANDS.map(({ load }) => load()));
  output.data(script(grammarOf(specs, about.description, [HOME_OPTION])));
  return 0;
}

export const completionsCommand: CommandSpec = {
  name: 'completions',
  summary: 'a script that lets a shell complete commands, options and their values',
  arguments: [{ name: '<shell>', about: 'bash, zsh or fish', choices: Object.keys(SHELLS) }],
  options: [],
  example: {
    line: 'completions bash',
    shows: 'the script; its first lines say how to load it and where to keep it',
  },
  run,
};
