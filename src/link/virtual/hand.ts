// The simulated turner's hand on the caliper: for each scene, the moves it makes, one after another, without end.
import { degrees } from '../../core/units.ts';
import type { Chance } from './chance.ts';
import { atTarget, pass, type Work } from './lathe.ts';
import { glide, hold, type Move, swingInBore, swingOverSpigot } from './moves.ts';
import type { Scene } from './scene.ts';

export interface Bench {
  readonly chance: Chance;
  work: Work;
}

/** The moves of a scene; `opening` says where the jaws are as each begins. */
export function movesOf(scene: Scene, bench: Bench, opening: () => number): Iterator<Move> {
  switch (scene.doing) {
    case 'rest':
    case 'trial':
    case 'touch-off':
    case 'feed-in':
      return resting(opening);
    case 'close-jaws':
      return closing(opening);
    case 'measure-hollow':
      return rocking(bench.work.hollow[scene.where], bench.chance, opening);
    case 'rock-bore':
      return rocking(bench.work.bore, bench.chance, opening);
    case 'cut-spigot':
      return cutting(scene.target, bench, opening);
    default: {
      const never: never = scene;
      throw new TypeError(`no such scene: ${JSON.stringify(never)}`);
    }
  }
}

function* resting(opening: () => number): Generator<Move> {
  while (true) yield hold(opening(), 1000);
}

function* closing(opening: () => number): Generator<Move> {
  yield glide(opening(), 0, 900);
  while (true) yield hold(0, 1000);
}

/** In at an angle, out to the walls, then swing after swing through the diameter, no two alike. */
function* rocking(diameter: number, chance: Chance, opening: () => number): Generator<Move> {
  yield glide(opening(), diameter - chance.between(3, 5), 700);
  let side = chance.share() < 0.5 ? -1 : 1;
  let off = side * chance.between(1.8, 2.6);
  yield glide(opening(), Math.sqrt(diameter ** 2 - 4 * off ** 2), 600);
  while (true) {
    side = -side;
    const next = side * chance.between(1.4, 2.6);
    const tilt = chance.spread(degrees(0.3));
    yield swingInBore(diameter, off, next, tilt, chance.between(800, 1300));
    off = next;
  }
}

/** Pass by pass: the jaws keep the last size while he cuts, then come over the work with the lathe stopped. */
function* cutting(target: number, bench: Bench, opening: () => number): Generator<Move> {
  const { chance } = bench;
  while (!atTarget(bench.work, target)) {
    yield hold(opening(), chance.between(1200, 2200));
    bench.work = pass(bench.work, target, chance);
    yield* over(bench.work.spigot ?? target, chance, opening);
    yield* swings(bench.work.spigot ?? target, chance, 2);
  }
  yield* over(bench.work.spigot ?? target, chance, opening);
  while (true) {
    const diameter = bench.work.spigot ?? target;
    yield* swings(diameter, chance, 2);
    yield glide(opening(), diameter, 400);
    yield hold(diameter, STILL_MS);
  }
}

/** How long the jaws then rest square on the spigot: time for somebody to read the screen and press a key. */
const STILL_MS = 6000;

function* over(diameter: number, chance: Chance, opening: () => number): Generator<Move> {
  const clear = Math.max(opening(), diameter) + chance.between(0.6, 1.2);
  yield glide(opening(), clear, 350);
  yield glide(clear, diameter / Math.cos(OVER_TILT), 500);
}

const OVER_TILT = degrees(4);

function* swings(diameter: number, chance: Chance, count: number): Generator<Move> {
  let tilt: number = OVER_TILT;
  for (let swing = 0; swing < count; swing++) {
    const next = swing === count - 1 ? OVER_TILT : -chance.between(degrees(3), degrees(5));
    yield swingOverSpigot(diameter, tilt, next, chance.between(800, 1200));
    tilt = next;
  }
}
