// Every golden line of shared/wire-lines.json: the valid ones say what they should, the refused ones never say a number.
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import type { Discard, LineEvent } from '../../src/core/bench/event.ts';
import { millis } from '../../src/core/units.ts';
import { decode } from '../../src/wire/decode.ts';
import { type BoardMessage, encode, sealed } from '../../src/wire/encode.ts';
import { Watch } from '../../src/wire/watch.ts';

interface Golden {
  readonly good: readonly { body: string; crc: string; from: 'board' | 'elsewhere'; note: string }[];
  readonly refused: readonly { line: string; why: string; note: string }[];
}
const golden: Golden = JSON.parse(
  readFileSync(new URL('../../shared/wire-lines.json', import.meta.url), 'utf8'),
);
const heardOf = (line: string): LineEvent[] => {
  const events: LineEvent[] = [];
  new Watch().push(line, millis(0), (event) => events.push(event));
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
    expect(heardOf(line)).toMatchObject([{ kind: 'line-discarded', why: COUNTED[why] }]);
  });
});

test.each([
  ...['DI,00000000001,5,1.00,mm', 'DI,1,5,1.123456,mm', 'DI,1,5,123456.0,mm'],
  ...['DI,1,5,1.00,mmm', 'DI,1,5,1.00,mx', 'DI,1,5,1.00,ix', 'DI,1,5,1.00,xm', 'DI,1,5,1.00,m'],
  ...['FE,1,5,1e3', 'FE,1,5,5.0', 'FE,1,5,+5', 'FE,1,5,2147483648', 'FE,1,5,'],
  ...['HI,1,5', 'HI,1,5,x1,a,b,c', 'HI,1,5,1x,a,b,c', 'HI,1,5,123456,a,b,c', 'HI,1,5,1,a,b'],
  ...['PB,1,5,1,downs', 'PB,1,5', 'FA,1,5', 'xTE,1,5', 'TEx,1,5', 'LONGERKIN,1,5', '7E,1,5'],
])('a right checksum does not save the fields of %s', (body) => {
  expect(decode(sealed(body))).toEqual({ kind: 'discarded', why: 'bad-field' });
});

test.each([
  ['HI,1,5,12,a,b,c', { kind: 'other-version', version: '12' }],
  ['PB,1,5,1,down,hard', { kind: 'button', button: 1, down: true, more: true }],
  ['HI,1,5,1,a,b,,more', { kind: 'hello', parts: [], more: true }],
  ['FA,1,5,hot,42', { kind: 'fault', code: 'hot', more: true }],
  ['FA,1,5,~', { kind: 'fault', code: '~', more: false }],
  ['DIX,1,5,52.34,mm', { kind: 'unknown' }],
  ['LONGKIND,1,5', { kind: 'unknown' }],
  ['A,1,5', { kind: 'unknown' }],
])('%s is read as %j', (body, expected) => {
  expect(decode(sealed(body))).toMatchObject({ seq: 1, ms: 5, ...expected });
});

test('a checksum of 0000 is a checksum like any other, with a line or without', () => {
  expect(decode('DI,55387,1,5.00,mm*0000')).toMatchObject({ kind: 'caliper', value: 5 });
  expect(decode('DI,55387,1,5.01,mm*0000')).toMatchObject({ why: 'bad-checksum' });
  expect(decode('12.531 mm')).toMatchObject({ kind: 'bare', text: '12.531' }); // its CRC is 0
});

test('no other text of two characters gives the checksum: each digit has one writing', () => {
  const body = 'DI,422,1,5.00,mm'; // its CRC is 5D0F: a digit that borrows or carries would show
  const printable = Array.from({ length: 0x7f - 0x20 }, (_, at) => String.fromCharCode(0x20 + at));
  const accepted = [0, 1, 2]
    .flatMap((at) =>
      printable.flatMap((one) =>
        printable.map((other) => `${'5D0F'.slice(0, at)}${one}${other}${'5D0F'.slice(at + 2)}`),
      ),
    )
    .filter((crc) => decode(`${body}*${crc}`).kind !== 'discarded');
  expect([...new Set(accepted)]).toEqual(['5D0F']);
});

test('any single bit flip of any golden line is never a reading, a count, a button or a board', () => {
  const alarming = new Set(['reading-received', 'feed-counted', 'button-changed', 'board-found']);
  let flips = 0;
  for (const { body, crc } of golden.good) {
    const line = `${body}*${crc}`;
    for (let at = 0; at < line.length; at++)
      for (let bit = 0; bit < 8; bit++) {
        const flipped = String.fromCharCode(line.charCodeAt(at) ^ (1 << bit));
        const watch = new Watch();
        for (const piece of `${line.slice(0, at)}${flipped}${line.slice(at + 1)}`.split('\n'))
          watch.push(piece, millis(0), (event) => {
            if (alarming.has(event.kind)) throw new Error(`${line} flipped at ${at}.${bit}: ${event.kind}`);
          });
        flips++;
      }
  }
  expect(flips).toBe(8 * golden.good.reduce((sum, { body }) => sum + body.length + 5, 0));
});
