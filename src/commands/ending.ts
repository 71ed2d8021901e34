// How a command ends: with its answer as JSON or in words, or with sentences that say why not, and the exit code.
import type { ExitCode, Output, Typed } from './command.ts';

/** The answer in the form that was asked for. */
export function answer({ options }: Typed, output: Output, json: object, lines: readonly string[]): ExitCode {
  for (const line of options.json === true ? [JSON.stringify(json)] : lines) output.data(line);
  return 0;
}

/** Says why there's no answer, a sentence a line. */
export function endWith(output: Output, code: ExitCode, ...sentences: readonly string[]): ExitCode {
  for (const sentence of sentences) output.message(sentence);
  return code;
}

/** Wrong use: every error on its own line, then where help is. */
export const wrongUse = (command: string, errors: readonly string[], output: Output): ExitCode =>
  endWith(
    output,
    2,
    ...errors,
    `Nothing was done. \`lidwright ${command} --help\` shows what is accepted, with an example.`,
  );
