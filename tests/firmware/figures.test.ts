// What the kept image costs, measured in the simulator and held against what the notes state.
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { SimulatedBoard } from './board.ts';
import { chanceOf } from './chance.ts';
import { keptImage } from './image.ts';
import { readingsIn, spokenBy } from './spoken.ts';
import { CaliperWriter, CLOCK_PIN, DATA_PIN } from './waveform.ts';
import { QuadratureWheel } from './wheel.ts';

const NOTES = readFileSync(new URL('../../firmware-notes/README.md', import.meta.url), 'utf8');

/** The number in the row of the notes' table that begins with these words. */
function stated(row: string): number {
  const found = NOTES.match(new RegExp(`^\\| ${row} *\\| ([\\d,.]+) `, 'm'));
  if (!found?.[1]) throw new Error(`the notes have no row "${row}"`);
  return Number(found[1].replaceAll(',', ''));
}

interface Run {
  readonly board: SimulatedBoard;
  /** Board time of each frame's last clock edge. */
  readonly lastEdges: readonly number[];
}

/** The longest time from a frame's last clock edge to the first byte of its line, in milliseconds with one decimal. */
function worstLatencyMs({ board, lastEdges }: Run): number {
  const readings = readingsIn(spokenBy(board.lines));
  expect(readings).toHaveLength(lastEdges.length);
  const worstUs = Math.max(...readings.map(({ fromUs }, n) => fromUs - (lastEdges[n] ?? Number.NaN)));
  return Math.round(worstUs / 100) / 10;
}

/** Forty frames a second for `frames` frames; `beside` plans whatever else goes on during each. */
function run(frames: number, beside: (n: number, beginUs: number, board: SimulatedBoard) => void): Run {
  const board = new SimulatedBoard(keptImage('bench-01'));
  const caliper = new CaliperWriter(board, { clock: CLOCK_PIN, data: DATA_PIN, inverted: true }, chanceOf(8));
  board.run(20_000);
  const lastEdges: number[] = [];
  for (let n = 0; n < frames; n++) {
    const beginUs = Math.ceil(board.us);
    lastEdges.push(caliper.show({ steps: 2 ** 20 - 1 - n, negative: true, inch: true }, beginUs));
    beside(n, beginUs, board);
    board.run(24_900 + (n % 5) * 50);
  }
  return { board, lastEdges };
}

/** The feed turning, buttons pressed, and the program asking at every frame. */
function busyRun(): Run {
  const chance = chanceOf(40);
  let wheel: QuadratureWheel | undefined;
  return run(300, (n, beginUs, board) => {
    wheel ??= new QuadratureWheel(board, chance);
    wheel.turn(n % 2 === 0 ? 2 : -2, beginUs + chance.between(0, 2_000), 8_000, 2);
    board.at(beginUs + chance.between(8_000, 16_000), () => board.feedText('?\n'));
    board.at(beginUs + chance.between(0, 20_000), () =>
      board.drive({ port: 'C', bit: 2 + chance.below(4) }, n % 2 === 0),
    );
  });
}

describe('the kept image', () => {
  const busy = busyRun();
  const { board } = busy;

  it('fits with room to spare, as the notes state', () => {
    expect(board.image.bytes).toBe(stated('flash'));
    expect(board.image.bytes).toBeLessThan(8192);
    expect(board.memoryUsed).toBe(stated('memory, with the deepest stack'));
    expect(board.memoryUsed).toBeLessThan(1024);
  });

  it('takes the time the notes state', () => {
    expect(board.worstInterrupts.size).toBe(5);
    expect(Math.max(...board.worstInterrupts.values())).toBe(stated('longest interrupt'));
    expect(worstLatencyMs(busy)).toBe(stated('last clock edge to first byte, everything at once'));
    const alone = run(120, () => {});
    expect(worstLatencyMs(alone)).toBe(stated('last clock edge to first byte, caliper alone'));
  });
});
