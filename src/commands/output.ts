// Where words go: data to stdout, messages to stderr, a quiet end when the reader has gone.
import type { Output } from './command.ts';
import { plainly } from './plain.ts';

const wantsColour = (): boolean =>
  process.stdout.isTTY === true && !process.env.NO_COLOR && process.env.TERM !== 'dumb';

export function standardOutput(): Output {
  for (const stream of [process.stdout, process.stderr])
    stream.on('error', (error: NodeJS.ErrnoException) => {
      if (error.code === 'EPIPE') process.exit(0);
      throw error;
    });
  return {
    data: (line) => void process.stdout.write(`${plainly(line)}\n`),
    message: (line) => void process.stderr.write(`${plainly(line)}\n`),
    colour: wantsColour(),
    terminal: process.stdout.isTTY === true,
    columns: process.stdout.columns || 80,
  };
}
