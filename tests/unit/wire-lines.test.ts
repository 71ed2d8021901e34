// Every golden line of shared/wire-lines.json: the valid ones say what they should, the refused ones never say a number.
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import type { Discard, LineEvent } from '../../src/core/bench/event.ts';
import { millis } from '../../src/core/units.ts';
import { decode } from '../../src/wire/decode.ts';
import { type BoardMessage, encode, sealed } from '../../src/wire/encode.ts';
import { createWatch } from '../../src/wire/watch.ts';

interface Golden {
  readonly good: readonly { body: string; crc: string; from: 'board' | 'elsewhere'; note: string }[];
  readonly refused: readonly { line: string; why: string; note: string }[];
}
const golden: Golden = JSON.parse(
  readFileSync(new URL('../../shared/wire-lines.json', import.meta.url), 'utf8'),
);
const heardOf = (line: string): LineEvent[] => {
  const events: LineEvent[] = [];
  createWatch().push(line, millis(0), (event) => events.push(event));
  return events;
};

/** The golden file names reasons by what a reader sees; the program by what it counts. */
const COUNTED: Readonly<Record<string, Discard>> = {
  'wrong-crc': 'bad-checksum',
  'no-crc': 'not-a-line',
  'too-long': 'too-long',
  'bad-byte': 'bad-byte',
  'bad-field': 'bad-field',
};

/** What the body says, read here in the plainest way there is: by splitting at commas. */
function said(body: string): { said: BoardMessage; seq: number; ms: number } {
  const [kind = '', seq, ms, a = '', b = '', c = '', d = ''] = body.split(',');
  const numbers = { seq: Number(seq), ms: Number(ms) };
  if (kind === 'HI')
    return { said: { kind, version: a, firmware: b, board: c, parts: d.split('+') }, ...numbers };
  if (kind === 'DI') return { said: { kind, text: a, unit: b === 'in' ? 'in' : 'mm' }, ...numbers };
  if (kind === 'FE') return { said: { kind, total: Number(a) }, ...numbers };
  if (kind === 'PB') {
    const button = ([1, 2, 3, 4] as const).find((each) => `${each}` === a);
    if (!button) throw new Error(`no button in ${body}`);
    return { said: { kind, button, down: b === 'down' }, ...numbers };
  }
  if (kind === 'FA') return { said: { kind, code: a }, ...numbers };
  throw new Error(`no board says ${body}`);
}

describe('golden lines that are valid', () => {
  test.each(golden.good)('$body ($note)', ({ body, crc, from }) => {
    expect(sealed(body)).toBe(`${body}*${crc}`);
    const [kind = '', seq, ms, first = ''] = body.split(',');
    const heard = decode(`${body}*${crc}`);
    expect(heard).toMatchObject({ seq: Number(seq), ms: Number(ms) });
    const events = heardOf(`${body}*${crc}`);
    const known = { DI: 'reading-received', FE: 'feed-counted', PB: 'button-changed' }[kind];
    if (known) expect(events[1]?.kind).toBe(known);
    if (events[1]?.kind === 'reading-received') expect(events[1].reading.text).toBe(first);
    if (events[1]?.kind === 'feed-counted') expect(events[1].total).toBe(Number(first));
    expect(events.some((event) => event.kind === 'line-discarded')).toBe(false);
    const strange = from === 'elsewhere' && kind !== 'HI';
    expect(events.some((event) => event.kind === 'line-unknown')).toBe(strange);
  });

  const fromBoard = golden.good.filter((line) => line.from === 'board');
  test.each(fromBoard)('$body is written the same here', ({ body, crc }) => {
    const line = said(body);
    expect(encode(line.said, line.seq, line.ms)).toBe(`${body}*${crc}`);
  });
});

describe('golden lines that are refused', () => {
  test.each(golden.refused)('$why: $note', ({ line, why }) => {
    const heard: LineEvent[] = [];
    const watch = createWatch();
    watch.push(line, millis(0), (event) => heard.push(event));
    expect(heard.map((event) => event.kind)).toEqual(['line-discarded']);
    expect(heard[0]).toMatchObject({ why: COUNTED[why] });
  });
});

test('any single bit flip of any golden line is never a reading, a count, a button or a board', () => {
  const alarming = new Set(['reading-received', 'feed-counted', 'button-changed', 'board-found']);
  let flips = 0;
  for (const { body, crc } of golden.good) {
    const line = `${body}*${crc}`;
    for (let at = 0; at < line.length; at++)
      for (let bit = 0; bit < 8; bit++) {
        const flipped = String.fromCharCode(line.charCodeAt(at) ^ (1 << bit));
        const watch = createWatch();
        for (const piece of `${line.slice(0, at)}${flipped}${line.slice(at + 1)}`.split('\n'))
          watch.push(piece, millis(0), (event) => {
            if (alarming.has(event.kind)) throw new Error(`${line} flipped at ${at}.${bit}: ${event.kind}`);
          });
        flips++;
      }
  }
  expect(flips).toBe(8 * golden.good.reduce((sum, { body }) => sum + body.length + 5, 0));
});

test('any cut of any golden line, at either end, is never a reading', () => {
  for (const { body, crc } of golden.good) {
    const line = `${body}*${crc}`;
    for (let at = 1; at < line.length; at++)
      for (const piece of [line.slice(0, at), line.slice(at)])
        expect(heardOf(piece).filter((event) => event.kind !== 'line-discarded')).toEqual([]);
  }
});
