// Flipped data levels leave no trace on the board: rocks through the kept image show that the program's capture rejects them.
import { describe, expect, it } from 'vitest';
import { addReading, finishCapture, startCapture } from '../../src/core/measure/capture.ts';
import { defaultSettings } from '../../src/core/measure/capture-settings.ts';
import type { Reading } from '../../src/core/measure/reading.ts';
import { verdictOf } from '../../src/core/measure/verdict.ts';
import { degrees, millis } from '../../src/core/units.ts';
import { createWatch } from '../../src/wire/watch.ts';
import { PLAIN, simulateRock } from '../bench/rocking/simulate.ts';
import { fastChanceFrom } from '../support/chance.ts';
import { keptBoard } from './board.ts';
import { faultsIn, messagesFrom } from './messages.ts';
import { CaliperWriter, NPN } from './waveform.ts';

interface Received {
  readonly readings: readonly Reading[];
  readonly flipped: number;
  readonly faults: readonly string[];
}

/** Shows the readings of a rock on the pins, a level flipped in one frame of `oneIn`, and gives what the program receives. */
function through(shown: readonly Reading[], oneIn: number, seed: number): Received {
  const chance = fastChanceFrom(seed);
  const board = keptBoard();
  const caliper = new CaliperWriter(board, NPN, chance);
  board.run(20_000);
  const startUs = board.us - (shown[0]?.at ?? 0) * 1000;
  let flipped = 0;
  const first = chance.below(oneIn);
  for (const [n, { text, at }] of shown.entries()) {
    const flips = n % oneIn === first;
    if (flips) flipped++;
    const steps = Math.round(Number(text) * 100);
    caliper.show(
      { steps: Math.abs(steps), negative: steps < 0 },
      startUs + at * 1000,
      flips ? 'level-flipped' : undefined,
    );
  }
  board.run(startUs + (shown.at(-1)?.at ?? 0) * 1000 - board.us + 40_000);
  const watch = createWatch();
  const readings: Reading[] = [];
  for (const { text, fromUs } of board.lines) {
    watch.push(text, millis(fromUs / 1000), (event) => {
      if (event.kind === 'reading-received') readings.push(event.reading);
    });
  }
  return { readings, flipped, faults: faultsIn(messagesFrom(board.lines)) };
}

describe('rocks with flipped data levels', () => {
  it('are reported by the board as readings, and do not mislead the capture', () => {
    let agreed = 0;
    let wild = 0;
    for (const seed of [3, 5, 12, 21]) {
      const rock = simulateRock(seed, { ...PLAIN, rate: 10 });
      const { readings, flipped, faults } = through(rock.readings, 15, seed);
      const dropped = rock.readings.length - readings.length; // where the flip made the value longer than the caliper
      expect(dropped).toBeLessThanOrEqual(flipped);
      expect(new Set(faults)).toEqual(new Set(dropped > 0 ? ['caliper-frame'] : []));
      const shown = new Set(rock.readings.map(({ text }) => Number(text)));
      expect(readings.some(({ text }) => !shown.has(Number(text)))).toBe(true);
      if (Math.max(...readings.map(({ value }) => value)) > rock.truth + 1) wild++;
      const settings = { ...defaultSettings('bore'), tiltHalfRange: degrees(0) };
      const verdict = verdictOf(finishCapture(readings.reduce(addReading, startCapture(settings))));
      expect(['steady', 'doubtful']).toContain(verdict.state);
      if (verdict.state !== 'steady') continue;
      agreed++;
      expect(Math.abs(verdict.diameter - rock.truth), `seed ${seed}`).toBeLessThan(0.02);
    }
    expect(agreed).toBeGreaterThanOrEqual(2);
    expect(wild).toBeGreaterThanOrEqual(2); // the largest number seen would have been far off
  });
});
