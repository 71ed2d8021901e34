// The feed calibrated at the bench with typed numbers alone: the kit's file changes, and the next new job is offered it.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { openDay } from '../support/day.ts';

test('from the welcome to a changed kit, and to a new job that counts by it', async () => {
  const day = openDay().withFeed();
  const eye = day.open();
  await eye.untilShown('Press Enter to begin a job');
  await eye.goes(
    ['k', 'How will you find what one detent feeds?'],
    ['2\r', 'no job is open'],
    ['1\r', 'How accurate is the gauge'],
    ['\r', 'How many detents'],
    ['20\r', 'over 20 detents'],
    ['3.02\r', 'ONE TRAVEL'],
    ['3.03\r', '2 TRAVELS'],
    ['3.02\r', '3 TRAVELS'],
    ['n', 'name: cross slide'],
    ['\r', 'Feed "cross slide" is in your kit'],
  );
  const file = readFileSync(join(day.home, 'kit/feeds/cross slide.toml'), 'utf8');
  expect(file).toMatch(/^per-detent = "0\.151166667mm"$/m);
  expect(file).toMatch(/^lost-detents = 2$/m);
  await eye.goes(['w', /feed +cross slide/], ['\x1b[F', '◆bore size']);
  eye.press('q');
  expect((await eye.ended()).code).toBe(0);
  expect((await day.run('jobs', 'show', '1', '--json')).out).toContain('0.151166667');
});
