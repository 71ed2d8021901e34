// Two benches, in two programs, on one job: neither loses what it kept, and each learns of the other.
import { afterEach, expect, test } from 'vitest';
import { Day } from '../support/day.ts';
import type { Eye } from '../support/terminal.ts';

const day = new Day();
afterEach(() => day.close());

async function keepBore(eye: Eye, typed: string): Promise<void> {
  for (const count of ['1 READING', '2 READINGS', '3 READINGS']) {
    eye.type(`${typed}\r`);
    await eye.untilShown(count);
  }
  eye.press('enter');
}

test('the bench that kept a bore first learns of the second one, and works out its target from that', async () => {
  const first = day.open();
  await first.untilShown('◆ welcome');
  await first.beginJob('shared box');
  const second = day.open();
  await second.untilShown('shared box');
  await keepBore(first, '50.10mm');
  await first.untilShown('Bore kept');
  await keepBore(second, '50.40mm');
  await second.untilShown('Another bench is working on this job too');
  first.press('n');
  await first.untilShown('Another bench is working on this job too');
  await first.untilShown('bore 50.40 mm');
  expect((await day.run('jobs')).out).toMatch(/bore 50\.40 mm/);
  const log = await day.run('jobs', 'show', '1', '--log');
  expect(log.out).toContain('50.10');
  expect(log.out).toContain('50.40');
});
