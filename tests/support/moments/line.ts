// Moments of the line: every way it can be well, ill or gone, and what could not be saved.
import type { BenchEvent } from '../../../src/core/bench/event.ts';
import { length, millis, mm } from '../../../src/core/units.ts';
import { Table } from '../bench.ts';
import { bored, type Moments, opened, rock } from './begun.ts';

const heardAt = millis(1500);
const port = '/dev/ttyUSB0';
/** At the bore size, half rocked, when these happen. */
const when = (...events: readonly BenchEvent[]): Table =>
  rock(opened().to('bore size'), 42.3, 2).do(...events);

/** An adapter that prints bare numbers. */
function bare(): Table {
  const table = new Table(bored).to('bore size').do({ kind: 'link-opened', port, heardAt: millis(0) });
  for (let count = 0; count < 12; count++) {
    table.pass(125);
    const at = table.bench.now;
    const reading = { value: length(41.2, 'mm'), unit: 'mm', step: mm(0.01), text: '41.20', at } as const;
    table.do({ kind: 'reading-received', reading, checked: false, raw: '41.20', heardAt: at });
  }
  return table;
}

export const LINE: Moments = {
  'line-listening': () =>
    new Table(bored).to('bore size').do({ kind: 'link-opened', port, heardAt }).pass(1000).bench,
  'line-unchecked': () => bare().bench,
  'line-damaged': () =>
    when(
      { kind: 'lines-lost', count: 12, heardAt },
      { kind: 'line-discarded', why: 'bad-checksum', raw: '*', heardAt },
      { kind: 'line-unknown', raw: 'XX', heardAt },
      { kind: 'board-restarted', heardAt },
    ).bench,
  'line-silent': () => when({ kind: 'line-silent', heardAt }).pass(2500).bench,
  'line-lost-flash': () => when({ kind: 'link-lost', port, why: 'unplugged', heardAt }).bench,
  'line-unplugged': () => when({ kind: 'link-lost', port, why: 'unplugged', heardAt }).pass(3000).bench,
  'line-refused': () =>
    new Table(bored).to('bore size').do({
      kind: 'link-refused',
      port,
      why: "Can't find /dev/ttyUSB0. Plug the board in, and the bench connects by itself.",
      heardAt,
    }).bench,
  'line-version': () =>
    new Table(bored)
      .to('bore size')
      .do(
        { kind: 'link-opened', port, heardAt },
        { kind: 'version-refused', theirs: '2', ours: '1', heardAt },
      ).bench,
  'line-another-board': () => when().play('board:bench-02 wait:1000').bench,
  unsaved: () => {
    const table = opened().play('@hollow 42.31x6');
    table.broken = true;
    return table.act('keep').pass(1000).bench;
  },
  'sheet-failed': () =>
    opened().to('record').do({ kind: 'edge-failed', what: 'no job sheet', why: 'the disk is full' }).bench,
  'sheet-written': () =>
    opened().to('record').do({ kind: 'sheet-written', path: 'sheets/pear-box-with-lid.html' }).bench,
  undone: () => rock(opened().to('bore size'), 42.3, 6).play('keep undo wait:1000').bench,
};
