// Bytes into numbered lines, in batches, with a cap on how long a line may be.
import { StringDecoder } from 'node:string_decoder';

/** No row that this program writes comes near it. */
export const LONGEST_LINE = 1024 * 1024;

export interface Line {
  readonly number: number;
  /** Null for a line that was longer than the cap, of which nothing is kept. */
  readonly text: string | null;
}

/** Splits chunks at line feeds (a carriage return before one is dropped); yields the lines of each chunk together. */
export async function* linesOf(
  chunks: AsyncIterable<Uint8Array>,
  longest: number = LONGEST_LINE,
): AsyncGenerator<readonly Line[]> {
  const decoder = new StringDecoder('utf8');
  let rest = '';
  let tooLong = false;
  let number = 0;
  const close = (text: string): Line => {
    const whole = tooLong || text.length > longest ? null : text.replace(/\r$/, '');
    tooLong = false;
    number += 1;
    return { number, text: whole };
  };
  for await (const chunk of chunks) {
    const parts = (rest + decoder.write(Buffer.from(chunk.buffer, chunk.byteOffset, chunk.byteLength))).split(
      '\n',
    );
    rest = parts.pop() ?? '';
    const lines = parts.map(close);
    if (rest.length > longest) {
      tooLong = true;
      rest = '';
    }
    yield lines;
  }
  rest += decoder.end();
  if (rest !== '' || tooLong) yield [close(rest)];
}
