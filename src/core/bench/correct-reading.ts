// From what the caliper showed to what the work is: the zero error off, and on small bores the land of the jaws put back.

import type { CaptureSettings, Side } from '../measure/capture-settings.ts';
import { landCorrected, zeroCorrected } from '../measure/corrections.ts';
import { type Length, mm } from '../units.ts';
import type { Job } from './job.ts';
import type { Measuring } from './setup.ts';

/** The diameter, with the corrections this job holds; order: zero first, since the land is found from zeroed readings. */
export function correctReading(job: Job, shown: Length, side: Side): Length {
  const zeroed = job.zero?.applied ? zeroCorrected(shown, job.zero.error) : shown;
  const land = job.ring?.land ?? job.setup.caliper.jawLand ?? mm(0);
  return side === 'bore' ? landCorrected(zeroed, land) : zeroed;
}

/** Capture settings for this job: how strict its turner wants to be. */
export function captureSettings(
  { setup: { measuring } }: { readonly setup: { readonly measuring?: Measuring | undefined } },
  base: CaptureSettings,
): CaptureSettings {
  if (!measuring) return base;
  return {
    ...base,
    tolerance: measuring.tolerance,
    leastPeaks: measuring.leastTops,
    tiltHalfRange: measuring.tilt,
  };
}
