// What agreeing tops amount to: the diameter, its tilt taken off, and its standard uncertainty.
import { type Length, mm } from '../units.ts';
import type { Agreement } from './rocking-agreement.ts';
import type { CaptureSettings } from './rocking-settings.ts';
import type { Agreed } from './rocking-verdict.ts';
import { type Contribution, rectangular, standardOf } from './uncertainty.ts';

/**
 * The diameter, its tilt taken off, and its standard uncertainty as this caliper shows it. The caliper's own limit of
 * error is given beside it and is NOT within `standardUncertainty`: it is the same for bore and spigot
 * measured with one caliper, so the budget of the fit takes it once, and the capture answers for what rocking can answer for.
 */
export function resultOf(agreement: Agreement, settings: CaptureSettings): Agreed {
  const tilt = tiltOf(agreement.value, settings);
  const contributions = contributionsOf(agreement, tilt.standard);
  const combined = standardOf(contributions);
  return {
    state: 'agreed',
    diameter: mm(agreement.value - tilt.mean),
    standardUncertainty: mm(combined.standard),
    degreesOfFreedom: combined.degreesOfFreedom,
    contributions,
    caliper: { name: 'caliper', standard: rectangular(settings.limitOfError), ...EXACT },
    tops: agreement.nearby.length,
    agreeing: agreement.agreeing.length,
    spread: agreement.spread,
    tiltTakenOff: tilt.mean,
  };
}

const EXACT = { sensitivity: 1, degreesOfFreedom: Number.POSITIVE_INFINITY } as const;

/** D (1/cos T - 1) for T uniform within the half-range: mean D T^2/6, standard deviation D T^2 / sqrt(45) = 0.149 D T^2. */
function tiltOf(diameter: Length, { tiltHalfRange }: CaptureSettings): { mean: Length; standard: number } {
  const square = diameter * tiltHalfRange ** 2;
  return { mean: mm(square / 6), standard: square / Math.sqrt(45) };
}

function contributionsOf(agreement: Agreement, tilt: number): readonly Contribution[] {
  const { agreement: standard, degreesOfFreedom, sharedRounding } = agreement;
  return [
    { name: 'agreement', standard, sensitivity: 1, degreesOfFreedom },
    { name: 'resolution', standard: sharedRounding, ...EXACT },
    { name: 'tilt', standard: tilt, ...EXACT },
  ];
}
