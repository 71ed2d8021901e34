// The screen's figures: time from the device's last byte to the changed digits, processor, bytes and memory, beside plain Ink.
import { setTimeout as pause } from 'node:timers/promises';
import { meanOf } from '../../../src/core/statistics.ts';
import { cpuSeconds, residentMb } from '../../support/processor.ts';
import type { Staged } from './stage.ts';

const quantile = (sorted: readonly number[], share: number): number =>
  sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN;

/** Readings that fall a hundredth of a millimetre each, so that every one of them changes the screen. */
const valueAt = (index: number): number => 52 - (index % 800) * 0.01;

/**
 * Sends readings at a rate and waits for each to be on the screen as `diameter NN.NN`; a later one stands for those before it,
 * since a frame may carry several. The clock runs from before the line is handed to the device's process.
 */
export async function latencyAt({ eye, board }: Staged, perSecond: number, readings: number) {
  const written: number[] = [];
  const seen: number[] = [];
  let shown = -1;
  const look = (arrivedAt: number): void => {
    const text = /diameter (\d+\.\d+)/.exec(eye.text())?.[1];
    const index = text === undefined ? -1 : Math.round((52 - Number(text)) * 100);
    for (; shown < index && shown + 1 < written.length; shown++)
      seen.push(arrivedAt - (written[shown + 1] ?? Number.NaN));
  };
  const stop = eye.watch(look);
  for (let sent = 0; sent < readings; sent++) {
    const due = performance.now() + 1000 / perSecond;
    written.push(performance.now());
    await board.reads(valueAt(sent));
    await pause(Math.max(0, due - performance.now()));
  }
  await eye.until('the last reading', () => seen.length >= readings, 5000).catch(() => undefined);
  stop();
  const sorted = seen.map((ms) => Math.max(0, ms)).toSorted((a, b) => a - b);
  return { medianMs: quantile(sorted, 0.5), p99Ms: quantile(sorted, 0.99), readings: seen.length };
}

interface Cost {
  /** Share of one core, in percent. */
  readonly cpuPercent: number;
  readonly bytesPerReading: number;
  readonly residentMb: number;
}

/** Processor, bytes and memory while readings come at a rate. A rate of 0 is rest: the board only sends its feed count. */
export async function costAt({ eye, board }: Staged, perSecond: number, seconds: number): Promise<Cost> {
  const [cpu, bytes, began] = [cpuSeconds(eye.pid), eye.bytes, performance.now()];
  const readings = perSecond * seconds;
  for (let sent = 0; sent < readings; sent++) {
    await board.reads(valueAt(sent));
    await pause(Math.max(0, began + ((sent + 1) * 1000) / perSecond - performance.now()));
  }
  for (let second = 0; perSecond === 0 && second < seconds; second++) {
    await board.stands();
    await pause(1000);
  }
  const took = (performance.now() - began) / 1000;
  return {
    cpuPercent: ((cpuSeconds(eye.pid) - cpu) / took) * 100,
    bytesPerReading: readings === 0 ? 0 : (eye.bytes - bytes) / readings,
    residentMb: residentMb(eye.pid),
  };
}

/** The mean cost of each screen under the same load, in turns, so that changes of the machine's speed hit all of them alike. */
export async function costsInTurns<Stages extends readonly Staged[]>(
  stages: Stages,
  perSecond: number,
  seconds: number,
  turns: number,
): Promise<{ readonly [index in keyof Stages]: Cost }> {
  const costs: Cost[][] = stages.map(() => []);
  for (let turn = 0; turn < turns; turn++)
    for (const [at, stage] of stages.entries()) costs[at]?.push(await costAt(stage, perSecond, seconds));
  return costs.map(meanCost) as unknown as { readonly [index in keyof Stages]: Cost };
}

/** Memory as it is at the end. */
const meanCost = (costs: readonly Cost[]): Cost => ({
  cpuPercent: meanOf(costs.map(({ cpuPercent }) => cpuPercent)),
  bytesPerReading: meanOf(costs.map(({ bytesPerReading }) => bytesPerReading)),
  residentMb: costs.at(-1)?.residentMb ?? Number.NaN,
});
