// A link joined to the bench: bytes become lines, lines events, and silence is noticed by the clock.
import type { BenchEvent } from '../../core/bench/event.ts';
import type { LengthUnit, Millis } from '../../core/units.ts';
import type { Link } from '../../link/link.ts';
import { Watch } from '../../wire/watch.ts';

/** What the kit says about the two devices on the line. */
export interface Devices {
  /** What a bare number from the caliper means. */
  readonly bareUnit: LengthUnit;
  /** Which way the board's count goes as the cutter goes deeper. */
  readonly deeper: 'up' | 'down';
}

/** The event with its count reversed where the feed counts down as the cutter goes deeper. */
const countedDeeper = (event: BenchEvent, deeper: 'up' | 'down'): BenchEvent =>
  deeper === 'down' && event.kind === 'feed-counted' ? { ...event, total: 0 - event.total } : event;

/** `now` is the clock of the link's own times. */
export function joinLine(
  link: Link,
  { bareUnit, deeper }: Devices,
  hear: (event: BenchEvent) => void,
  now: () => Millis,
) {
  const dispatch = (event: BenchEvent): void => hear(countedDeeper(event, deeper));
  const watch = new Watch(bareUnit);
  let open = false;
  link.open({
    line: (text, heardAt) => watch.push(text, heardAt, dispatch),
    unfinished: (tail, heardAt) => watch.unfinished(tail, heardAt, dispatch),
    event(event) {
      open = event.kind === 'link-opened';
      dispatch(event);
    },
  });
  return {
    /** To be called a few times a second. */
    tick() {
      if (open) watch.tick(now(), dispatch);
    },
    close: () => link.close(),
  };
}
