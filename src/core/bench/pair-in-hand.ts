// A feed's worth per detent from a pair that runs, as a turner has it in hand: cut by counting, then measured.
import { combine, diameterContributions, rectangular } from '../measure/uncertainty.ts';
import {
  type Calibration,
  type CalibrationRefusal,
  calibrateByPair,
  type RunningPair,
} from '../thread/calibrate.ts';
import { wideningOf } from '../thread/milling.ts';
import { type Length, mm } from '../units.ts';
import type { CaliperFacts, Cutter } from './setup.ts';

/** A pair that runs, as the turner has it in hand. */
export interface PairInHand {
  readonly pitch: { readonly length: Length };
  readonly starts: number;
  readonly cutter: Cutter;
  readonly caliper: CaliperFacts;
  readonly bore: Length;
  readonly spigot: Length;
  readonly detents: { readonly female: number; readonly male: number };
  /** Axial shake of the closed lid, known within plus or minus `playWithin`. */
  readonly play: Length;
  readonly playWithin: Length;
  readonly touchOffWithin: Length;
  /** Standard uncertainties of the two diameters, where more is known of them than what the caliper's sheet says. */
  readonly standard?: { readonly bore: Length; readonly spigot: Length };
}

const standardOf = (of: PairInHand, name: 'bore' | 'spigot'): Length =>
  of.standard?.[name] ??
  mm(combine(diameterContributions({ name, diameter: of[name], caliper: of.caliper })).standard);

const runningPair = (of: PairInHand, perDetent: Length): RunningPair => {
  const { pitch, starts, cutter, bore, spigot, play, touchOffWithin } = of;
  const groove = (part: 'female' | 'male', surface: Length) => {
    const detents = of.detents[part];
    return { tip: cutter.tip, detents, widening: wideningOf(of, part, surface, mm(perDetent * detents)) };
  };
  return {
    pitch: pitch.length,
    starts,
    angle: cutter.angle,
    female: groove('female', bore),
    male: groove('male', spigot),
    bore,
    spigot,
    play,
    standard: {
      bore: standardOf(of, 'bore'),
      spigot: standardOf(of, 'spigot'),
      play: mm(rectangular(of.playWithin)),
    },
    touchOffWithin,
  };
};

/** How often the widening of a disc cutter, which hangs on the depth a little, is put in again; it settles in two. */
const ROUNDS = 4;

/** The feed that makes this pair run with this play: section 2 of the sums solved for it, the disc cutter's widening put in. */
export function calibrateByPairInHand(of: PairInHand): Calibration | CalibrationRefusal {
  let made = calibrateByPair(runningPair(of, mm(0)));
  for (let round = 0; round < ROUNDS && made.kind === 'calibration'; round += 1)
    made = calibrateByPair(runningPair(of, made.perDetent));
  return made;
}
