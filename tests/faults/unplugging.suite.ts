// The board pulled out at each stage of a job, at rest and right after it wrote; plugged in again, the job stands where it was.
import { afterEach, test } from 'vitest';
import { STAGES } from '../../src/core/bench/entry.ts';
import { FaultyBench } from '../support/faulty-bench.ts';
import { comesBack } from './catalogue.ts';

let bench: FaultyBench | undefined;
afterEach(async () => {
  await bench?.close();
  bench = undefined;
});

test.each(['at rest', 'right after writing'])('unplugged %s at every stage', async (how) => {
  const open = await FaultyBench.begun();
  bench = open;
  const { device, eye } = open;
  await open.takesBore();
  await open.measuresRest();
  for (const stage of STAGES) {
    await open.goes(stage);
    await device.holds(43);
    if (how === 'at rest') await device.pair.unplug();
    else await device.goesMidLine(43);
    await eye.untilShown(/unplugged/);
    await eye.untilShown(`◆${stage}`);
    await open.rests();
    await comesBack(open);
    await eye.untilShown(`◆${stage}`);
  }
  await open.goes('bore size');
  await open.takesBore();
  await open.leaves();
  open.showedOnlyWhatWasSent();
  await open.kept('job-begun', 'bore-taken', 'bore-taken');
});
