// Turns a feed wheel on a board's pins: quadrature contacts that bounce, or one pulse a detent with a direction.
import type { Chance } from '../support/chance.ts';
import type { Pin, PlannedBoard } from './planned-board.ts';

export const FEED_A: Pin = { port: 'C', bit: 0 };
export const FEED_B: Pin = { port: 'C', bit: 1 };

/** Levels of A and B, 1 is a closed contact, through one detent of four edges. */
const TURN: readonly (readonly [number, number])[] = [
  [0, 0],
  [1, 0],
  [1, 1],
  [0, 1],
];

abstract class Wheel {
  protected readonly board: PlannedBoard;
  protected readonly lines: readonly [a: Pin, b: Pin];

  constructor(board: PlannedBoard, lines: readonly [a: Pin, b: Pin] = [FEED_A, FEED_B]) {
    this.board = board;
    this.lines = lines;
  }

  protected set(line: 0 | 1, closed: number): void {
    // A closed contact pulls its line low.
    this.board.drive(this.lines[line], closed === 0);
  }

  /** Plans a turn by whole detents from `atUs` on, `detentUs` for each, its edges bouncing up to `bounces` times; returns its end. */
  abstract turn(detents: number, atUs: number, detentUs: number, bounces?: number): number;

  /** Turns now, and lets the board say what it counted. */
  turned(detents: number, detentUs: number, bounces?: number): void {
    const { us } = this.board;
    this.board.run(this.turn(detents, us, detentUs, bounces) - us + 30_000);
  }
}

/** A detented wheel in quadrature, A leading B when deeper. */
export class QuadratureWheel extends Wheel {
  /** Where the wheel truly stands, in detents. */
  detents = 0;
  readonly #chance: Chance;
  #edges = 0;

  constructor(board: PlannedBoard, chance: Chance, lines?: readonly [a: Pin, b: Pin]) {
    super(board, lines);
    this.#chance = chance;
  }

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
    this.board.at(us, () => {
      this.detents += detents;
    });
    return us;
  }

  #plan(edges: number, us: number): void {
    const [a, b] = TURN[((edges % 4) + 4) % 4] ?? [0, 0];
    this.board.at(us, () => {
      this.set(0, a);
      this.set(1, b);
    });
  }
}

/**
 * A wheel with a position. Line A is closed in the first half of each detent; line B is closed while the wheel turns
 * deeper, and changes before A can.
 */
export class StepWheel extends Wheel {
  /** In half detents from where the wheel stood at first, just before its first detent. */
  #half = -1;

  /** How many detents have begun: where the wheel truly stands. */
  get detents(): number {
    return Math.floor(this.#half / 2) + 1;
  }

  turn(detents: number, atUs: number, detentUs: number): number {
    return this.#halves(this.#half + 2 * detents, atUs, detentUs / 2);
  }

  /** Plans a turn to a place, in detents from the first detent's start; returns its end. */
  moveTo(detents: number, atUs: number): number {
    return this.#halves(Math.floor(detents * 2), atUs, 20_000);
  }

  #halves(to: number, atUs: number, halfUs: number): number {
    const way = Math.sign(to - this.#half);
    this.board.at(atUs, () => this.set(1, way > 0 ? 1 : 0));
    let us = atUs + 200;
    for (; this.#half !== to; us += halfUs) {
      this.#half += way;
      const closed = this.#half % 2 === 0 ? 1 : 0;
      this.board.at(us, () => this.set(0, closed));
    }
    return us;
  }
}
