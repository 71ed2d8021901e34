// Rows of a trace: written as protocol.md says, read with every damaged one named.
import { describe, expect, test } from 'vitest';
import { millis } from '../../src/core/units.ts';
import { type TraceFault, TraceReader, type TraceRow, traceNote, traceRow } from '../../src/wire/trace.ts';

function read(text: string): (TraceRow | TraceFault)[] {
  const reader = new TraceReader();
  return text.split('\n').flatMap((row) => reader.read(row) ?? []);
}

describe('rows', () => {
  test('time, tab, line; the backslash and all that is not printable ASCII as hex', () => {
    expect(traceRow(millis(120), 'DI,1,120,52.34,mm*E493')).toBe('120\tDI,1,120,52.34,mm*E493');
    expect(traceRow(millis(0), 'a\\b\t\x1b\x00\x7f\xff ~')).toBe('0\ta\\x5Cb\\x09\\x1B\\x00\\x7F\\xFF ~');
    expect(traceNote('lost:\nunplugged')).toBe('# lost:\\x0Aunplugged');
  });
  test.each([
    ['no tab', 'no tab'],
    ['\tDI', 'not a count of milliseconds'],
    ['5.1234567\tDI', 'not a count of milliseconds'],
    ['x\tDI', 'not a count of milliseconds'],
    ['-1\tDI', 'not a count of milliseconds'],
    ['1e3\tDI', 'not a count of milliseconds'],
    ['5\ta\\b', 'without \\xHH'],
    ['5\ta\\x5', 'without \\xHH'],
    ['5\ta\x1b', 'outside printable ASCII'],
    [`5\t${'x'.repeat(511)}`, 'longer than'],
  ])('%j is a fault with its row; the rows around it are read', (row, why) => {
    expect(read(`# note\n1\tfirst\n${row}\n9\tlast\n`)).toEqual([
      { at: 1, line: 'first' },
      { row: 3, why: expect.stringContaining(why) },
      { at: 9, line: 'last' },
    ]);
  });
  test('a row as long as it may be is read', () => {
    expect(read(`5\t${'x'.repeat(510)}`)).toEqual([{ at: 5, line: 'x'.repeat(510) }]);
  });
  test('a row before its time is a fault; empty rows and notes are ignored', () => {
    expect(read('\n5\ta\n\n# x\n4\tb\n5.25\tc')).toEqual([
      { at: 5, line: 'a' },
      { row: 5, why: 'its time is before the row above' },
      { at: 5.25, line: 'c' },
    ]);
  });
});
