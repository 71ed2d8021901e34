// Where words go (data to stdout, messages to stderr), how a command ends with them, and what happens when they can't be written.
import { once } from 'node:events';
import { forFile } from '../core/safe-text.ts';
import type { ExitCode, Output, Typed } from './command.ts';

const wantsColour = (): boolean =>
  process.stdout.isTTY === true && !process.env.NO_COLOR && process.env.TERM !== 'dumb';

// biome-ignore lint/suspicious/noControlCharactersInRegex: colours of our own begin with one
const OWN_IN_DATA = /(\x1b\[[\d;]*m|[\n\r\t])/;
const OWN_IN_MESSAGES = /(\n)/;

/** The last check of the output: every unsafe character, except our own marks, shows as a readable escape. */
const lastLook = (text: string, own: RegExp): string =>
  text
    .split(own)
    .map((part, at) => (at % 2 === 1 ? part : forFile(part)))
    .join('');

/** Ends the program when stdout can't be written: an incomplete answer is useless. */
function endOn(error: NodeJS.ErrnoException): never {
  if (error.code === 'EPIPE') process.exit(0);
  process.stderr.write(
    `lidwright: the output couldn't be written (${error.code ?? error.message}), so it isn't complete. ` +
      'Your saved jobs are safe. Free some space or write somewhere else, then run it again.\n',
  );
  process.exit(3);
}

export function standardOutput(): Output {
  process.stdout.on('error', endOn);
  process.stderr.on('error', () => process.exit(3));
  return {
    data: (line) => void process.stdout.write(`${lastLook(line, OWN_IN_DATA)}\n`),
    message: (line) => void process.stderr.write(`${lastLook(line, OWN_IN_MESSAGES)}\n`),
    drained: async () => {
      if (process.stdout.writableNeedDrain) await once(process.stdout, 'drain');
    },
    colour: wantsColour(),
    terminal: process.stdout.isTTY === true,
    columns: process.stdout.columns || 80,
  };
}

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
