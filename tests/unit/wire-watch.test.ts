// What the watch says of each line: readings, counts, another version, bare numbers, silence; and nothing that was not sent.
import { describe, expect, test } from 'vitest';
import type { LineEvent } from '../../src/core/bench/event.ts';
import { type LengthUnit, millis } from '../../src/core/units.ts';
import { type BoardMessage, encode, sealed } from '../../src/wire/encode.ts';
import { Watch } from '../../src/wire/watch.ts';
import { fastChanceFrom } from '../support/chance.ts';

/** A watch that hears lines of a board that counts correctly, 125 ms apart, or any text at a stated time. */
function watching(bareUnit?: LengthUnit) {
  const watch = new Watch(bareUnit);
  let seq = 0;
  let host = 0;
  const gather = (feed: (emit: (event: LineEvent) => void) => void): LineEvent[] => {
    const events: LineEvent[] = [];
    feed((event) => events.push(event));
    return events;
  };
  const hear = (line: string, at?: number): LineEvent[] => {
    host = at ?? host + 125;
    return gather((emit) => watch.push(line, millis(host), emit));
  };
  const say = (said: BoardMessage): LineEvent[] => hear(encode(said, seq++, host + 1125));
  const tick = (at: number): LineEvent[] => gather((emit) => watch.tick(millis(at), emit));
  const tail = (text: string): LineEvent[] => gather((emit) => watch.unfinished(text, millis(host), emit));
  return { hear, say, tick, tail };
}
const kinds = (events: readonly LineEvent[]): string[] => events.map((event) => event.kind);
const hello: BoardMessage = { kind: 'HI', firmware: '1.0.0', board: 'elm-1', parts: ['caliper', 'feed'] };
const shown: BoardMessage = { kind: 'DI', text: '42.30', unit: 'mm' };

describe('lines from a board', () => {
  test('a reading carries value, unit, step, digits, both times and the line', () => {
    const { hear } = watching();
    expect(hear('DI,3,370,2.0605,in*36A9', 1000)).toEqual([
      { kind: 'line-speaking', heardAt: 1000 },
      {
        kind: 'reading-received',
        reading: { value: 2.0605 * 25.4, unit: 'in', step: 0.0005 * 25.4, text: '2.0605', at: 370 },
        checked: true,
        raw: 'DI,3,370,2.0605,in*36A9',
        heardAt: 1000,
      },
    ]);
  });

  test('a board, a feed count, a button and a fault are one event each', () => {
    const { say } = watching();
    expect(say(hello).at(-1)).toMatchObject({
      kind: 'board-found',
      facts: { board: 'elm-1', firmware: '1.0.0', parts: ['caliper', 'feed'] },
    });
    expect(say({ kind: 'FE', total: -3 })).toMatchObject([{ kind: 'feed-counted', total: -3 }]);
    for (const pressed of [{ button: 4, down: true } as const, { button: 4, down: false } as const])
      expect(say({ kind: 'PB', ...pressed })).toMatchObject([{ kind: 'button-changed', ...pressed }]);
    expect(say({ ...hello, parts: [] })).toMatchObject([{ kind: 'board-found', facts: { parts: [] } }]);
    expect(say({ kind: 'FA', code: 'caliper-silent' })).toMatchObject([
      { kind: 'board-fault', code: 'caliper-silent' },
    ]);
    expect(kinds(say({ kind: 'FA', code: 'feed-overrun' }))).toEqual(['feed-overran']);
  });

  test('a line with more than is known is read as far as it is known, and counted', () => {
    const { hear, say } = watching();
    say(hello);
    expect(kinds(hear(sealed('DI,1,1200,42.30,mm,raw')))).toEqual(['reading-received', 'line-unknown']);
    expect(kinds(hear(sealed('TE,2,1300,21.5')))).toEqual(['line-unknown']);
    expect(kinds(hear(sealed('FA,3,1400,lamp-out')))).toEqual(['board-fault', 'line-unknown']);
    expect(kinds(hear(sealed('FA,4,1500,lamp-out,2')))).toEqual(['board-fault', 'line-unknown']);
    expect(kinds(hear(sealed('PB,5,1600,1,down,long')))).toEqual(['button-changed', 'line-unknown']);
    expect(kinds(hear(sealed('HI,6,1700,1,1.0.0,elm-1,caliper,extra')))).toEqual([
      'board-found',
      'line-unknown',
    ]);
  });

  test('a restart and lost lines come before the line that showed them', () => {
    const { hear } = watching();
    hear(sealed('FE,700,90000,4'));
    expect(kinds(hear(sealed('DI,703,90375,42.30,mm')))).toEqual(['lines-lost', 'reading-received']);
    expect(kinds(hear(sealed('HI,0,3,1,1.0.0,elm-1,caliper')))).toEqual(['board-restarted', 'board-found']);
  });
});

describe('another protocol version', () => {
  test('is reported with both versions, and nothing is a measurement until a HI with version 1', () => {
    const { say } = watching();
    say(hello);
    expect(say({ ...hello, version: '2' })).toMatchObject([
      { kind: 'version-refused', theirs: '2', ours: '1' },
    ]);
    for (const said of [shown, { kind: 'FE', total: 1 }, { kind: 'PB', button: 1, down: true }] as const)
      expect(say(said)).toMatchObject([{ kind: 'line-discarded', why: 'wrong-version' }]);
    expect(kinds(say(hello))).toEqual(['board-found']);
    expect(kinds(say(shown))).toEqual(['reading-received']);
  });
  test('a restart of such a board is still noticed', () => {
    const { hear } = watching();
    hear(sealed('HI,9,9000,2,9.0,elm-1,caliper'));
    expect(kinds(hear(sealed('HI,0,3,2,9.0,elm-1,caliper')))).toEqual(['board-restarted', 'version-refused']);
  });
});

describe('a board that only prints numbers', () => {
  test.each([
    ['52.34', 52.34, 'mm', '52.34'],
    ['+52.34 mm', 52.34, 'mm', '+52.34'],
    [' -0.5  MM ', -0.5, 'mm', '-0.5'],
    ['2.0605in', 2.0605 * 25.4, 'in', '2.0605'],
    ['2.0605 IN', 2.0605 * 25.4, 'in', '2.0605'],
    ['12345.12345"', 12345.12345 * 25.4, 'in', '12345.12345'],
    ['7mm', 7, 'mm', '7'],
  ])('%j is read', (line, value, unit, text) => {
    const reading = { value, unit, text, at: 500 };
    expect(watching().hear(line, 500).at(-1)).toMatchObject({ checked: false, reading });
  });
  test('a number without a unit is in the unit set', () => {
    expect(watching('in').hear('2.5').at(-1)).toMatchObject({ reading: { unit: 'in', value: 63.5 } });
    expect(watching('in').hear('2.5mm').at(-1)).toMatchObject({ reading: { unit: 'mm', value: 2.5 } });
  });
  test.each([
    ...[
      '5234',
      '52',
      '',
      ' ',
      '-',
      '.',
      '5.',
      '.5',
      '--5.2',
      '5e1',
      '52,34',
      '1.2.3',
      '5 2.34',
      'NaN',
      '0x1.5',
    ],
    ...['123456.0', '1.123456', '52.34 cm', '5 m', '5 mm mm', '5.2 x', 'x5.2', '5.2 mmx'],
  ])('%j is not a number', (line) => {
    expect(watching().hear(line)).toMatchObject([{ kind: 'line-discarded', why: 'not-a-line' }]);
  });
  test('is not accepted once anything looked like the checked protocol, even a damaged line', () => {
    const lines = [sealed('DI,1,120,52.34,mm'), 'DI,1,120,52.34,mm*0000', 'DI,1,120,52', '4,mm*E493'];
    for (const spoken of lines) {
      const { hear } = watching();
      hear(spoken);
      expect(hear('52.34')).toMatchObject([{ kind: 'line-discarded', why: 'not-a-line' }]);
    }
  });
  test("is accepted after a banner that isn't a bench line", () => {
    const { hear } = watching();
    expect(kinds(hear('*** Caliper reader ***'))).toEqual(['line-discarded']);
    expect(kinds(hear('reader of DI,1 lines'))).toEqual(['line-discarded']);
    expect(kinds(hear('52.34'))).toEqual(['line-speaking', 'reading-received']);
  });
});

type Line = readonly [seq: number, ms: number, host: number, kind?: 'HI'];

/** What comes of the last of these lines. */
function told(...lines: readonly Line[]) {
  const { hear } = watching();
  const events = lines.flatMap(([seq, ms, host, kind], at) => {
    const said = hear(sealed(kind ? `HI,${seq},${ms},1,1,elm-1,` : `DI,${seq},${ms},42.30,mm`), host);
    return at === lines.length - 1 ? said : [];
  });
  const lost = events.find((event) => event.kind === 'lines-lost');
  const reading = events.find((event) => event.kind === 'reading-received')?.reading;
  const { at } = reading ?? events.find((event) => event.kind === 'board-found') ?? {};
  return { lost: lost?.count ?? 0, restarted: kinds(events).includes('board-restarted'), at };
}

describe('the counts of a board', () => {
  test.each<[story: string, first: Line, second: Line, lost: number, at?: number]>([
    ['lines lost over the wrap of SEQ', [65534, 100, 0], [2, 600, 480], 3, 600],
    ['half of all SEQ less one, even in a HI', [0, 0, 0], [32_767, 9000, 9000, 'HI'], 32_766],
    ['as many lines lost as milliseconds ran', [0, 0, 0], [40_001, 40_000, 40_000], 40_000],
    ['two lines in one millisecond', [7, 100, 0], [8, 100, 0], 0],
    ['MS wraps, and time runs on', [7, 4294967295, 0], [8, 99, 100], 0, 4294967395],
    ['MS wraps, ten seconds ahead of the host', [7, 4294967295, 0], [8, 10_000, 1], 0],
    ['ten seconds behind the host, no more', [7, 100, 0], [8, 200, 10_100], 0],
    ['half a minute behind the host, but 2 %', [7, 100, 0], [8, 1_470_100, 1_500_000], 0],
    ['two minutes, and five seconds behind', [7, 100, 0], [8, 115_100, 120_000], 0],
    ['a silence so long that MS went all the way round', [7, 100, 0], [8, 200, 2 ** 32 + 100], 0],
  ])('%s: it runs on', (_, first, second, lost, at = expect.any(Number)) => {
    expect(told(first, second)).toEqual({ lost, restarted: false, at });
  });

  test.each<[story: string, first: Line, second: Line, lost: number, at?: number]>([
    ['a HI with both counts back', [700, 90_000, 0], [0, 3, 900, 'HI'], 0, 90_900],
    ['a HI whose SEQ went back while MS did not', [700, 100, 0], [2, 70_000, 70_000, 'HI'], 2],
    ['SEQ went back with too little time to have gone round', [700, 100, 0], [40, 5000, 4900], 40],
    ['SEQ went back by half of all in a HI', [0, 0, 0], [32_768, 9000, 9000, 'HI'], 32_768],
    ['the same SEQ with a later MS', [7, 5000, 0], [7, 5125, 125], 7],
    ['MS back by a little', [7, 5000, 0], [8, 4999, 125], 8],
    ['MS wraps too far ahead of the host', [7, 4294967295, 0], [8, 10_001, 1], 8],
    ['a millisecond more than ten seconds behind', [7, 100, 0], [8, 200, 10_101], 8],
    ['both counts went on, but it ran ten seconds too few', [20, 12_000, 0], [90, 14_000, 20_000], 90],
    ['the first line of a second start, late enough to be one', [0, 3, 0, 'HI'], [0, 3, 3, 'HI'], 0],
  ])('%s: it restarted', (_, first, second, lost, at = expect.any(Number)) => {
    expect(told(first, second)).toEqual({ lost, restarted: true, at });
  });

  test('after a restart time goes on by what the host measured', () => {
    expect(told([9, 50_000, 1000], [0, 10, 1700], [1, 135, 1825])).toMatchObject({ lost: 0, at: 50_825 });
  });
  test('a repeated line is dropped and counted, and changes nothing for the line after it', () => {
    const { hear } = watching();
    const line = sealed('PB,7,5000,1,down');
    hear(line, 0);
    expect(hear(line, 20)).toMatchObject([{ kind: 'line-discarded', why: 'repeated' }]);
    expect(hear(sealed('DI,8,5125,42.30,mm'), 125)).toMatchObject([{ reading: { at: 5125 } }]);
  });
  test('time never goes back, whatever the counts do', () => {
    const { hear } = watching();
    const chance = fastChanceFrom(1);
    let before = 0;
    for (let host = 0; host < 600_000; host += chance.below(300))
      for (const event of hear(encode(shown, chance.below(2 ** 16), chance.below(2 ** 32)), host)) {
        if (event.kind !== 'reading-received') continue;
        expect(event.reading.at).toBeGreaterThanOrEqual(before);
        before = event.reading.at;
      }
    expect(before).toBeGreaterThan(0);
  });
});

describe('silence', () => {
  test('is reported once, dated two seconds after the last valid line, and ends with the next', () => {
    const { hear, tick } = watching();
    hear(sealed('DI,1,120,42.30,mm'), 1000);
    expect(tick(2999)).toEqual([]);
    expect(tick(3210)).toEqual([{ kind: 'line-silent', heardAt: 3000 }]);
    expect(tick(9000)).toEqual([]);
    expect(kinds(hear(sealed('DI,2,8245,42.30,mm'), 9100))).toEqual(['line-speaking', 'reading-received']);
    expect(tick(11_100)).toEqual([{ kind: 'line-silent', heardAt: 11_100 }]);
  });
  test('is the same when only the next line shows it, as in a replay', () => {
    const { hear } = watching();
    hear(sealed('DI,1,120,42.30,mm'), 1000);
    expect(hear(sealed('DI,2,8245,42.30,mm'), 9100).slice(0, 2)).toEqual([
      { kind: 'line-silent', heardAt: 3000 },
      { kind: 'line-speaking', heardAt: 9100 },
    ]);
  });
  test('is not ended by noise, and begins on a line that never spoke too', () => {
    const { hear, tick } = watching();
    expect(tick(100)).toEqual([]);
    expect(kinds(hear('gibberish', 1500))).toEqual(['line-discarded']);
    expect(tick(2100)).toEqual([{ kind: 'line-silent', heardAt: 2100 }]);
  });
});

describe('dropped lines', () => {
  test('is shown without escape sequences, control bytes or line ends', () => {
    const { hear } = watching();
    const [event] = hear('\x1b[2J\x1b]0;title\x07 \x9b31m \x00\x7f');
    expect(event).toMatchObject({ kind: 'line-discarded', why: 'bad-byte', raw: '?[2J?]0;title? ?31m ??' });
  });
  test('a tail without an end is counted, an empty one is not', () => {
    const { tail } = watching();
    expect(tail('DI,1,120,52.34,mm*E493')).toMatchObject([{ kind: 'line-discarded', why: 'unfinished' }]);
    expect(tail('')).toEqual([]);
  });
});
