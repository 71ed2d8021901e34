// Hours of a bench in minutes: framing, wire, rules, records, view and frame writer in simulated time, into a pretend terminal.
import { EventEmitter } from 'node:events';
import { setImmediate as turnOfTheLoop } from 'node:timers/promises';
import { jobStoreIn } from '../../../src/commands/bench/job-store.ts';
import { Runner } from '../../../src/commands/bench/runner.ts';
import { virtualKit } from '../../../src/commands/bench/virtual.ts';
import type { BenchEvent } from '../../../src/core/bench/event.ts';
import { startBench } from '../../../src/core/bench/step.ts';
import { type Millis, millis } from '../../../src/core/units.ts';
import { createLineCutter } from '../../../src/link/lines.ts';
import { homeOf } from '../../../src/records/home.ts';
import { openRecords } from '../../../src/records/jobs.ts';
import type { Clock } from '../../../src/screen/pace.ts';
import { TerminalDisplay } from '../../../src/screen/terminal-display.tsx';
import { themeOf } from '../../../src/screen/theme.ts';
import { Watch } from '../../../src/wire/watch.ts';
import { processorMs } from '../../support/processor.ts';
import { createTurner, FRAME_MS } from './turner.ts';

const BEGAN = 1_700_000_000_000;
const TICK_MS = 250;
const FRAME_PACE_MS = 33;
const SAMPLE_MS = 600_000;

/** What was seen at one moment of the day. */
export interface Sample {
  readonly minute: number;
  /** Megabytes in use after a collection: the heap, and with what lies outside it. */
  readonly heap: number;
  readonly whole: number;
  readonly listeners: number;
  readonly jobs: number;
  readonly entries: number;
  /** Milliseconds from a reading's bytes to its frame's: the middle one, and one in a hundred, since the sample before. */
  readonly median: number;
  readonly late: number;
  /** Processor milliseconds for each reading since the sample before; unlike the times above, the same on a busy machine. */
  readonly cost: number;
  /** Simulated milliseconds that frames came after they were due, at most. */
  readonly drift: number;
  readonly frames: number;
  readonly bytes: number;
}

class NoTerminal extends EventEmitter {
  readonly columns = 80;
  readonly rows = 24;
  bytes = 0;
  frames = 0;
  write(text: string): boolean {
    this.frames += 1;
    this.bytes += text.length;
    return true;
  }
}

class NoKeyboard extends EventEmitter {
  readonly isTTY = true;
  setRawMode = (): void => undefined;
  setEncoding = (): void => undefined;
  resume = (): void => undefined;
  pause = (): void => undefined;
}

/** One timer at a time, on simulated time. */
class SimulatedClock implements Clock {
  time = 0;
  latest = 0;
  #due: { readonly at: number; readonly then: () => void } | undefined;

  now = (): number => this.time;
  after(milliseconds: number, then: () => void): () => void {
    const due = { at: this.time + milliseconds, then };
    this.#due = due;
    return () => {
      if (this.#due === due) this.#due = undefined;
    };
  }
  pass(milliseconds: number): void {
    this.time += milliseconds;
    const due = this.#due;
    if (!due || due.at > this.time) return;
    this.latest = Math.max(this.latest, this.time - due.at);
    this.#due = undefined;
    due.then();
  }
}

const collect = (): void => {
  if (!globalThis.gc) throw new Error('run with --expose-gc, so that memory is measured and not guessed');
  globalThis.gc();
  globalThis.gc();
};

const at = (sorted: readonly number[], share: number): number =>
  sorted[Math.floor(sorted.length * share)] ?? 0;

/** This many simulated hours of one bench; a sample each ten simulated minutes. */
export async function soak(
  hours: number,
  chance: () => number,
  home: string,
  onSample: (sample: Sample) => void,
): Promise<readonly Sample[]> {
  const opened = openRecords(homeOf({}, home));
  if (!opened.ok) throw new Error('the records would not open');
  const clock = new SimulatedClock();
  const output = new NoTerminal();
  const input = new NoKeyboard();
  const keeping = jobStoreIn(opened.value);
  const effects = {
    ...keeping,
    kit: () => ({ kit: virtualKit('mm'), last: keeping.last() }),
    keepFeed: () => ({ trouble: 'no kit here' }),
    writeSheet: async () => ({ trouble: 'none is written here' }),
    sound: () => display.bell(),
    startVirtual: () => undefined,
    teach: (order: string) => {
      throw new TypeError(`no virtual bench to ${order}`);
    },
    quit: () => undefined,
  };
  const runner: Runner = new Runner(startBench(millis(0), BEGAN, 'mm'), effects, () => display.request());
  const display = new TerminalDisplay({
    output,
    input,
    clock,
    frameMs: FRAME_PACE_MS,
    glyphs: 'all',
    theme: themeOf('256'),
    bench: () => runner.bench,
    onKey: () => undefined,
    onError(error) {
      throw error;
    },
  });
  const dispatch = (event: BenchEvent): void => runner.dispatch(event);
  const watch = new Watch();
  const lines = createLineCutter((line) => watch.push(line, now(), dispatch));
  const turner = createTurner(chance);
  const samples: Sample[] = [];
  let took: number[] = [];
  let spent = processorMs();
  const now = (): Millis => millis(clock.time);
  const listeners = (): number =>
    [output, input, process].reduce(
      (sum, each) => sum + each.eventNames().reduce((of, name) => of + each.listenerCount(name as string), 0),
      0,
    );
  dispatch({ kind: 'link-opened', port: 'soak', heardAt: now() });
  try {
    const end = hours * 3_600_000;
    for (let passed = FRAME_MS; passed <= end; passed += FRAME_MS) {
      const bytes = turner.bytes(runner.bench);
      const began = performance.now();
      clock.pass(FRAME_MS);
      lines.take(Buffer.from(bytes, 'latin1'));
      took.push(performance.now() - began);
      // What React puts off until later is done then, as on a real bench.
      if (passed % 1000 === 0) await turnOfTheLoop();
      if (passed % 1000 === 0) for (const event of turner.deed(runner.bench, passed / 1000)) dispatch(event);
      if (passed % TICK_MS < FRAME_MS) {
        watch.tick(now(), dispatch);
        dispatch({ kind: 'ticked', now: now(), wall: BEGAN + passed });
      }
      if (passed % SAMPLE_MS !== 0) continue;
      const cost = (processorMs() - spent) / took.length;
      collect();
      const { heapUsed, external, arrayBuffers } = process.memoryUsage();
      const sorted = took.sort((a, b) => a - b);
      const list = opened.value.list({ limit: 1000 });
      const sample: Sample = {
        minute: passed / 60_000,
        heap: heapUsed / 1e6,
        whole: (heapUsed + external + arrayBuffers) / 1e6,
        listeners: listeners(),
        jobs: list.ok ? list.value.jobs.length : -1,
        entries: runner.bench.log.length,
        median: at(sorted, 0.5),
        late: at(sorted, 0.99),
        cost,
        drift: clock.latest,
        frames: output.frames,
        bytes: output.bytes,
      };
      took = [];
      spent = processorMs();
      samples.push(sample);
      onSample(sample);
    }
  } finally {
    display.close();
    opened.value.close();
  }
  return samples;
}

/** Least squares of `values` over simulated hours: how much a value grows in one. */
export function slopeAnHour(samples: readonly Sample[], value: (sample: Sample) => number): number {
  const mean = (of: (sample: Sample) => number): number =>
    samples.reduce((sum, sample) => sum + of(sample), 0) / samples.length;
  const hour = (sample: Sample): number => sample.minute / 60;
  const [x, y] = [mean(hour), mean(value)];
  const over = samples.reduce((sum, sample) => sum + (hour(sample) - x) * (value(sample) - y), 0);
  return over / samples.reduce((sum, sample) => sum + (hour(sample) - x) ** 2, 0);
}
