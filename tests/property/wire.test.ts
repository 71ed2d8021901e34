// Laws of the wire: what is encoded is decoded, and nothing that arrives can break it. Damage is in fuzz.test.ts.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { LineEvent } from '../../src/core/bench/event.ts';
import { millis } from '../../src/core/units.ts';
import { crc16OfText } from '../../src/wire/crc.ts';
import { decode } from '../../src/wire/decode.ts';
import { type BoardMessage, encode } from '../../src/wire/encode.ts';
import { TraceReader, traceRow } from '../../src/wire/trace.ts';
import { Watch } from '../../src/wire/watch.ts';

const word = fc.stringMatching(/^[a-z0-9.-]{1,12}$/);
const said: fc.Arbitrary<BoardMessage> = fc.oneof(
  fc.record({
    ...{ kind: fc.constant('HI' as const), firmware: word, board: word },
    parts: fc.array(word, { maxLength: 3 }),
  }),
  fc
    .tuple(fc.stringMatching(/^-?[0-9]{1,3}\.[0-9]{1,4}$/), fc.constantFrom('mm', 'in'))
    .map(([text, unit]) => ({ kind: 'DI' as const, text, unit })),
  fc.record({ kind: fc.constant('FE' as const), total: fc.integer() }),
  fc
    .tuple(fc.constantFrom(1, 2, 3, 4), fc.boolean())
    .map(([button, down]) => ({ kind: 'PB' as const, button, down })),
  fc.record({ kind: fc.constant('FA' as const), code: word }),
);
const line = fc
  .tuple(said, fc.nat(0xffff), fc.nat(0xffffffff))
  .map(([what, seq, ms]) => encode(what, seq, ms));
/** Any bytes at all, each as one character. */
const noise = fc.uint8Array({ maxLength: 300 }).map((bytes) => Buffer.from(bytes).toString('latin1'));
const piece = fc.oneof(
  { weight: 3, arbitrary: line.map((whole) => `${whole}\n`) },
  { weight: 1, arbitrary: noise },
);
const stream = fc.array(piece, { maxLength: 12 }).map((pieces) => pieces.join(''));

function eventsOf(lines: readonly string[]): LineEvent[] {
  const watch = new Watch();
  const events: LineEvent[] = [];
  for (const [index, text] of lines.entries()) watch.push(text, millis(index), (event) => events.push(event));
  return events;
}

test("a caliper's digits become the number nearest to them, and anything else is not a reading", () => {
  const shown = fc.oneof(
    fc.stringMatching(/^[+-]?[0-9]{1,5}\.[0-9]{1,5}$/),
    fc.stringMatching(/^[+-]?[0-9]{1,6}$/),
    fc.stringMatching(/^[+\-.0-9 e]{0,9}$/),
  );
  fc.assert(
    fc.property(shown, (text) => {
      const heard = decode(encode({ kind: 'DI', text, unit: 'mm' }, 1, 1));
      if (/^[+-]?\d{1,5}(\.\d{1,5})?$/.test(text))
        expect(heard).toMatchObject({ kind: 'caliper', text, value: Number(text) });
      else expect(heard).toEqual({ kind: 'discarded', why: 'bad-field' });
    }),
    { numRuns: 500 },
  );
});

test('an encoded line is decoded', () => {
  fc.assert(fc.property(line, (whole) => decode(whole).kind !== 'discarded'));
});

test('noise never becomes a checked message, never throws, and every line of it is counted', () => {
  fc.assert(
    fc.property(stream, (text) => {
      const lines = text.split('\n');
      for (const each of lines) {
        const heard = decode(each);
        if (heard.kind === 'discarded' || heard.kind === 'bare') continue;
        const star = each.length - 5;
        expect(crc16OfText(each.slice(0, star))).toBe(Number.parseInt(each.slice(star + 1), 16));
      }
      expect(eventsOf(lines).length).toBeGreaterThanOrEqual(lines.length);
    }),
  );
});

test('a trace gives back each line byte for byte, at its time', () => {
  const kept = noise.map((text) => text.replaceAll('\n', '').slice(0, 96));
  fc.assert(
    fc.property(fc.array(fc.tuple(fc.nat(5000), kept)), (steps) => {
      let at = 0;
      const expected = steps.map(([by, text]) => {
        at += by;
        return { at: millis(at), line: text };
      });
      const text = expected.map((row) => `${traceRow(row.at, row.line)}\n`).join('');
      expect(text).toMatch(/^[\x20-\x7e\t\n]*$/);
      const reader = new TraceReader();
      expect(text.split('\n').flatMap((row) => reader.read(row) ?? [])).toEqual(expected);
    }),
  );
});
