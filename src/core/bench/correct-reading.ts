// From what the caliper showed to what the work is: the zero error off, and on small bores the land of the jaws put back.
import { landCorrected, zeroCorrected } from '../measure/corrections.ts';
import type { CaptureSettings, Side } from '../measure/rocking.ts';
import { type Length, mm } from '../units.ts';
import type { Job } from './job.ts';

/** The diameter, with the corrections this job holds; order: zero first, since the land is found from zeroed readings. */
export function correctReading(job: Job, shown: Length, side: Side): Length {
  const zeroed = job.zero?.applied ? zeroCorrected(shown, job.zero.error) : shown;
  const land = job.ring?.land ?? job.setup.caliper.jawLand ?? mm(0);
  return side === 'bore' ? landCorrected(zeroed, land) : zeroed;
}

/** Capture settings for this job: its caliper's limit of error, and how strict its turner wants to be. */
export function captureSettings(job: Job, base: CaptureSettings): CaptureSettings {
  const { caliper, measuring } = job.setup;
  const strict = measuring && {
    tolerance: measuring.tolerance,
    leastTops: measuring.leastTops,
    tiltHalfRange: measuring.tilt,
  };
  return { ...base, ...strict, limitOfError: caliper.limitOfError };
}
