// Laws of the bench: any order of events leaves a state that is sound, that undoes and saves, and that a log gives back.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { STAGES } from '../../src/core/bench/entry.ts';
import type { BenchEvent } from '../../src/core/bench/event.ts';
import { jobOf, lastUndoable } from '../../src/core/bench/job.ts';
import { depthOf } from '../../src/core/thread/feed.ts';
import { millis, mm } from '../../src/core/units.ts';
import { Table, threaded } from '../support/bench.ts';

type Deed = (table: Table) => void;
const deed = (name: string, run: Deed): { name: string; run: Deed } => ({ name, run });
const event = (made: BenchEvent) => deed(made.kind, (table) => table.do(made));

const heardAt = millis(0);
const deeds = fc.oneof(
  fc
    .constantFrom('take', 'again', 'next', 'back')
    .map((action) => deed(action, (table) => table.act(action as 'take'))),
  fc
    .double({ min: -1, max: 80, noNaN: true })
    .map((value) => deed(`reads ${value}`, (table) => table.reads(value, 4))),
  fc
    .constantFrom('42.3', '5', '0.02', '20', '1.0', '1..2', '-3', '45', '3', '1,5')
    .map((text) => deed(`types ${text}`, (table) => table.type(text))),
  fc.integer({ min: -10, max: 10 }).map((total) => deed(`feed ${total}`, (table) => table.feed(total))),
  fc
    .constantFrom<BenchEvent>(
      { kind: 'board-restarted', heardAt },
      { kind: 'feed-overran', heardAt },
      { kind: 'line-silent', heardAt },
      { kind: 'link-lost', port: 'p', why: 'unplugged', heardAt },
      { kind: 'undo-asked' },
      { kind: 'unit-switched' },
      { kind: 'note-asked' },
      { kind: 'escaped' },
      { kind: 'entered' },
      { kind: 'detent-keyed', by: 1 },
      { kind: 'detent-keyed', by: -1 },
      { kind: 'button-changed', button: 1, down: true, heardAt },
    )
    .map(event),
  fc
    .constantFrom('bench-01', 'bench-02')
    .map((board) => deed(`board ${board}`, (table) => table.board(0, board))),
);
const days = fc.array(deeds, { maxLength: 40 });
const plain = fc
  .boolean()
  .map((isPlain) => (isPlain ? { ...threaded, fit: 'plain' as const, wanted: mm(-0.05) } : threaded));

const lived = (setup: typeof threaded, day: readonly { run: Deed }[]): Table => {
  const table = new Table(setup);
  for (const { run } of day) run(table);
  return table;
};
const untouched = (job: unknown) => ({ ...(job as object), touched: 0 });

test('a resumed job equals the one left', () => {
  fc.assert(
    fc.property(plain, days, (setup, day) => {
      const table = lived(setup, day);
      expect(jobOf(table.entries)).toEqual(table.bench.job);
      expect(table.bench.log).toEqual(table.entries);
    }),
  );
});

test('undo of the last deed gives the job before it, whatever the machine wrote since', () => {
  fc.assert(
    fc.property(plain, days, (setup, day) => {
      const table = lived(setup, day);
      const last = lastUndoable(table.entries);
      if (!last) return;
      const without = jobOf(table.entries.filter(({ id }) => id !== last.id));
      table.do({ kind: 'escaped' }, { kind: 'escaped' }, { kind: 'undo-asked' });
      expect(untouched(table.bench.job)).toEqual(untouched(without));
    }),
  );
});

test('depth is never shown as proven after a restart, an overrun or a reversal, until a new touch-off or a full take-up', () => {
  fc.assert(
    fc.property(days, fc.constantFrom('restart', 'overrun', 'reversal'), (day, trouble) => {
      const table = lived(threaded, day).do({ kind: 'escaped' }, { kind: 'escaped' }).board(50);
      table.to('bore thread').act('again');
      table.feed(51).feed(53);
      if (trouble === 'restart') table.do({ kind: 'board-restarted', heardAt });
      else if (trouble === 'overrun') table.do({ kind: 'feed-overran', heardAt });
      else table.feed(52);
      const tracker = table.bench.job?.threads.female.tracker;
      if (table.bench.job?.closed) return;
      const depth = tracker && depthOf(tracker);
      expect(depth && 'proven' in depth ? depth.proven : false).toBe(false);
    }),
  );
});

test('no order of events leaves a stage that is none, a figure that is no number, or a log that lost an entry', () => {
  fc.assert(
    fc.property(plain, days, (setup, day) => {
      const { bench } = lived(setup, day);
      expect(STAGES).toContain(bench.job?.stage);
      const numbers = JSON.stringify(bench, (_, value) =>
        typeof value === 'number' && !Number.isFinite(value) ? 'not-finite' : value,
      );
      expect(numbers).not.toContain('not-finite');
    }),
  );
});
