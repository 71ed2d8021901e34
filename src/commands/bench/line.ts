// A link joined to the bench: bytes become lines, lines events, and silence is noticed by the clock.
import type { BenchEvent } from '../../core/bench/event.ts';
import type { LengthUnit } from '../../core/units.ts';
import type { Link } from '../../link/link.ts';
import { hostClock } from '../../link/serial-link.ts';
import { createWatch } from '../../wire/watch.ts';

export interface JoinedLine {
  /** To be called a few times a second. */
  tick(): void;
  close(): Promise<void>;
}

export function joinLine(
  link: Link,
  bareUnit: LengthUnit,
  dispatch: (event: BenchEvent) => void,
): JoinedLine {
  const watch = createWatch({ bareUnit });
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
    tick() {
      if (open) watch.tick(hostClock(), dispatch);
    },
    close: () => link.close(),
  };
}
