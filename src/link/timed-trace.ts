// A recorded trace as a link in its own time, or so many times as fast: the lines come when they came, for eyes to follow.
import { type Millis, millis } from '../core/units.ts';
import type { Trace } from '../wire/trace.ts';
import { hostClock } from './host-clock.ts';
import type { Link, LinkListener } from './link.ts';

/** How often the trace is moved on; finer than an eye sees. */
const BEAT = 15;

export interface TimedTraceLink extends Link {
  /** How far the trace has come in its own milliseconds: the clock of whoever watches it. It goes on after its end. */
  now(): Millis;
}

/**
 * Opening begins to play; every line carries the trace's own time, so that what is made of it is the same at any speed.
 * @param speed trace milliseconds that pass in one of the host's
 */
export function createTimedTrace(
  name: string,
  { rows }: Trace,
  speed: number,
  hostNow: () => Millis = hostClock,
): TimedTraceLink {
  let listener: LinkListener | undefined;
  let beat: NodeJS.Timeout | undefined;
  let began = 0;
  let reached = millis(0);
  let next = 0;
  let ended = false;

  const end = (): void => {
    ended = true;
    const heardAt = rows.at(-1)?.at ?? millis(0);
    listener?.event({ kind: 'link-lost', port: name, why: 'the trace has ended', heardAt });
  };

  const moveOn = (): void => {
    reached = millis(Math.floor((hostNow() - began) * speed));
    for (let row = rows[next]; row && row.at <= reached; row = rows[next]) {
      next += 1;
      listener?.line(row.line, row.at);
    }
    if (next === rows.length && !ended) end();
  };

  return {
    name,
    now: () => reached,
    open(hearer) {
      listener = hearer;
      began = hostNow();
      listener.event({ kind: 'link-opened', port: name, heardAt: millis(0) });
      beat = setInterval(moveOn, BEAT);
    },
    ask: () => undefined,
    async close() {
      clearInterval(beat);
      listener = undefined;
    },
  };
}
