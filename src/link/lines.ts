// Bytes cut into lines by the serial library's parser, with a cap before it: a line without end cannot fill the memory.
import { ReadlineParser } from '@serialport/parser-readline';
import { LINE_AT_MOST } from '../wire/decode.ts';

const LF = 0x0a;
const LINE_END = Buffer.from('\n');

/**
 * The library's parser, which hands each line on in the turn in which its bytes came, instead of queueing it as a stream
 * does: what comes with a line (its time, the silence it ends) then stays in order, and an empty line counts as one.
 */
class LineParser extends ReadlineParser {
  readonly #line: (text: string) => void;

  constructor(line: (text: string) => void) {
    super({ delimiter: '\n' });
    this.#line = line;
  }

  override push(line: Buffer): boolean {
    this.#line(line.toString('latin1'));
    return true;
  }
}

const withoutReturn = (line: string): string =>
  line.charCodeAt(line.length - 1) === 0x0d ? line.slice(0, -1) : line;

export type LineCutter = ReturnType<typeof createLineCutter>;

/**
 * Cuts lines for as long as one port is open. The parser is never ended, since it would then hand on its tail as a line.
 * @param most bytes in the longest line, without its LF
 */
export function createLineCutter(line: (text: string) => void, most: number = LINE_AT_MOST) {
  const parser = new LineParser((text) =>
    line(text.length > most ? text.slice(0, most + 1) : withoutReturn(text)),
  );
  let held = 0;
  let overlong = false;

  return {
    /**
     * Takes the next bytes, and hands on each line they complete, without its LF or CR LF, each character one byte (latin1).
     * A line over the limit is handed on once, as soon as it is, cut one byte past the limit so that its length shows it.
     */
    take(bytes: Buffer): void {
      const start = overlong ? bytes.indexOf(LF) + 1 : 0;
      if (overlong && start === 0) return;
      const rest = bytes.subarray(start);
      const end = rest.lastIndexOf(LF);
      held = end < 0 ? held + rest.length : rest.length - end - 1;
      overlong = held > most;
      parser.write(overlong ? rest.subarray(0, rest.length - (held - most - 1)) : rest);
      if (!overlong) return;
      parser.write(LINE_END);
      held = 0;
    },
    /** What has come since the last line's end: not a line until its end comes. */
    tail: (): string => parser.buffer.toString('latin1'),
  };
}
