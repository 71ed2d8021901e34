// Trace files: recorded as they are heard, replayed the same at any speed.
import { readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, test, vi } from 'vitest';
import type { LineEvent } from '../../src/core/bench/event.ts';
import { millis } from '../../src/core/units.ts';
import { openTraceRecorder, playTrace, readTraceFile } from '../../src/link/trace-file.ts';
import { VirtualBench } from '../../src/link/virtual/bench.ts';
import type { TraceFault, TraceRow } from '../../src/wire/trace.ts';
import { Watch } from '../../src/wire/watch.ts';
import { freshFolder } from '../support/fresh-folder.ts';

const folder = freshFolder();

async function readFile(file: string): Promise<{ rows: TraceRow[]; faults: TraceFault[] }> {
  const rows: TraceRow[] = [];
  const faults: TraceFault[] = [];
  await readTraceFile(file, {
    row: (row) => rows.push(row),
    fault: (fault) => faults.push(fault),
    ready: async () => undefined,
  });
  return { rows, faults };
}

describe('a recorded line', () => {
  const heard = (lines: readonly { at: number; line: string }[]): LineEvent[] => {
    const events: LineEvent[] = [];
    const watch = new Watch();
    for (const { at, line } of lines) watch.push(line, millis(at), (event) => events.push(event));
    return events;
  };

  test('says in replay just what it said live, damage included', async () => {
    const bench = new VirtualBench({ seed: 3 });
    bench.follow({ doing: 'rock-bore' });
    const file = join(folder, 'live.trace');
    const recorder = openTraceRecorder(file, millis(0));
    recorder.note('a note');
    const live = bench.advance(120_000);
    for (const { at, line } of live) recorder.line(line, at);
    recorder.close();
    recorder.close();
    const { rows, faults } = await readFile(file);
    expect(faults).toEqual([]);
    expect(heard(rows)).toEqual(heard(live));
    expect(heard(rows).some(({ kind }) => kind === 'line-discarded')).toBe(true);
  });

  test('is readable by its owner only, counts from its own beginning, and is never overwritten', () => {
    const file = join(folder, 'own.trace');
    const recorder = openTraceRecorder(file, millis(5000));
    recorder.line('DI', millis(5120));
    recorder.close();
    expect(statSync(file).mode & 0o777).toBe(0o600);
    expect(readFileSync(file, 'latin1')).toMatch(/^# .*\n120\tDI\n$/);
    expect(() => openTraceRecorder(file, millis(0))).toThrow(/EEXIST/);
  });

  test('a file that is not there fails with the system’s own word', async () => {
    await expect(readFile(join(folder, 'none'))).rejects.toMatchObject({ code: 'ENOENT' });
  });

  test('a row longer than any the recorder writes is one fault, and the last row needs no end', async () => {
    const file = join(folder, 'long.trace');
    writeFileSync(file, `1\ta\r\n2\t${'x'.repeat(200_000)}\n3\tc\r`);
    const { rows, faults } = await readFile(file);
    expect(rows.map(({ at, line }) => [at, line])).toEqual([
      [1, 'a'],
      [3, 'c'],
    ]);
    expect(faults).toEqual([{ row: 2, why: expect.stringContaining('longer than 512') }]);
  });
});

describe('in its own time', () => {
  const rows = [100, 100, 350, 4000].map((at, index) => ({ at: millis(at), line: 'abcd'[index] ?? '' }));
  /** Lines and events with their times, and when each came by the host's clock. */
  function played(speed: number) {
    vi.useFakeTimers();
    let host = 5000;
    const heard: [host: number, at: number, what: string][] = [];
    const link = playTrace('a.trace', rows, speed, () => millis(host));
    link.open({
      line: (text, at) => heard.push([host - 5000, at, text]),
      event: (event) => heard.push([host - 5000, event.heardAt, event.kind]),
    });
    const pass = (milliseconds: number): void => {
      for (let passed = 0; passed < milliseconds; passed += 5) {
        host += 5;
        vi.advanceTimersByTime(5);
      }
    };
    return { heard, link, pass };
  }
  afterEach(() => vi.useRealTimers());

  test.each([0.5, 1, 4, 100])('at %s times its speed no line comes early, or later than a beat', (speed) => {
    const { heard, pass } = played(speed);
    pass(4000 / speed + 100);
    expect(heard.map(([, at, what]) => `${at} ${what}`)).toEqual([
      ...['0 link-opened', '100 a', '100 b', '350 c', '4000 d', '4000 link-lost'],
    ]);
    for (const [host, at] of heard) {
      expect(host).toBeGreaterThanOrEqual(at / speed);
      expect(host).toBeLessThanOrEqual(at / speed + 20);
    }
  });

  test('its clock keeps time with the lines, goes on after the end, and stops when it is closed', async () => {
    const { heard, link, pass } = played(1);
    expect(link.now()).toBe(0);
    pass(300);
    expect(link.now()).toBe(300);
    await link.close();
    pass(5000);
    expect(heard.map(([, , what]) => what)).toEqual(['link-opened', 'a', 'b']);
    const on = played(10);
    on.pass(1000);
    expect(on.link.now()).toBeGreaterThan(9000);
    await on.link.close();
  });
});
