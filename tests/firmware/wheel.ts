// Turns a feed wheel on a board's pins: quadrature contacts that bounce, or one pulse a detent with a direction.
import type { Pin, SimulatedBoard } from './board.ts';
import type { Chance } from './chance.ts';

export const FEED_A: Pin = { port: 'C', bit: 0 };
export const FEED_B: Pin = { port: 'C', bit: 1 };

/** Levels of A and B, 1 is a closed contact, through one detent of four edges. */
const TURN: readonly (readonly [number, number])[] = [
  [0, 0],
  [1, 0],
  [1, 1],
  [0, 1],
];

/** A closed contact pulls its line low. */
const close = (board: SimulatedBoard, pin: Pin, closed: number): void => board.drive(pin, closed === 0);

/** A detented wheel in quadrature, A leading B when deeper. */
export class QuadratureWheel {
  /** Where the wheel truly stands, in detents. */
  detents = 0;
  readonly #board: SimulatedBoard;
  readonly #chance: Chance;
  #edges = 0;

  constructor(board: SimulatedBoard, chance: Chance) {
    this.#board = board;
    this.#chance = chance;
  }

  /** Plans a turn from `atUs` on, `detentUs` for each detent, each edge bouncing up to `bounces` times; returns its end. */
  turn(detents: number, atUs: number, detentUs: number, bounces = 0): number {
    const way = Math.sign(detents);
    const edgeUs = detentUs / 4;
    let us = atUs;
    for (let edge = 0; edge < 4 * Math.abs(detents); edge++) {
      this.#edges += way;
      const [from, to] = [this.#edges - way, this.#edges];
      this.#plan(to, us);
      for (let n = this.#chance.below(bounces + 1); n > 0; n--) {
        const step = Math.min(400, edgeUs / (8 * bounces));
        us += this.#chance.between(step / 8, step);
        this.#plan(from, us);
        us += this.#chance.between(step / 8, step);
        this.#plan(to, us);
      }
      us = atUs + (edge + 1) * edgeUs;
    }
    this.#board.at(us, () => {
      this.detents += detents;
    });
    return us;
  }

  #plan(edges: number, us: number): void {
    const [a, b] = TURN[((edges % 4) + 4) % 4] ?? [0, 0];
    this.#board.at(us, () => {
      close(this.#board, FEED_A, a);
      close(this.#board, FEED_B, b);
    });
  }
}

/** A wheel that makes one pulse on A for each detent, B closed when deeper. */
export class StepWheel {
  readonly #board: SimulatedBoard;

  constructor(board: SimulatedBoard) {
    this.#board = board;
  }

  /** Plans pulses from `atUs` on, half of `detentUs` closed; returns the end. */
  turn(detents: number, atUs: number, detentUs: number): number {
    const count = Math.abs(detents);
    this.#board.at(atUs, () => close(this.#board, FEED_B, detents > 0 ? 1 : 0));
    for (let n = 0; n < count; n++) {
      const us = atUs + 200 + n * detentUs;
      this.#board.at(us, () => close(this.#board, FEED_A, 1));
      this.#board.at(us + detentUs / 2, () => close(this.#board, FEED_A, 0));
    }
    return atUs + 200 + count * detentUs;
  }
}
