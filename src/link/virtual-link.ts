// The virtual bench as a link: the same lines and timing as a board's, in this process, in a time that can be slowed and stopped.
import { type Millis, millis } from '../core/units.ts';
import type { LinkListener } from './link.ts';
import { VirtualBench, type VirtualSettings } from './virtual/bench.ts';

const VIRTUAL_PORT = 'virtual bench';
/** How often the bench is moved on; finer than anything it sends. */
const BEAT = 25;

export type VirtualLink = ReturnType<typeof createVirtualLink>;

/**
 * A link that needs no hardware. Lines carry the time at which the board sent them, however late the timer is.
 * @param hostNow whole milliseconds that never go back
 */
export function createVirtualLink(settings: VirtualSettings, hostNow: () => Millis) {
  const bench = new VirtualBench(settings);
  let listener: LinkListener | undefined;
  let beat: NodeJS.Timeout | undefined;
  let began = hostNow();
  let lookedAt: number = began;
  let pace = 1;
  /** Milliseconds that the bench should have run by now, with their fraction, and those that it has run. */
  let due = 0;
  let reached = 0;

  const pass = (): void => {
    const host = hostNow();
    due += (host - lookedAt) * pace;
    lookedAt = host;
  };

  const moveOn = (): void => {
    pass();
    const by = Math.floor(due) - reached;
    reached += by;
    for (const sent of bench.advance(by)) listener?.line(sent.line, millis(began + sent.at));
  };

  return {
    name: VIRTUAL_PORT,
    bench,
    /** How far the virtual bench has come, on the host's clock as it was when the link opened: the clock of whoever watches it. */
    now: (): Millis => millis(began + reached),
    open(opened: LinkListener): void {
      listener = opened;
      began = hostNow();
      lookedAt = began;
      listener.event({ kind: 'link-opened', port: VIRTUAL_PORT, heardAt: began });
      beat = setInterval(moveOn, BEAT);
    },
    ask: (): void => bench.ask(),
    /** Milliseconds of the bench that pass in one of the host's from now on; 0 stops its time. */
    setPace(next: number): void {
      pass();
      pace = next;
    },
    async close(): Promise<void> {
      clearInterval(beat);
      listener = undefined;
    },
  };
}
