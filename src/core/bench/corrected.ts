// From what the caliper showed to what the work is: the zero error off, and on small bores the land of the jaws put back.
import { landCorrected, zeroCorrected } from '../measure/corrections.ts';
import type { CaptureSettings, Side } from '../measure/rocking.ts';
import type { Length } from '../units.ts';
import type { Job } from './job.ts';

/** The diameter, with the corrections this job holds; order: zero first, since the land is found from zeroed readings. */
export function corrected(job: Job, shown: Length, side: Side): Length {
  const zeroed = job.zero?.applied ? zeroCorrected(shown, job.zero.error) : shown;
  const land = job.ring?.land ?? job.setup.caliper.jawLand;
  return side === 'bore' && land !== undefined && land > 0 ? landCorrected(zeroed, land) : zeroed;
}

/** Capture settings for this job's caliper. */
export const captureSettings = (job: Job, base: CaptureSettings): CaptureSettings => ({
  ...base,
  limitOfError: job.setup.caliper.limitOfError,
});
