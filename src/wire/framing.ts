// Bytes cut into lines. Knows no port; chunks may split anywhere, and what has no end is never a line.

/** Bytes in the longest line, without its LF. */
export const LINE_AT_MOST = 95;

export interface Framer {
  /**
   * Takes the next bytes, as text in which each character is one byte (latin1), and hands on each line they complete
   * without its LF or CR LF. A line over the limit is handed on once, cut one byte past the limit so that it can be told
   * by its length; the rest of it is dropped.
   */
  push(bytes: string, line: (text: string) => void): void;
  /** The stream has ended: gives the unfinished tail, which is not a line, and forgets it. */
  end(): string;
}

const withoutReturn = (text: string): string =>
  text.charCodeAt(text.length - 1) === 0x0d ? text.slice(0, -1) : text;

export function createFramer(): Framer {
  let tail = '';
  let overlong = false;

  const keepTail = (rest: string, line: (text: string) => void): void => {
    if (overlong) return;
    tail += rest;
    if (tail.length <= LINE_AT_MOST) return;
    line(tail.slice(0, LINE_AT_MOST + 1));
    overlong = true;
    tail = '';
  };

  const finish = (piece: string, line: (text: string) => void): void => {
    if (overlong) {
      overlong = false;
      return;
    }
    const whole = tail === '' ? piece : tail + piece;
    tail = '';
    line(whole.length > LINE_AT_MOST ? whole.slice(0, LINE_AT_MOST + 1) : withoutReturn(whole));
  };

  return {
    push(bytes, line) {
      let start = 0;
      for (let end = bytes.indexOf('\n'); end !== -1; end = bytes.indexOf('\n', start)) {
        finish(bytes.slice(start, end), line);
        start = end + 1;
      }
      if (start < bytes.length) keepTail(bytes.slice(start), line);
    },
    end() {
      const rest = tail;
      tail = '';
      overlong = false;
      return rest;
    },
  };
}
