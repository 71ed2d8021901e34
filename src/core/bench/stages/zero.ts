// Zero: jaws closed, the error shown and held as a correction if agreed; a ring of known size for the jaw land if wanted.
import { CLOSED_AT_MOST, checkZero, jawLandFrom } from '../../measure/corrections.ts';
import { addReading, defaultSettings, startCapture, verdictOf } from '../../measure/rocking.ts';
import { type Length, mm } from '../../units.ts';
import { corrected } from '../correct-reading.ts';
import type { KeptReading } from '../entry.ts';
import { kept, type Outcome, refused, unchanged } from '../outcome.ts';
import { TRAIL_AT_MOST } from '../state.ts';
import { settledOf } from '../steady.ts';
import { typedReading } from '../typed-reading.ts';
import { badNumber, fresh, listening, type StageRules, untakeable, type WithJob } from './rules.ts';

/** A larger typed number is the size of a ring. */
const RING_AT_LEAST = 3;

function takeZero(bench: WithJob): Outcome {
  const why = untakeable(bench);
  if (why) return refused(bench, why);
  const check = checkZero(bench.heard);
  const board = bench.line.board?.board;
  switch (check.kind) {
    case 'too-few':
      return refused(bench, { kind: 'no-reading' });
    case 'wandering':
      return refused(bench, { kind: 'zero-wanders', spread: check.spread, allowed: check.allowed });
    case 'steady': {
      if (Math.abs(check.error) > CLOSED_AT_MOST)
        return refused(bench, { kind: 'jaws-open', shown: check.error, most: CLOSED_AT_MOST });
      const fact = {
        kind: 'zero-taken',
        error: check.error,
        standard: check.standard,
        applied: true,
      } as const;
      return kept({ ...bench, heard: [] }, board === undefined ? fact : { ...fact, board }, bench.heard);
    }
    default:
      return check satisfies never;
  }
}

/** The ring as measured: the rocked maximum where it agreed, else a typed or held value. */
function ringMeasured(bench: WithJob): Length | undefined {
  const verdict = bench.capture && verdictOf(bench.capture);
  if (verdict?.state === 'agreed') return verdict.diameter;
  return untakeable(bench) ? undefined : settledOf(bench.heard)?.value;
}

function takeRing(bench: WithJob, ring: number): Outcome {
  const measured = ringMeasured(bench);
  if (measured === undefined) return refused(bench, untakeable(bench) ?? { kind: 'moving' });
  const zeroed = corrected(bench.job, measured, 'outside');
  const land = jawLandFrom(mm(ring), zeroed);
  if (land.kind !== 'land') return refused(bench, land);
  return kept(
    fresh(bench),
    { kind: 'ring-taken', known: mm(ring), measured: zeroed, land: land.width },
    bench.heard,
  );
}

function typed(bench: WithJob, text: string): Outcome {
  const parsed = typedReading(bench, text);
  if (!parsed.ok) return badNumber(bench, parsed.found, parsed.accepted);
  const reading = parsed.value;
  if (bench.ring !== null || Math.abs(reading.value) <= CLOSED_AT_MOST)
    return listening({ ...bench, typed: '' }, reading);
  if (reading.value >= RING_AT_LEAST)
    return unchanged({
      ...bench,
      ring: reading.value,
      heard: [],
      capture: startCapture(defaultSettings('bore')),
      typed: '',
    });
  return badNumber(
    bench,
    text,
    'what the closed jaws read (under 1 mm), or the size of a ring (3 mm or more)',
  );
}

function heard(bench: WithJob, reading: KeptReading): Outcome {
  const next = listening(bench, reading);
  if (bench.ring === null || !bench.capture) return next;
  const full = bench.capture.readings.length >= TRAIL_AT_MOST;
  const capture = full ? startCapture(bench.capture.settings) : bench.capture;
  return { ...next, bench: { ...next.bench, capture: addReading(capture, reading) } };
}

export const zero: StageRules = {
  entered: fresh,
  heard,
  take: (bench) => (bench.ring === null ? takeZero(bench) : takeRing(bench, bench.ring)),
  again: (bench) => unchanged(fresh(bench)),
  typed,
};
