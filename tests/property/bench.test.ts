// Laws of the bench: any order of events leaves a state that is sound, that undoes and saves, and that a log gives back.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type Entry, STAGES } from '../../src/core/bench/entry.ts';
import type { BenchEvent } from '../../src/core/bench/event.ts';
import { jobOf, lastUndoable } from '../../src/core/bench/job.ts';
import type { Setup } from '../../src/core/bench/setup.ts';
import { fedDepth } from '../../src/core/thread/depth.ts';
import { length, millis, mm } from '../../src/core/units.ts';
import { Table, threaded } from '../support/bench.ts';
import { shown } from '../support/shown.tsx';

type Deed = (table: Table) => void;
const deed = (name: string, run: Deed): { name: string; run: Deed } => ({ name, run });
const event = (made: BenchEvent) => deed(made.kind, (table) => table.do(made));

const heardAt = millis(0);

/** What the line and the link say besides readings, feed and the words of scripts. */
const LINE_EVENTS: readonly BenchEvent[] = [
  { kind: 'board-fault', code: 'caliper-lost', heardAt },
  { kind: 'lines-lost', count: 3, heardAt },
  { kind: 'line-discarded', why: 'bad-checksum', raw: '*', heardAt },
  { kind: 'line-unknown', raw: 'XX,1', heardAt },
  { kind: 'version-refused', theirs: '2', ours: '1', heardAt },
  { kind: 'line-speaking', heardAt },
  { kind: 'link-refused', port: 'p', why: 'no right to open it', heardAt },
  { kind: 'button-changed', button: 1, down: true, heardAt },
  { kind: 'button-changed', button: 2, down: true, heardAt },
  { kind: 'button-changed', button: 3, down: false, heardAt },
];

/** What hands do besides typing (a form, a list, a calibration may come of it), and what a script knows of the line. */
const WORDS =
  'restart overrun silent open lost undo unit help note new jobs sheet calibrate virtual quit finish erase esc enter up down + -';

const bareReading = (value: number) =>
  deed(`reads ${value} unchecked`, (table) => {
    const { now: at } = table.bench;
    const reading = { value: length(value, 'mm'), unit: 'mm', step: mm(0.01), text: `${value}`, at } as const;
    table.do({ kind: 'reading-received', reading, checked: false, raw: `${value}`, heardAt: at });
  });

const plays = (script: string) => deed(script, (table) => table.play(script));

/** Ways that single deeds seldom go to their end. */
const WAYS = [
  'new finish',
  'calibrate keep keep =20 =4.02 next',
  'next 44.4x4 43.4x6 keep',
  'next next next next back keep',
  'next next next next next next next',
  'back back back back back back back',
];
const TYPED = '=42.3 =5 =0.02 =20 =1.0 =1..2 =-3 =45 =3 =1,5 =2 =0.08 =0.4 =0 =pear';

const sizes = fc.double({ min: -1, max: 80, noNaN: true });
const deeds = fc.oneof(
  fc.constantFrom(...WAYS).map(plays),
  fc.constantFrom('keep', 'again', 'next', 'back').map(plays),
  sizes.map((value) => deed(`reads ${value}`, (table) => table.reads(value, 4))),
  sizes.map(bareReading),
  fc.constantFrom(...TYPED.split(' ')).map(plays),
  fc.integer({ min: -10, max: 10 }).map((total) => plays(`feed:${total}`)),
  fc.constantFrom(...LINE_EVENTS).map(event),
  fc.constantFrom(...WORDS.split(' ')).map(plays),
  fc.constantFrom('board:bench-01', 'board:bench-02').map(plays),
  fc.constantFrom(100, 3000, 90_000_000).map((ms) => plays(`wait:${ms}`)),
  fc.boolean().map((broken) =>
    deed(`the disk ${broken ? 'fails' : 'works'}`, (table) => {
      table.broken = broken;
    }),
  ),
);
const days = fc.array(deeds, { maxLength: 40 });
const { feed: _feed, ...feedless } = threaded;
const setups = fc.constantFrom<Setup>(
  threaded,
  { ...threaded, fit: 'plain', wanted: mm(-0.05) },
  { ...feedless, byHand: true },
);

const lived = (setup: Setup, day: readonly { run: Deed }[]): Table => {
  const table = new Table(setup);
  for (const { run } of day) run(table);
  return table;
};

/** The disk works again, and what waited for it is written. */
const saved = (table: Table): Table => {
  table.broken = false;
  return table.pass(5000);
};

/** What is kept of the job on the bench, in the order it was written. */
const kept = (table: Table): readonly Entry[] =>
  table.entries.filter(({ job }) => job === table.bench.job?.id);

/** Out of whatever was opened, back to the stage. */
const atStage = (table: Table): Table => table.play('esc '.repeat(8));
const untouched = (job: unknown) => ({ ...(job as object), touched: 0 });

test('a resumed job equals the one left', () => {
  fc.assert(
    fc.property(setups, days, (setup, day) => {
      const table = saved(lived(setup, day));
      expect(table.bench.unsaved).toEqual([]);
      expect(table.bench.log).toEqual(kept(table));
      expect(jobOf(kept(table))).toEqual(table.bench.job);
    }),
  );
});

/** Undo takes back typed readings that wait first, one by one, and the log stays as it is. */
function withoutTyped(table: Table): Table {
  while (table.bench.readings.at(-1)?.raw === '') {
    const before = kept(table).length;
    table.do({ kind: 'undo-asked' });
    expect(kept(table)).toHaveLength(before);
  }
  return table;
}

test('undo takes back the last typed number, then the last decision, even if the machine wrote entries since', () => {
  fc.assert(
    fc.property(setups, days, (setup, day) => {
      const table = withoutTyped(atStage(saved(lived(setup, day))));
      const last = lastUndoable(kept(table));
      if (!last) return;
      const without = jobOf(kept(table).filter(({ id }) => id !== last.id));
      table.do({ kind: 'undo-asked' });
      expect(untouched(table.bench.job)).toEqual(untouched(without));
    }),
  );
});

test('depth is never shown as proven after a restart, an overrun or a reversal, until a new touch-off or a full take-up', () => {
  fc.assert(
    fc.property(days, fc.constantFrom('restart', 'overrun', 'feed:52'), (day, trouble) => {
      const table = atStage(lived(threaded, day)).board(50);
      if (table.bench.job?.setup.fit !== 'threaded') return;
      table.play(`@bore-thread again feed:51 feed:53 ${trouble}`);
      const { closed, threads } = table.job;
      if (closed) return;
      const depth = threads.female.tracker && fedDepth(threads.female.tracker);
      expect(depth && 'proven' in depth ? depth.proven : false).toBe(false);
    }),
  );
});

test('any order of events leaves a known stage, finite figures, and a screen that can be drawn', () => {
  fc.assert(
    fc.property(setups, days, (setup, day) => {
      const { bench } = lived(setup, day);
      expect(STAGES).toContain(bench.job?.stage);
      const numbers = JSON.stringify(bench, (_, value) =>
        typeof value === 'number' && !Number.isFinite(value) ? 'not-finite' : value,
      );
      expect(numbers).not.toContain('not-finite');
      const { rows } = shown(bench, { columns: 60, rows: 16 });
      const said = rows.flatMap((row) => row.map(({ text }) => text)).join('');
      expect(said).not.toMatch(/NaN|undefined|Infinity/);
    }),
  );
});
