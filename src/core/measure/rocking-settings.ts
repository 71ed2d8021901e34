// What a rocking capture is told beforehand: which side is measured, and how strict it is to be.
import { type Angle, degrees, type Length, mm } from '../units.ts';

/** A bore's true diameter is the largest across; an outside's is the smallest. */
export type Side = 'bore' | 'outside';

export interface CaptureSettings {
  readonly side: Side;
  /** Tops agree when they lie within this span of each other (or within two steps of a coarser caliper). */
  readonly tolerance: Length;
  /** How many tops must agree. */
  readonly leastTops: number;
  /** The axial tilt is unknown within plus or minus this. */
  readonly tiltHalfRange: Angle;
  /** The caliper's limit of error: reported beside the result, not within its uncertainty (see `caliperLimit`). */
  readonly limitOfError: Length;
}

/**
 * A bore's rock is across the axis and cannot see a tilt along it: one degree either way unless told otherwise.
 * Across an outside, parallel jaws read the same however they turn about the axis, so the rock that has a smallest
 * reading is the tilt along the axis itself, and its turning point is where the tilt is nothing.
 * Limit of error 0.03 mm: DIN 862 for digital calipers from 200 to 600 mm, from memory.
 */
export const defaultSettings = (side: Side): CaptureSettings => ({
  side,
  tolerance: mm(0.03),
  leastTops: 3,
  tiltHalfRange: degrees(side === 'bore' ? 1 : 0),
  limitOfError: mm(0.03),
});
