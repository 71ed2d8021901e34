// The two displays at their edges: a terminal that is slow to take what is drawn, and the escape key in plain sentences.
import { PassThrough, Writable } from 'node:stream';
import { afterEach, expect, test } from 'vitest';
import { drawnDisplay } from '../../src/commands/bench/displays.ts';
import type { Bench } from '../../src/core/bench/state.ts';
import { Table } from '../support/bench.ts';
import { Day } from '../support/day.ts';
import { Emulator } from '../support/terminal-screen.ts';

let day = new Day();
afterEach(async () => {
  await day.close();
  day = new Day();
});

/** A terminal that accepts nothing until the test says so: every write finds it full. */
class SlowTerminal extends Writable {
  readonly columns = 80;
  readonly rows = 24;
  readonly taken: Buffer[] = [];
  #waiting: (() => void) | undefined;
  #took: (() => void) | undefined;

  constructor() {
    super({ highWaterMark: 1 });
  }

  override _write(chunk: Buffer, _: string, done: () => void): void {
    this.taken.push(chunk);
    this.#waiting = done;
    this.#took?.();
  }

  get text(): string {
    return Buffer.concat(this.taken).toString('utf8');
  }

  takeOne(): void {
    const done = this.#waiting;
    this.#waiting = undefined;
    done?.();
  }

  /** Settles when the write that is under way, or the next one, has begun. */
  offered(): Promise<void> {
    return new Promise((resolve) => {
      this.#took = resolve;
      if (this.#waiting) resolve();
    });
  }
}

test('a full terminal is left alone until it takes more, and then gets the newest picture and none in between', async () => {
  const output = new SlowTerminal();
  const table = new Table().to('bore size');
  const bench = (): Bench => table.bench;
  const face = drawnDisplay({ bell: 'on', glyphs: 'all' }, { output, input: new PassThrough() })(
    () => undefined,
    bench,
    () => undefined,
  );
  expect(output.listenerCount('drain')).toBe(1);
  for (let count = 0; count < 30; count += 1) {
    table.type((42 + count / 1000).toFixed(3));
    face.show(bench());
    face.sound('near');
  }
  expect(output.listenerCount('drain')).toBe(1);
  // The other screen was asked for, and nothing was drawn behind that.
  expect(output.writableLength).toBe(output.taken[0]?.length);
  output.takeOne();
  await output.offered();
  const emulator = new Emulator(80, 24);
  await emulator.write(Buffer.concat(output.taken));
  expect(emulator.screen().join('\n')).toContain('30 READINGS');
  expect(output.text).not.toContain('\x07');
  expect(output.text.split('READINGS')).toHaveLength(2);
  face.close();
  expect(output.listenerCount('drain')).toBe(0);
});

test('in plain sentences a lone escape leaves the form', async () => {
  const eye = day.open(undefined, { args: ['--spoken', 'on'], rows: 50 });
  await eye.untilShown('welcome.');
  eye.press('w');
  await eye.untilShown(/^new job\. *$/);
  eye.press('escape');
  await eye.until(
    'the welcome again',
    (screen) => screen.filter((row) => row.trim() === 'welcome.').length === 2,
  );
  eye.press('q');
  expect((await eye.ended()).code).toBe(0);
});
