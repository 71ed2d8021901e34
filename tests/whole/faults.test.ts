// The built bench through every fault of a device, one after another in one day: nothing wrong shown, nothing lost, nothing left behind.
import { expect, test } from 'vitest';
import { FAULTS } from '../faults/catalogue.ts';
import { bigNumber } from '../support/big-digits.ts';
import { FaultyBench, LIVE } from '../support/faulty-bench.ts';

/** After these the program must have come to rest again. */
const RESTFUL = /unplugged|stalls|flood|noise/;

test('one program lives through every fault of a device by name', { timeout: 120_000 }, async () => {
  const open = await FaultyBench.begun();
  const { device, eye } = open;
  await open.measuresRest();
  for (const [at, fault] of FAULTS.entries()) {
    await fault.happens(open);
    if (RESTFUL.test(fault.name)) await open.rests();
    await fault.mends?.(open);
    const value = 41 + at / 50;
    await device.holds(value);
    const shown = () => bigNumber(eye.screen(), LIVE) === value.toFixed(2);
    await eye.until(`the number ${value.toFixed(2)} after a device that ${fault.name}`, shown);
  }
  await open.takesBore();
  await open.leaves();
  open.showedOnlyWhatWasSent();
  const bores = FAULTS.reduce((sum, fault) => sum + (fault.bores ?? 0), 1);
  await open.kept('job-begun', ...Array.from({ length: bores }, () => 'bore-taken'));
  expect(device.sent.size).toBeGreaterThan(20_000);
});
