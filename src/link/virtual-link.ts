// The virtual bench as a link: the same lines and timing as a board's, in this process and in real time.
import { type Millis, millis } from '../core/units.ts';
import type { Link, LinkListener } from './link.ts';
import { createVirtualBench, type VirtualBench, type VirtualSettings } from './virtual/bench.ts';
import type { Activity } from './virtual/hand.ts';

export const VIRTUAL_PORT = 'virtual bench';
/** How often the bench is moved on; finer than anything it sends. */
const BEAT = 25;

export interface VirtualLink extends Link {
  /** What the simulated turner does from now on. */
  follow(activity: Activity): void;
  readonly bench: VirtualBench;
}

export interface VirtualLinkSettings extends VirtualSettings {
  /** Whole milliseconds that never go back. */
  readonly now: () => Millis;
}

/** A link that needs no hardware. Lines carry the host time at which the board sent them, whatever the timer did. */
export function createVirtualLink(settings: VirtualLinkSettings): VirtualLink {
  const bench = createVirtualBench(settings);
  let listener: LinkListener | undefined;
  let beat: NodeJS.Timeout | undefined;
  let began = settings.now();
  let reached = 0;

  const moveOn = (): void => {
    const by = settings.now() - began - reached;
    reached += by;
    for (const sent of bench.advance(by)) listener?.line(sent.line, millis(began + sent.at));
  };

  return {
    name: VIRTUAL_PORT,
    bench,
    open(opened) {
      listener = opened;
      began = settings.now();
      listener.event({ kind: 'link-opened', port: VIRTUAL_PORT, heardAt: began });
      beat = setInterval(moveOn, BEAT);
    },
    ask: () => bench.ask(),
    follow: (activity) => bench.follow(activity),
    async close() {
      clearInterval(beat);
      listener = undefined;
    },
  };
}
