// The health of the line: what each event does to its health, its rate, and when a reading is stale.
import { expect, test } from 'vitest';
import type { LineEvent, LinkEvent } from '../../src/core/bench/event.ts';
import { isFromLine, isStale, lineAfter, quietLine, rateOf } from '../../src/core/bench/line.ts';
import type { LineHealth, Live } from '../../src/core/bench/state.ts';
import { millis, mm } from '../../src/core/units.ts';

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

test('a line without a reading is quiet', () => {
  expect(quietLine).toMatchObject({
    open: false,
    silent: false,
    lost: 0,
    damaged: 0,
    unknown: 0,
    restarts: 0,
  });
  expect(rateOf(quietLine, 0)).toBe(0);
});

test.each<[LineEvent | LinkEvent, Partial<LineHealth>]>([
  [read(1000), { checked: true, silent: false, recent: [millis(1000)] }],
  [read(1000, false), { checked: false }],
  [{ kind: 'feed-counted', total: 3, at: heardAt, raw: 'FE', heardAt }, { silent: false }],
  [
    { kind: 'board-found', facts: { board: 'b', firmware: '1', parts: [] }, at: heardAt, heardAt },
    { board: { board: 'b', firmware: '1', parts: [] }, checked: true, silent: false, versionRefused: null },
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
    { kind: 'link-opened', port: 'p', heardAt },
    { port: 'p', open: true, trouble: null },
  ],
  [
    { kind: 'link-lost', port: 'q', why: 'gone', heardAt },
    { port: 'q', open: false, trouble: 'gone', versionRefused: null },
  ],
  [
    { kind: 'link-refused', port: 'q', why: 'busy', heardAt },
    { port: 'q', open: false, trouble: 'busy', versionRefused: null },
  ],
  [{ kind: 'button-changed', button: 1, down: true, heardAt }, {}],
  [{ kind: 'feed-overran', heardAt }, {}],
  [{ kind: 'board-fault', code: 'caliper-frame', heardAt }, {}],
])('$kind changes its own and nothing else', (event, changed) => {
  const before: LineHealth = {
    ...quietLine,
    silent: true,
    trouble: 'old',
    versionRefused: { theirs: '9', ours: '1' },
    restarts: 1,
    lost: 5,
    damaged: 1,
    unknown: 1,
  };
  expect(lineAfter(before, event)).toEqual({ ...before, ...plain(event), ...changed });
  expect(isFromLine(event)).toBe(true);
});
/** A reading also joins the recent ones and ends a silence. */
const plain = (event: LineEvent | LinkEvent): Partial<LineHealth> =>
  event.kind === 'reading-received' ? { recent: [event.heardAt], silent: false } : {};

test('a tick and a key are not from the line', () => {
  expect(isFromLine({ kind: 'ticked', now: heardAt, wall: 0 })).toBe(false);
  expect(isFromLine({ kind: 'escaped' })).toBe(false);
});

test('the rate is of the last two seconds, and fifty readings are remembered', () => {
  const line = since(...[0, 1000, 1100, 1200, 1300].map((at) => read(at)));
  expect(rateOf(line, 2500)).toBeCloseTo(10, 9);
  expect(rateOf(line, 1900)).toBeCloseTo(4000 / 1300, 9);
  expect(rateOf(line, 3250)).toBe(0);
  expect(rateOf(line, 9000)).toBe(0);
  expect(rateOf(since(read(5), read(5)), 6)).toBe(0);
  const many = since(...Array.from({ length: 80 }, (_, at) => read(at)));
  expect(many.recent).toHaveLength(50);
  expect(many.recent.at(-1)).toBe(79);
});

test('a reading is stale after two seconds, in silence, and when its port is gone', () => {
  const live: Live = { reading, raw: 'DI', heardAt };
  const open = since({ kind: 'link-opened', port: 'p', heardAt });
  const stale = (line: LineHealth, now: number, of: Live | null = live) =>
    isStale({ line, live: of, now: millis(now) });
  expect([stale(open, 3000), stale(open, 3001)]).toEqual([false, true]);
  expect(stale({ ...open, silent: true }, 1000)).toBe(true);
  expect(stale({ ...open, open: false }, 1000)).toBe(true);
  expect(stale(quietLine, 1000)).toBe(false);
  expect(stale({ ...open, silent: true }, 9000, null)).toBe(false);
});
