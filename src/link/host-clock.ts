// The host's own clock: one that never goes back, in whole milliseconds, so that a recorded trace says the same as the live line.
import { type Millis, millis } from '../core/units.ts';

export const hostClock = (): Millis => millis(Math.floor(performance.now()));
