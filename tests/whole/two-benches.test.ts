// Two benches, in two programs, on one job: each learns what the other kept, and works with it.
import { expect, test } from 'vitest';
import { openDay } from '../support/day.ts';

const threeOf = (typed: string) =>
  ['1 READING', '2 READINGS', '3 READINGS'].map((shown) => [`${typed}\r`, shown] as const);

test('the bench that kept a bore first learns of the second one, and works out its target from that', async () => {
  const day = openDay();
  const first = day.open();
  await first.untilShown('◆ welcome');
  await first.beginJob('shared box');
  const second = day.open();
  await second.untilShown('shared box');
  await first.goes(...threeOf('50.10mm'), ['\r', 'Bore kept']);
  await second.goes(...threeOf('50.40mm'), ['\r', 'Another bench is working on this job too']);
  await first.goes(['n', 'Another bench is working on this job too'], ['', 'bore 50.40 mm']);
  expect((await day.run('jobs')).out).toMatch(/bore 50\.40 mm/);
  const log = await day.run('jobs', 'show', '1', '--log');
  expect(log.out).toContain('50.10');
  expect(log.out).toContain('50.40');
});
