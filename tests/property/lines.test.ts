// Bytes cut into lines: wherever the pieces fall, the same lines as a reading of the whole, none too long, none without its end.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { createLineCutter } from '../../src/link/lines.ts';
import { encode } from '../../src/wire/encode.ts';

const MOST = 95;

interface Cut {
  readonly lines: readonly string[];
  readonly tail: string;
}

/** What the lines of a text are, in the fewest words. */
function model(text: string): Cut {
  const pieces = text.split('\n');
  const tail = pieces.pop() ?? '';
  const lines = pieces.map((piece) =>
    piece.length > MOST ? piece.slice(0, MOST + 1) : piece.replace(/\r$/, ''),
  );
  return tail.length > MOST ? { lines: [...lines, tail.slice(0, MOST + 1)], tail: '' } : { lines, tail };
}

function cut(pieces: readonly string[]): Cut {
  const lines: string[] = [];
  const cutter = createLineCutter((line) => lines.push(line));
  for (const piece of pieces) cutter.take(Buffer.from(piece, 'latin1'));
  return { lines, tail: cutter.tail() };
}

/** Bytes of few kinds, so that ends, returns and lines about as long as the limit are frequent. */
const piece = fc.oneof(
  { weight: 5, arbitrary: fc.constantFrom('a', '1', ',') },
  { weight: 3, arbitrary: fc.constantFrom('\n', '\r', '\r\n') },
  { weight: 1, arbitrary: fc.nat(255).map((code) => String.fromCharCode(code)) },
  { weight: 1, arbitrary: fc.integer({ min: 85, max: 110 }).map((count) => 'x'.repeat(count)) },
);
const bytes = fc.array(piece, { maxLength: 60 }).map((parts) => parts.join(''));

const cutAt = (text: string, places: readonly number[]): string[] => {
  const cuts = [0, ...places.map((place) => place % (text.length + 1)).sort((a, b) => a - b), text.length];
  return cuts.slice(1).map((end, index) => text.slice(cuts[index], end));
};

test('any bytes in any pieces give the lines of the whole, and keep its tail', () => {
  fc.assert(
    fc.property(bytes, fc.array(fc.nat(), { maxLength: 12 }), (text, places) => {
      expect(cut(cutAt(text, places))).toEqual(model(text));
      expect(cut([...text])).toEqual(model(text));
    }),
    { numRuns: 1000 },
  );
});

test('a line is handed on before its bytes are done with, and a line over the limit as soon as it is over', () => {
  const full = 'x'.repeat(MOST);
  const lines: string[] = [];
  const cutter = createLineCutter((line) => lines.push(line));
  const take = (piece: string): readonly string[] => {
    cutter.take(Buffer.from(piece, 'latin1'));
    return lines.splice(0);
  };
  expect(take('ab\n\ncd\r\n')).toEqual(['ab', '', 'cd']);
  expect(take(full)).toEqual([]);
  expect(take('\r\n')).toEqual([`${full}\r`]);
  expect(take(`${full}x`)).toEqual([`${full}x`]);
  expect(take('xx')).toEqual([]);
  expect(take('x\nnext\n')).toEqual(['next']);
});

test('a line that never ends is handed on once and held in no more than its limit, and the next line is read', () => {
  const lines: string[] = [];
  const cutter = createLineCutter((line) => lines.push(line));
  const endless = Buffer.alloc(60_000, 'x');
  for (let piece = 0; piece < 100; piece++) {
    cutter.take(endless);
    expect(cutter.tail().length).toBeLessThanOrEqual(MOST);
  }
  const good = encode({ kind: 'FE', total: 1 }, 1, 1);
  cutter.take(Buffer.from(`\n${good}\n12`));
  expect(lines).toEqual(['x'.repeat(MOST + 1), good]);
  expect(cutter.tail()).toBe('12');
});
