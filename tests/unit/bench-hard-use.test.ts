// The stages under hard use: single wrong values, stale readings, idle hours, another caliper's board.
import { expect, test } from 'vitest';
import type { BenchEvent } from '../../src/core/bench/event.ts';
import type { LengthUnit } from '../../src/core/units.ts';
import { millis, mm } from '../../src/core/units.ts';
import { Table } from '../support/bench.ts';
import { shownText } from '../support/shown.tsx';

const screenOf = (table: Table): string => shownText(table.bench).join('\n');
const OPENED: BenchEvent = { kind: 'link-opened', port: 'p', heardAt: millis(0) };
const atSpigot = (): Table => new Table().do(OPENED).type('42.30').act('keep', 'next');
/** The target that a bore of 42.30 mm gives on the test kit is 43.40 mm. */
const TARGET = 43.4;

/** One rock across a bore: chords of an offset that moves evenly. */
function rock(
  table: Table,
  diameter: number,
  rocks: number,
  spoil: (at: number) => number | null,
  unit: LengthUnit = 'mm',
): Table {
  for (let at = 0; at < rocks * 17; at++) {
    const e = ((at % 17) - 8) * 0.45 + 0.1;
    table.reads(spoil(at) ?? Math.sqrt(diameter ** 2 - 4 * e ** 2), 1, unit);
  }
  return table;
}

test('one wrong value at the spigot is never taken, never sounds and never says stop', () => {
  // Every single data bit of a frame that shows 45.00 mm, in hundredths: 20 magnitude bits and the sign.
  const flipped = Array.from({ length: 20 }, (_, bit) => (4500 ^ (1 << bit)) / 100);
  for (const wrong of [TARGET, ...flipped, -45]) {
    const table = atSpigot().reads(45, 6);
    const sounds = table.sounds.length;
    table.reads(wrong, 1);
    expect(screenOf(table)).not.toMatch(/AT SIZE|UNDER|PAST/);
    expect(table.sounds).toHaveLength(sounds);
    table.act('keep');
    if (Math.abs(wrong - 45) > 0.025) expect(table.bench.job?.spigot).toBeNull();
    table.reads(45, 1);
    expect(screenOf(table)).not.toMatch(/AT SIZE|UNDER|PAST/);
  }
});

test('a value held still at the target says so and sounds once', () => {
  const table = atSpigot().reads(45, 4).reads(TARGET, 4);
  expect(screenOf(table)).toContain('AT SIZE');
  expect(table.sounds.filter((cue) => cue === 'at')).toHaveLength(1);
});

test('a spigot typed in whole millimetres is not at size because its number is short', () => {
  for (const typed of ['45', '44', '43', '1-3/4in', '1.7in']) {
    const table = atSpigot().type(typed);
    expect([typed, screenOf(table)]).toEqual([typed, expect.not.stringContaining('AT SIZE')]);
    expect(table.sounds).not.toContain('at');
  }
  expect(screenOf(atSpigot().type('43.4'))).toContain('AT SIZE');
});

test('one flipped data bit in a rocking changes the bore by less than a caliper step, wherever it falls', () => {
  const clean = rock(new Table(), 42.3, 5, () => null).act('keep').bench.job?.bore?.diameter ?? 0;
  expect(clean).toBeCloseTo(42.3, 1);
  for (let bit = 0; bit < 20; bit++) {
    for (const at of [8, 42]) {
      const table = rock(new Table(), 42.3, 5, (place) => (place === at ? (4229 ^ (1 << bit)) / 100 : null));
      const bore = table.act('keep').bench.job?.bore;
      if (bore) expect(Math.abs(bore.diameter - clean)).toBeLessThan(0.02);
      else expect(table.refusal?.kind).toBe('not-agreed');
    }
  }
});

test('a stale reading is not kept, a typed one is', () => {
  for (const stage of ['hollow', 'spigot', 'zero']) {
    const table = new Table()
      .type('42.30')
      .act('keep')
      .to(stage)
      .reads(stage === 'zero' ? 0.01 : 43.4, 5);
    table.pass(2500).act('keep');
    expect(table.refusal?.kind).toBe('stale-reading');
    table
      .reads(stage === 'zero' ? 0.01 : 43.4, 5)
      .do({ kind: 'link-lost', port: 'p', why: 'unplugged', heardAt: millis(0) });
    table.act('keep');
    expect(table.refusal?.kind).toBe('stale-reading');
  }
  const typed = atSpigot().type('43.40').pass(60_000).act('keep');
  expect(typed.bench.job?.spigot).toMatchObject({ how: 'typed' });
});

test('a caliper that lay idle for hours still rocks a bore', () => {
  const table = new Table();
  for (let idle = 0; idle < 10_050; idle++) table.reads(17.03, 1);
  rock(table, 42.3, 6, () => null).act('keep');
  expect(table.bench.job?.bore?.diameter).toBeCloseTo(42.3, 1);
});

test('a capture at the ring keeps a bounded number of readings too', () => {
  const table = new Table().to('zero').type('20');
  for (let idle = 0; idle < 10_050; idle++) table.reads(19.5, 1);
  expect(table.bench.capture?.readings.length).toBeLessThan(100);
});

test('readings of two boards are never joined into one bore', () => {
  const table = new Table().board();
  rock(table, 42.3, 3, () => null).board(0, 'bench-02');
  expect(table.refusal?.kind).toBe('another-board');
  expect(screenOf(table)).toContain('This is another board, bench-02');
  expect(table.bench.capture?.readings.length).toBe(0);
  rock(table, 40.1, 5, () => null).act('keep');
  expect(table.bench.job?.bore?.diameter).toBeCloseTo(40.1, 1);
});

test('an unplugged board of another version is shown as unplugged', () => {
  const table = new Table();
  const heardAt = millis(0);
  table.do(
    { kind: 'link-opened', port: 'p', heardAt },
    { kind: 'version-refused', theirs: '2', ours: '1', heardAt },
  );
  expect(screenOf(table)).toContain('board speaks version 2, not 1');
  table.do({ kind: 'link-lost', port: 'p', why: 'unplugged', heardAt });
  expect(screenOf(table)).toContain('unplugged');
});

test('a single reading of the zero that is off refuses it', () => {
  const table = new Table().to('zero').reads(0.01, 5).reads(mm(0.09), 1).act('keep');
  expect(table.refusal?.kind).toBe('zero-wanders');
});

test('the line says how it is however much there is to count, at 60 columns too', () => {
  const heardAt = millis(0);
  const table = new Table().do(
    OPENED,
    { kind: 'lines-lost', count: 32, heardAt },
    { kind: 'board-restarted', heardAt },
  );
  for (let count = 0; count < 31_234; count++)
    table.do({ kind: 'line-discarded', why: 'bad-checksum', raw: '', heardAt });
  table.do(
    { kind: 'line-unknown', raw: '', heardAt },
    { kind: 'version-refused', theirs: '2', ours: '1', heardAt },
  );
  for (const columns of [60, 80]) {
    const top = shownText(table.bench, { columns, rows: 20 })[0];
    expect(top).toContain('board speaks version 2, not 1');
    expect(top).toContain('31268 faults');
    expect(top).toContain('pear b');
  }
});
