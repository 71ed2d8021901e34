// What the kit says of caliper and feed, applied where the line is joined to the bench.
import { expect, test } from 'vitest';
import { type Devices, joinLine } from '../../src/commands/bench/line.ts';
import type { BenchEvent } from '../../src/core/bench/event.ts';
import { millis } from '../../src/core/units.ts';
import type { Link, LinkListener } from '../../src/link/link.ts';
import { hostClock } from '../../src/link/link.ts';
import { encode } from '../../src/wire/encode.ts';

/** What the bench hears of these lines. */
function heardOf(lines: readonly string[], devices: Devices): readonly BenchEvent[] {
  const heard: BenchEvent[] = [];
  const speak = (listener: LinkListener): void => {
    for (const [at, line] of lines.entries()) listener.line(line, millis(10 * at));
  };
  const link: Link = { name: 'a line', open: speak, ask: () => {}, close: async () => {} };
  joinLine(link, devices, (event) => heard.push(event), hostClock);
  return heard;
}

const totals = (events: readonly BenchEvent[]) =>
  events.flatMap((event) => (event.kind === 'feed-counted' ? [event.total] : []));
const feeds = [5, 0, -7].map((total, at) => encode({ kind: 'FE', total }, at, 10 * at));

test('a feed that counts down as the cutter goes deeper is turned round, and its zero stays zero', () => {
  expect(totals(heardOf(feeds, { bareUnit: 'mm', deeper: 'up' }))).toEqual([5, 0, -7]);
  expect(totals(heardOf(feeds, { bareUnit: 'mm', deeper: 'down' }))).toEqual([-5, 0, 7]);
});

test("a bare number is in the caliper's unit", () => {
  const values = (bareUnit: 'mm' | 'in') =>
    heardOf(['2.0500'], { bareUnit, deeper: 'up' }).flatMap((event) =>
      event.kind === 'reading-received' ? [event.reading.value] : [],
    );
  expect(values('mm')).toEqual([2.05]);
  expect(values('in')[0]).toBeCloseTo(52.07, 10);
});
