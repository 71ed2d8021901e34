// From a capture's evidence to its answer: waiting, rocking, agreed or doubtful, and why.
import { mm } from '../units.ts';
import type { Capture } from './rocking-capture.ts';
import type { Course } from './rocking-found.ts';
import type { Advice, Doubt, Verdict } from './rocking-verdict.ts';
import { itemAt } from './series.ts';

/** When a capture that goes on is called doubtful before it is ended; our own figures, kept as data. */
export const PATIENCE = {
  /** Share of readings thrown out that is too many, once there are so many readings. */
  bad: { share: 0.25, of: 24 },
  /** Tops near one another without agreement. */
  tops: 12,
  /** Readings on one course, for so long, without a top. */
  still: { readings: 40, millis: 10_000 },
} as const;

/** The answer so far; after `finishCapture` either agreed or doubtful. Constant cost. */
export function verdictOf(capture: Capture): Verdict {
  const doubt = doubtOf(capture);
  if (doubt) return doubtful(capture, doubt);
  const { agreement, agreed, tops } = capture.found;
  if (agreed) return agreed;
  const { believed, turns } = capture.course;
  const last = itemAt(believed, believed.length - 1);
  if (!last || (tops.length === 0 && turns?.phase === 'level')) return { state: 'waiting' };
  return {
    state: 'rocking',
    live: last.reading.value,
    tops: agreement?.nearby.length ?? 0,
    agreeing: agreement?.agreeing.length ?? 0,
    spread: agreement?.spread ?? null,
  };
}

function doubtful(capture: Capture, reason: Doubt): Verdict {
  const { agreement } = capture.found;
  return {
    state: 'doubtful',
    reason,
    advice: adviceFor(reason),
    tops: agreement?.nearby.length ?? 0,
    agreeing: agreement?.agreeing.length ?? 0,
    spread: agreement?.spread ?? null,
  };
}

function doubtOf(capture: Capture): Doubt | null {
  const { agreement, agreed, drift, tops } = capture.found;
  const { changed } = capture.units;
  const bad = badReadings(capture);
  if (bad) return bad;
  if (drift) return drift;
  if (agreed) return null;
  if (changed) return { kind: 'unit-changed', ...changed };
  if (capture.finished || (agreement?.nearby.length ?? 0) >= PATIENCE.tops) return unclosed(capture);
  return tops.length === 0 && still(capture.course)
    ? { kind: 'not-rocked', readings: capture.course.believed.length - capture.course.start }
    : null;
}

function badReadings({ readings, thrown }: Capture): Doubt | null {
  const { share, of } = PATIENCE.bad;
  const many = readings.length >= of && thrown.length > share * readings.length;
  return many ? { kind: 'too-many-bad-readings', bad: thrown.length, of: readings.length } : null;
}

/** Why a capture did not close. */
function unclosed({ readings, course, found, settings }: Capture): Doubt {
  const { agreement } = found;
  if (readings.length === 0) return { kind: 'no-readings' };
  if (!agreement) return { kind: 'not-rocked', readings: course.believed.length };
  const { nearby, agreeing, beyond, spread } = agreement;
  const needed = settings.leastTops;
  if (nearby.length < needed) return { kind: 'too-few-tops', found: nearby.length, needed };
  const leader = agreeing[0];
  if (agreeing.length >= needed && beyond[0] && leader) {
    const farthest = Math.max(...beyond.map((top) => Math.abs(top.value - leader.value)));
    return { kind: 'top-beyond', agreeing: agreeing.length, beyond: mm(farthest) };
  }
  return { kind: 'tops-disagree', agreeing: agreeing.length, needed, spread };
}

function still({ believed, start }: Course): boolean {
  const first = itemAt(believed, start);
  const last = itemAt(believed, believed.length - 1);
  const { readings, millis } = PATIENCE.still;
  return first && last
    ? believed.length - start > readings && last.reading.at - first.reading.at > millis
    : false;
}

function adviceFor(reason: Doubt): Advice {
  switch (reason.kind) {
    case 'no-readings':
      return 'connect';
    case 'not-rocked':
      return 'rock';
    case 'too-few-tops':
      return 'rock-more';
    case 'tops-disagree':
      return 'rock-slower';
    case 'top-beyond':
      return 'seat-and-rock-again';
    case 'drifting':
      return 'let-settle';
    case 'unit-changed':
      return 'keep-unit';
    case 'too-many-bad-readings':
      return 'check-cable';
    default:
      return reason satisfies never;
  }
}
