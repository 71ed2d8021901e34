// The line at the bench: what each event does to its health, its rate, when a reading is stale, and what is said of it.
import { describe, expect, test } from 'vitest';
import { type Devices, joinLine } from '../../src/commands/bench/line.ts';
import type { BenchEvent, LineEvent, LinkEvent } from '../../src/core/bench/event.ts';
import { isFromLine, isStale, lineAfter, quietLine, rateOf } from '../../src/core/bench/line.ts';
import type { LineHealth, Live } from '../../src/core/bench/state.ts';
import { millis, mm } from '../../src/core/units.ts';
import { hostClock, type Link } from '../../src/link/link.ts';
import { noticeWords } from '../../src/screen/words.ts';
import { encode } from '../../src/wire/encode.ts';
import { played } from '../support/bench.ts';
import { shownText } from '../support/shown.tsx';

const heardAt = millis(1000);
const reading = { value: mm(42), unit: 'mm', step: mm(0.01), text: '42.00', at: millis(0) } as const;
const read = (at: number, checked = true): LineEvent => ({
  kind: 'reading-received',
  reading,
  checked,
  raw: 'DI',
  heardAt: millis(at),
});
const since = (...events: readonly (LineEvent | LinkEvent)[]): LineHealth =>
  events.reduce(lineAfter, quietLine);
const facts = { board: 'b', firmware: '1', parts: [] };
const [port, versionRefused] = ['q', null];

test.each<[LineEvent | LinkEvent, Partial<LineHealth>]>([
  [read(1000), { checked: true, silent: false, recent: [heardAt] }],
  [read(1000, false), { checked: false, silent: false, recent: [heardAt] }],
  [{ kind: 'feed-counted', total: 3, at: heardAt, raw: 'FE', heardAt }, { silent: false }],
  [
    { kind: 'board-found', facts, at: heardAt, heardAt },
    { board: facts, checked: true, silent: false, versionRefused },
  ],
  [{ kind: 'board-restarted', heardAt }, { restarts: 2 }],
  [{ kind: 'lines-lost', count: 3, heardAt }, { lost: 8 }],
  [{ kind: 'line-discarded', why: 'bad-checksum', raw: 'x', heardAt }, { damaged: 2 }],
  [{ kind: 'line-unknown', raw: 'x', heardAt }, { unknown: 2 }],
  [
    { kind: 'version-refused', theirs: '2', ours: '1', heardAt },
    { versionRefused: { theirs: '2', ours: '1' } },
  ],
  [{ kind: 'line-silent', heardAt }, { silent: true }],
  [{ kind: 'line-speaking', heardAt }, { silent: false }],
  [
    { kind: 'link-opened', port, heardAt },
    { port, open: true, trouble: null },
  ],
  [
    { kind: 'link-lost', port, why: 'gone', heardAt },
    { port, open: false, trouble: 'gone', versionRefused },
  ],
  [
    { kind: 'link-refused', port, why: 'busy', heardAt },
    { port, open: false, trouble: 'busy', versionRefused },
  ],
  [{ kind: 'button-changed', button: 1, down: true, heardAt }, {}],
  [{ kind: 'feed-overran', heardAt }, {}],
  [{ kind: 'board-fault', code: 'caliper-frame', heardAt }, {}],
])('$kind changes its own and nothing else', (event, changed) => {
  const counts = { restarts: 1, lost: 5, damaged: 1, unknown: 1 };
  const refused = { theirs: '9', ours: '1' };
  const before: LineHealth = {
    ...quietLine,
    ...counts,
    silent: true,
    trouble: 'old',
    versionRefused: refused,
  };
  expect(lineAfter(before, event)).toEqual({ ...before, ...changed });
  expect(isFromLine(event)).toBe(true);
});

test('a tick and a key are not from the line', () => {
  expect(isFromLine({ kind: 'ticked', now: heardAt, wall: 0 })).toBe(false);
  expect(isFromLine({ kind: 'escaped' })).toBe(false);
});

test('the rate is of the last two seconds, and fifty readings are remembered', () => {
  const line = since(...[0, 1000, 1100, 1200, 1300].map((at) => read(at)));
  for (const [now, rate] of [
    [2500, 10],
    [1900, 4000 / 1300],
    [3250, 0],
    [9000, 0],
  ] as const)
    expect(rateOf(line, now)).toBeCloseTo(rate, 9);
  expect([rateOf(quietLine, 0), rateOf(since(read(5), read(5)), 6)]).toEqual([0, 0]);
  const { recent } = since(...Array.from({ length: 80 }, (_, at) => read(at)));
  expect([recent.length, recent.at(-1)]).toEqual([50, 79]);
});

test('a reading is stale after two seconds, in silence, and when its port is gone', () => {
  const live: Live = { reading, raw: 'DI', heardAt };
  const open = since({ kind: 'link-opened', port, heardAt });
  const stale = (line: LineHealth, now: number, of: Live | null = live) =>
    isStale({ line, live: of, now: millis(now) });
  expect([stale(open, 3000), stale(open, 3001)]).toEqual([false, true]);
  expect([stale({ ...open, silent: true }, 1000), stale({ ...open, open: false }, 1000)]).toEqual([
    true,
    true,
  ]);
  expect([stale(quietLine, 1000), stale({ ...open, silent: true }, 9000, null)]).toEqual([false, false]);
});

describe('what is said of it', () => {
  const fault = (code: string) => ({ kind: 'board-fault', code, heardAt }) as const;

  test.each([
    ['@bore-size', true],
    ['@spigot', true],
    ['@bore-thread', false],
    ['@trial', false],
  ])('at %s a silent line sounds: %s', (stage, sounds) => {
    const { bench, sounds: heard } = played(`${stage} silent`);
    expect(heard.includes('link-lost')).toBe(sounds);
    if (sounds) expect(bench.cue).toMatchObject({ cue: 'link-lost', at: bench.now });
  });

  test.each([
    ['caliper-noise', 'Move the lead away'],
    ['caliper-data', 'data lead is open'],
    ['feed-windows', 'Mount them closer'],
  ])('%s is shown with what to do, but never over a plain question', (code, words) => {
    const { notice } = played('').do(fault(code)).bench;
    expect(notice && noticeWords(notice, 'mm')).toContain(words);
    expect(played('=5').do(fault(code)).asked?.kind).toBe('odd-size');
  });

  test('a code that nobody at the bench can mend is not', () => {
    expect(played('').do(fault('caliper-frame')).bench.notice?.kind).not.toBe('board-fault');
  });

  test('the same board announced again changes nothing', () => {
    const table = played('board 42x1 board');
    expect([table.bench.live?.reading.value, table.sounds]).toEqual([42, []]);
  });

  test('a press counts when the button goes down, and there are four', () => {
    const press = (button: number, down: boolean) =>
      played('').do({ kind: 'button-changed', button, down, heardAt } as BenchEvent).entries.length;
    expect([press(3, true), press(3, false), press(5, true), press(0, true)]).toEqual([2, 1, 1, 1]);
  });

  test('another version is said however much there is to count, at 60 columns too, and then that it is unplugged', () => {
    const table = played('open restart').do({ kind: 'lines-lost', count: 32, heardAt });
    for (let count = 0; count < 31_234; count++)
      table.do({ kind: 'line-discarded', why: 'bad-checksum', raw: '', heardAt });
    table.do({ kind: 'line-unknown', raw: '', heardAt });
    table.do({ kind: 'version-refused', theirs: '2', ours: '1', heardAt });
    for (const columns of [60, 80]) {
      const [top] = shownText(table.bench, { columns, rows: 20 });
      for (const said of ['board speaks version 2, not 1', '31268 faults', 'pear b'])
        expect(top).toContain(said);
    }
    expect(shownText(table.play('lost').bench)[0]).toContain('unplugged');
  });
});

describe('where it is joined to the bench', () => {
  /** What the bench hears of these lines. */
  function heardOf(lines: readonly string[], devices: Devices): readonly BenchEvent[] {
    const heard: BenchEvent[] = [];
    const open: Link['open'] = (listener) => {
      for (const [at, line] of lines.entries()) listener.line(line, millis(10 * at));
    };
    const link: Link = { name: 'a line', open, ask: () => {}, close: async () => {} };
    joinLine(link, devices, (event) => heard.push(event), hostClock);
    return heard;
  }

  test.each([
    ['up', [5, 0, -7]],
    ['down', [-5, 0, 7]],
  ] as const)(
    'a feed that counts %s as the cutter goes deeper: %j, its zero stays zero',
    (deeper, totals) => {
      const feeds = [5, 0, -7].map((total, at) => encode({ kind: 'FE', total }, at, 10 * at));
      const heard = heardOf(feeds, { bareUnit: 'mm', deeper });
      expect(heard.flatMap((event) => (event.kind === 'feed-counted' ? [event.total] : []))).toEqual(totals);
    },
  );

  test.each([
    ['mm', 2.05],
    ['in', 52.07],
  ] as const)("a bare number is in the caliper's unit: %s", (bareUnit, value) => {
    const heard = heardOf(['2.0500'], { bareUnit, deeper: 'up' });
    const readings = heard.flatMap((event) =>
      event.kind === 'reading-received' ? [event.reading.value] : [],
    );
    expect(readings).toEqual([expect.closeTo(value, 10)]);
  });
});
