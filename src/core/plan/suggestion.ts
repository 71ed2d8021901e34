// Sensible figures for a box of which only the outside is known yet. All of them common practice, no source.
import type { Pitch } from '../quantity.ts';
import { sharpHeight } from '../thread/form.ts';
import { degrees, type Length, mm, tpi } from '../units.ts';
import { notPositive, type PlanRefusal } from './refusal.ts';

export interface Suggestion {
  readonly kind: 'suggestion';
  readonly pitch: Pitch;
  readonly starts: 1;
  readonly angle: ReturnType<typeof degrees>;
  /** Radial, of both grooves: the basic height 5/8 H at 60 degrees, for a sharp cutter. */
  readonly depth: Length;
  readonly leastWall: Length;
  readonly bore: Length;
  readonly engaged: Length;
  /** Each choice and what it rests on, in words. */
  readonly because: readonly string[];
}

/** Finer threads for smaller boxes, each up to this outside diameter. */
const PITCHES = [
  { upTo: 35, threads: 20 },
  { upTo: 80, threads: 16 },
  { upTo: 120, threads: 12 },
  { upTo: Number.POSITIVE_INFINITY, threads: 10 },
] as const;
const ENGAGED_TURNS = 3;

const threadsFor = (outside: Length): number =>
  PITCHES.find((row) => outside <= row.upTo)?.threads ?? PITCHES[0].threads;

/** Pitch, depth, wall, bore and engagement for an outside diameter; refused where no bore would be left. */
export function suggestPlan(outside: Length): Suggestion | PlanRefusal {
  const wrong = notPositive({ outside });
  if (wrong) return wrong;
  const threads = threadsFor(outside);
  const pitch = tpi(threads);
  const depth = mm((5 / 8) * sharpHeight(pitch, degrees(60)));
  const leastWall = mm(Math.max(2.5, outside / 16));
  const wall = mm(1.5 * leastWall);
  const bore = mm(outside - 2 * (wall + depth));
  const leastOutside = mm(2 * (1.5 * 2.5 + depth) + 6 * pitch);
  if (bore < 6 * pitch) {
    const found = mm((outside - 2 * depth - 6 * pitch) / 2);
    return { kind: 'wall-too-thin', wall: found, leastWall: wall, mostBore: undefined, leastOutside };
  }
  return {
    kind: 'suggestion',
    pitch: { length: pitch, given: { kind: 'tpi', threads } },
    starts: 1,
    angle: degrees(60),
    depth,
    leastWall,
    bore,
    engaged: mm(ENGAGED_TURNS * pitch),
    because: [
      `${threads} TPI for ${outside.toFixed(0)} mm outside: finer threads on smaller boxes (common practice, no source)`,
      `a least wall of ${leastWall.toFixed(1)} mm, a sixteenth of the outside and never under 2.5 mm, and half as much again beside the thread (common practice, no source)`,
      `${ENGAGED_TURNS} threads engaged: enough to hold, few enough to open at ease (common practice, no source)`,
      'a depth of 5/8 H, the basic height at 60 degrees (ISO 68-1), less nothing for a sharp cutter',
    ],
  };
}
