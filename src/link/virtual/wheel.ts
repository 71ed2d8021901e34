// The feed wheel under the simulated hand: when it passes its next detent, and which way.
import type { Chance } from './chance.ts';
import type { Scene } from './scene.ts';

export interface Turn {
  readonly after: number;
  readonly by: 1 | -1;
}

/** The detents of a scene, each so many milliseconds after the one before; then the wheel is let be. */
export function turnsOf(scene: Scene, chance: Chance): readonly Turn[] {
  if (scene.doing === 'touch-off') return touchingOff(chance);
  if (scene.doing !== 'feed-in') return [];
  const by = scene.detents < 0 ? -1 : 1;
  return Array.from({ length: Math.abs(scene.detents) }, () => ({
    after: Math.round(chance.between(900, 1500)),
    by,
  }));
}

/** Quickly in, then slower and slower until the cutter just touches. */
function touchingOff(chance: Chance): readonly Turn[] {
  const detents = Math.round(chance.between(5, 9));
  return Array.from({ length: detents }, (_, index) => ({
    after: Math.round(chance.between(180, 260) + (index * 700) / detents),
    by: 1,
  }));
}
