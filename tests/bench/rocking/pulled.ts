// The second hand, of another making: a mass on a soft damped spring whose far end is thrown from side to side at chance moments.
import type { Path } from './path.ts';
import { TICK } from './path.ts';
import type { Chance } from './random.ts';

/**
 * A path that crosses the diameter about this many times. Throws of 1.5 to 4.5 mm, natural frequency 0.6 to 1.3 Hz at pace 1, damping 0.5 to 1.2 of critical,
 * throws at irregular moments (never planned ahead, so it overshoots, rings, creeps and sometimes turns short of the diameter),
 * a centre that wanders, white noise in the force; the seat is a slow process of chance, badly seated about a tenth of the time.
 */
export function pulled(chance: Chance, diameter: number, count: number, pace: number): Path {
  const reach = Math.min(chance.between(1.5, 4.5), (diameter / 2) * Math.sin((11 * Math.PI) / 180));
  const natural = 2 * Math.PI * chance.between(0.6, 1.3) * pace;
  const damping = chance.between(0.5, 1.2);
  const every = chance.between(500, 1300) / pace;
  const seconds = TICK / 1000;
  const offset: number[] = [];
  const unseated: number[] = [];
  let side = chance.happens(0.5) ? 1 : -1;
  let e = side * reach * chance.between(0.3, 1);
  let [speed, centre, seat] = [0, 0, 0.5];
  for (let thrown = 0; thrown < count; thrown++) {
    side = -side;
    const end = side * reach * chance.between(0.5, 1.4);
    const ticks = Math.round((every * chance.between(0.6, 1.6)) / TICK);
    for (let tick = 0; tick < ticks; tick++) {
      centre += -centre * seconds * 0.5 + chance.normal(0.15 * reach * Math.sqrt(seconds));
      seat += -seat * seconds * 0.8 + chance.normal(Math.sqrt(1.6 * seconds));
      const force = natural ** 2 * (end + centre - e) - 2 * damping * natural * speed;
      speed += force * seconds + chance.normal(natural * reach * 0.4 * Math.sqrt(seconds));
      e += speed * seconds;
      offset.push(e);
      unseated.push(0.03 * Math.max(0, seat - 1.3));
    }
  }
  return { offset, unseated };
}
