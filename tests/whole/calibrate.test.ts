// The feed calibrated at the bench with typed numbers alone: the kit's file changes, and the next new job is offered it.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, expect, test } from 'vitest';
import { Day } from '../support/day.ts';

let day = new Day();
afterEach(async () => {
  await day.close();
  day = new Day();
});

test('from the welcome to a changed kit, and to a new job that counts by it', async () => {
  const eye = day.withFeed().open();
  const file = join(day.home, 'kit/feeds/cross slide.toml');
  await eye.untilShown('Press Enter to begin a job');
  eye.press('k');
  await eye.untilShown('How will you find what one detent feeds?');
  eye.type('2\r');
  await eye.untilShown('no job is open');
  eye.type('1\r');
  await eye.untilShown('How accurate is the gauge');
  eye.press('enter');
  await eye.untilShown('How many detents');
  eye.type('20\r');
  await eye.untilShown('over 20 detents');
  eye.type('3.02\r');
  await eye.untilShown('ONE TRAVEL');
  eye.type('3.03\r');
  await eye.untilShown('2 TRAVELS');
  eye.type('3.02\r');
  await eye.untilShown('3 TRAVELS');
  eye.press('n');
  await eye.untilShown(/name: cross slide/);
  eye.press('enter');
  await eye.untilShown('Feed "cross slide" is in your kit');
  expect(readFileSync(file, 'utf8')).toMatch(/^per-detent = "0\.151166667mm"$/m);
  expect(readFileSync(file, 'utf8')).toMatch(/^lost-detents = 2$/m);
  eye.press('w');
  await eye.untilShown('◆ new job');
  await eye.untilShown(/feed +cross slide/);
  eye.type('\x1b[F');
  await eye.untilShown('◆bore size');
  eye.press('q');
  expect((await eye.ended()).code).toBe(0);
  const { out } = await day.run('jobs', 'show', '1', '--json');
  expect(out).toContain('0.151166667');
});
