// Where words go: data to stdout, messages to stderr; a quiet end when the reader has gone, a sentence when the disk is full.
import { once } from 'node:events';
import { forFile } from '../core/safe-text.ts';
import type { Output } from './command.ts';

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
