// The readings of a stage: typed or received, corrected, held still, too odd to keep without asking; and why the newest can't be kept.
import { addReading, type Capture, startCapture } from '../../measure/capture.ts';
import { type CaptureSettings, defaultSettings, type Side } from '../../measure/capture-settings.ts';
import { landCorrected, zeroCorrected } from '../../measure/corrections.ts';
import type { Reading } from '../../measure/reading.ts';
import { medianOf } from '../../statistics.ts';
import { type Length, mm } from '../../units.ts';
import type { How, KeptReading } from '../entry.ts';
import type { Job } from '../job.ts';
import { isStale } from '../line.ts';
import { badNumber, becomes, type Outcome, unchanged } from '../outcome.ts';
import type { Measuring } from '../setup.ts';
import { HEARD_AT_MOST, type KeepQuestion, type Refusal, TRAIL_AT_MOST } from '../state.ts';
import { typedReading } from '../typed-quantity.ts';
import type { WithJob } from './rules.ts';

/** The diameter, with the corrections this job holds; order: zero first, since the land is found from zeroed readings. */
export function correctReading(job: Job, shown: Length, side: Side): Length {
  const zeroed = job.zero?.applied ? zeroCorrected(shown, job.zero.error) : shown;
  const land = job.ring?.land ?? job.setup.caliper.jawLand ?? mm(0);
  return side === 'bore' ? landCorrected(zeroed, land) : zeroed;
}

/** How a bore is captured: as strict as its turner wants to be. */
export const boreSettings = (measuring: Measuring | undefined): CaptureSettings => ({
  ...defaultSettings('bore'),
  ...(measuring && {
    tolerance: measuring.tolerance,
    leastPeaks: measuring.leastTops,
    tiltHalfRange: measuring.tilt,
  }),
});

/** One reading more in a capture that counts to its end; one that is full starts over. */
export const captured = (capture: Capture, reading: Reading): Capture =>
  addReading(capture.readings.length < TRAIL_AT_MOST ? capture : startCapture(capture.settings), reading);

/** What makes a value held rather than moving; our own choice. */
export const STILL = { readings: 3, steps: 2, forMs: 200 } as const;

interface HeldStill {
  readonly value: Length;
  readonly readings: readonly KeptReading[];
}

/**
 * The value held still at the end of these readings (oldest first), or undefined while it moves.
 * A typed value (no raw line) is held by definition. The value is the median of the still readings.
 */
export function steadyOf(heard: readonly KeptReading[]): HeldStill | undefined {
  const last = heard.at(-1);
  if (!last) return undefined;
  if (last.raw === '') return { value: last.value, readings: [last] };
  const still: KeptReading[] = [];
  for (const reading of heard.toReversed()) {
    const near = Math.abs(reading.value - last.value) <= STILL.steps * last.step * (1 + 1e-9);
    if (!near || reading.raw === '') break;
    still.unshift(reading);
  }
  const held = last.at - (still[0]?.at ?? last.at);
  if (still.length < STILL.readings || held < STILL.forMs) return undefined;
  return { value: mm(medianOf(still.map((reading) => reading.value))), readings: still };
}

export const rememberReading = (bench: WithJob, reading: KeptReading, at = bench.readings.length): Outcome =>
  becomes(bench, {
    readings: bench.readings.toSpliced(at, 0, reading).slice(-HEARD_AT_MOST),
    lifted: reading.raw === '' ? null : bench.lifted,
  });

/** A length typed at a stage, as the reading it is. */
export function withTyped(bench: WithJob, text: string, then: (reading: KeptReading) => Outcome): Outcome {
  const parsed = typedReading(bench, text);
  return parsed.ok ? then(parsed.value) : badNumber(bench, parsed.found, parsed.accepted);
}

/** The value held still at the end of the readings, and how it was measured; or why none can be kept. */
export function heldStill(bench: WithJob): (HeldStill & { readonly how: How }) | Refusal {
  const why = whyNotKept(bench);
  if (why) return why;
  const held = steadyOf(bench.readings);
  return held ? { ...held, how: held.readings[0]?.raw === '' ? 'typed' : 'read' } : { kind: 'moving' };
}

/** What is said of the newest reading: a typed one needs no jaws held still. */
export type Held = 'typed' | 'still' | 'moving';
export function howHeld(bench: WithJob): Held {
  const held = heldStill(bench);
  if ('kind' in held) return 'moving';
  return held.how === 'typed' ? 'typed' : 'still';
}

/** Why the last reading can't be kept; undefined where it can. A typed value does not age. */
export function whyNotKept(bench: WithJob): Refusal | undefined {
  const last = bench.readings.at(-1);
  if (!last) return { kind: 'no-reading' };
  return last.raw !== '' && isStale(bench) ? { kind: 'stale-reading' } : undefined;
}

/** For stages that do not look at the caliper. */
export const ignoreReadings = (bench: WithJob): Outcome => unchanged(bench);

/** Diameters of threaded boxes, and of what an ordinary 150 mm caliper measures; our own choice. */
const ORDINARY = { from: mm(8), to: mm(150) };
/** Further from what is expected than this, or a tenth of it, is odd; our own choice. */
const FAR = mm(3);

const oddSize = (isOdd: boolean, found: Length, expected: Length | null): KeepQuestion | null =>
  isOdd ? { kind: 'odd-size', found, expected } : null;

/** What to ask of a bore; `expected` is the planned one, null where nothing is known. */
export const oddBore = (value: Length, expected: Length | null): KeepQuestion | null => {
  const isFar = expected !== null && Math.abs(value - expected) > Math.max(FAR, expected / 10);
  return oddSize(value < ORDINARY.from || value > ORDINARY.to || isFar, value, expected);
};

/** Ovality and taper of a round part are below this, or below a fiftieth of its size; our own choice. */
export const oddShape = (found: Length, known: Length): KeepQuestion | null =>
  Math.abs(found - known) > Math.max(mm(1), known / 50) ? { kind: 'odd-shape', found, known } : null;

/** A spigot may be as large as its blank, but never much smaller than its target. */
export const oddSpigot = (value: Length, target: Length | null): KeepQuestion | null => {
  const isSmall = target !== null && target - value > Math.max(FAR, target / 10);
  return oddSize(value > ORDINARY.to || isSmall, value, target);
};
