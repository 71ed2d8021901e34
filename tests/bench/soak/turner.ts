// A turner's day at 25 readings a second: what the caliper shows and the feed counts at each stage, and which key comes next.
import type { BenchEvent } from '../../../src/core/bench/event.ts';
import { detentsDone } from '../../../src/core/bench/stages/fed-thread.ts';
import type { Bench } from '../../../src/core/bench/state.ts';
import { aimOf } from '../../../src/core/bench/target.ts';
import { verdictOf } from '../../../src/core/measure/verdict.ts';
import { type BoardMessage, encode } from '../../../src/wire/encode.ts';
import { chordOf } from '../../support/readings.ts';

export const FRAME_MS = 40;
/** Shares of lines damaged and lost on the way. */
const DAMAGED = 0.004;
const LOST = 0.002;
/** Idle stretches of the day in simulated minutes: at the bore untouched, at the spigot, with a ring in the jaws, at no job. */
const IDLE: readonly { readonly from: number; readonly to: number; readonly at: string }[] = [
  { from: 70, to: 100, at: 'bore size' },
  { from: 150, to: 180, at: 'spigot' },
  { from: 210, to: 240, at: 'zero' },
  { from: 300, to: 320, at: 'bore thread' },
];
/** Seconds between two things a turner does, at least; the rest is turning, sanding and looking. */
const DEED_EVERY = 8;

export interface Turner {
  /** The bytes of the next 40 milliseconds. */
  readonly bytes: (bench: Bench) => string;
  /** What the turner does in this second, if anything. */
  readonly deed: (bench: Bench, second: number) => readonly BenchEvent[];
}

export function createTurner(chance: () => number): Turner {
  let seq = 0;
  let ms = 0;
  let total = 0;
  let since = 0;
  let stage = '';

  const say = (said: BoardMessage): string => {
    const line = `${encode(said, seq++, ms)}\n`;
    const luck = chance();
    if (luck < LOST) return '';
    return luck < LOST + DAMAGED ? line.replace('.', ';').replace(',', '.') : line;
  };

  const jaws = (bench: Bench): number => {
    const { job } = bench;
    if (!job || bench.mode.kind !== 'stage') return 17.03;
    switch (job.stage) {
      case 'zero':
        return bench.ring === null ? 0.01 : 19.93 - 0.3 * Math.abs(Math.sin(since / 900));
      case 'hollow':
        return since % 20_000 < 12_000 ? 41.87 : 41.9 + Math.sin(since / 300);
      case 'bore size':
        return job.bore && since > 60_000 ? 17.03 : chordOf(42.3, 3.4 * Math.sin(since / 700));
      case 'spigot': {
        const aim = aimOf(job);
        const target = aim.kind === 'aim' ? aim.target : 43.4;
        return (
          Math.max(target, target + 3 - since / 40_000) + (since % 15_000 < 9000 ? 0 : Math.sin(since / 200))
        );
      }
      default:
        return 17.03;
    }
  };

  const mayAct = (minute: number, at: string): boolean =>
    !IDLE.some(({ from, to, at: place }) => place === at && minute >= from && minute < to);

  return {
    bytes(bench) {
      const now = `${bench.job?.id}${bench.job?.stage}`;
      since = now === stage ? since + FRAME_MS : 0;
      stage = now;
      ms += FRAME_MS;
      const hello =
        ms % 3_600_000 === FRAME_MS
          ? say({ kind: 'HI', firmware: '1.0.0', board: 'soak-1', parts: ['caliper', 'feed'] })
          : '';
      const cutting = bench.job?.stage.endsWith('thread') && since > 20_000 && ms % 6000 === 0;
      if (cutting) total += 1;
      const feed = cutting || ms % 1000 === 0 ? say({ kind: 'FE', total }) : '';
      return hello + feed + say({ kind: 'DI', text: jaws(bench).toFixed(2), unit: 'mm' });
    },
    deed(bench, second) {
      if (second % DEED_EVERY !== 0) return [];
      if (!bench.job || bench.job.closed)
        return bench.mode.kind === 'form' ? [{ kind: 'form-finished' }] : [{ kind: 'new-job-asked' }];
      return mayAct(second / 60, bench.job.stage) ? work(bench, since) : idle(bench);
    },
  };
}

const KEEP: BenchEvent = { kind: 'action', action: 'keep' };
const NEXT: BenchEvent = { kind: 'action', action: 'next' };
const BACK: BenchEvent = { kind: 'action', action: 'back' };

/** While idle at the zero a ring lies in the jaws; elsewhere nothing is touched. */
const idle = (bench: Bench): readonly BenchEvent[] =>
  bench.job?.stage === 'zero' && bench.ring === null
    ? [{ kind: 'typed', text: '20' }, { kind: 'entered' }]
    : [];

/** The next key of a turner who goes through every stage once, from the zero on. */
function work(bench: Bench, since: number): readonly BenchEvent[] {
  const { job } = bench;
  if (!job) return [];
  switch (job.stage) {
    case 'zero':
      return job.zero ? [NEXT] : [KEEP];
    case 'hollow':
      return job.depth ? [NEXT] : [KEEP];
    case 'bore thread':
    case 'spigot thread': {
      const part = job.stage === 'bore thread' ? 'female' : 'male';
      const { tracker, cut } = job.threads[part];
      if (cut) return [NEXT];
      return tracker?.kind === 'tracking' && detentsDone(tracker) < 5 ? [] : [KEEP];
    }
    case 'bore size':
      if (job.bore) return since > 120_000 ? [NEXT] : [];
      if (!job.zero) return [BACK, BACK, BACK];
      return bench.capture && verdictOf(bench.capture).state === 'steady' && since > 90_000 ? [KEEP] : [];
    case 'spigot':
      return job.spigot ? [NEXT] : bench.zone === 'at' ? [KEEP] : [];
    case 'trial':
      return job.trials.length > 0 ? [NEXT] : [{ kind: 'action', action: 'again' }, KEEP];
    case 'record':
      return [{ kind: 'note-asked' }, { kind: 'typed', text: 'a day of many' }, { kind: 'entered' }, KEEP];
    default:
      return job.stage satisfies never;
  }
}
