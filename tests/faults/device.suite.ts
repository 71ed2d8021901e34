// Each fault of a device alone, against a fresh program: what is shown, that the program rests, and that a bore is still measured after it;
// and the board pulled out at each stage, after which the job stands where it was.
import { expect, test } from 'vitest';
import { STAGES } from '../../src/core/bench/entry.ts';
import { FaultyBench } from '../support/faulty-bench.ts';
import { comesBack, FAULTS } from './catalogue.ts';

/** Touched off; a detent turned just before may be heard after it. */
const COUNTING = /(?<!NOT )TOUCHED OFF|CUTTING/;

test.each(FAULTS)('a device that $name', async ({ happens, mends, bores = 0 }) => {
  const open = await FaultyBench.begun();
  await open.measuresRest();
  await happens(open);
  await open.rests();
  await mends?.(open);
  await open.takesBore();
  await open.leaves();
  open.showedOnlyWhatWasSent();
  await open.kept('job-begun', ...Array.from({ length: bores + 1 }, () => 'bore-taken'));
});

test('a feed that floods with totals is followed to its last, and every change kept in order', async () => {
  const open = await FaultyBench.begun();
  await open.goes('bore thread');
  await open.device.feed(1);
  await open.eye.goes(['\r', COUNTING]);
  await open.measuresRest();
  await open.device.floodsFeed(2000);
  // The board's third button goes on to the next stage, once everything before it was heard.
  await open.device.press(3);
  await open.eye.untilShown('◆bore size', 120_000);
  await open.rests();
  await open.leaves();
  const { entries } = await open.kept('touched-off');
  const totals = entries.flatMap(({ fact }) => (fact.kind === 'feed-counted' ? [fact.mark?.total] : []));
  const first = totals.indexOf(0);
  const flood = Array.from({ length: 2000 }, (_, at) => at % 7);
  expect(totals.slice(first, first + flood.length)).toEqual(flood);
});

test('a board that restarts, and one that overran, void the depth until a new touch-off', async () => {
  const open = await FaultyBench.begun();
  const { device, eye } = open;
  await open.goes('bore thread');
  await device.feed(1);
  await eye.goes(['\r', COUNTING]);
  await device.feed(2);
  await device.restart();
  await eye.untilShown('DEPTH VOID');
  await device.feed(3);
  await eye.untilShown('DEPTH VOID');
  await eye.goes(['\r', COUNTING]);
  await device.feed(2);
  await device.restartsUnheard();
  await eye.untilShown('DEPTH VOID');
  await eye.goes(['\r', COUNTING]);
  await device.feed(1);
  await device.say({ kind: 'FA', code: 'feed-overrun' });
  await eye.untilShown('DEPTH VOID');
  await open.leaves();
  await open.kept(...[1, 2, 3].flatMap(() => ['touched-off', 'depth-voided']));
});

test.each(['at rest', 'right after writing'])('unplugged %s at every stage', async (how) => {
  const open = await FaultyBench.begun();
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
