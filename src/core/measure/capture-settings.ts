// How strict a capture is, and which side of the work it measures.
import { type Angle, degrees, type Length, mm } from '../units.ts';

/** A bore's true diameter is the largest across; an outside's is the smallest. */
export type Side = 'bore' | 'outside';

/** +1 for a bore, -1 for an outside: a peak is the largest of this times the reading. */
export const signOf = (side: Side): 1 | -1 => (side === 'bore' ? 1 : -1);

export interface CaptureSettings {
  readonly side: Side;
  /** Peaks agree when they lie within this span of each other (or within two steps of a coarser caliper). */
  readonly tolerance: Length;
  /** How many peaks must agree. */
  readonly leastPeaks: number;
  /** The axial tilt is unknown within plus or minus this. */
  readonly tiltHalfRange: Angle;
}

/**
 * A bore's rock is across the axis and cannot see a tilt along it: one degree either way unless set otherwise.
 * Across an outside, parallel jaws read the same however they turn about the axis, so the rock that has a smallest
 * reading is the tilt along the axis itself, and it turns where the tilt is zero.
 */
export const defaultSettings = (side: Side): CaptureSettings => ({
  side,
  tolerance: mm(0.03),
  leastPeaks: 3,
  tiltHalfRange: degrees(side === 'bore' ? 1 : 0),
});
