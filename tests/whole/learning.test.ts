// A second job on the same setup: its target differs by what the first one's trial says, and the screen says why.
import { afterEach, expect, test } from 'vitest';
import { Day } from '../support/day.ts';
import type { Eye } from '../support/terminal.ts';

let day = new Day();
afterEach(async () => {
  await day.close();
  day = new Day();
});

/** A job typed from the form to the spigot stage; gives the target that is shown there. */
async function toTarget(eye: Eye, name: string): Promise<number> {
  await eye.beginJob(name);
  await eye.keepBore('42.30');
  eye.press('n');
  await eye.untilShown('TURN TO THIS');
  const target = /target (\d+\.\d+)/.exec(eye.text())?.[1];
  return Number(target);
}

async function tried(eye: Eye, spigot: string, word: string): Promise<void> {
  eye.type(`${spigot}\r`);
  await eye.untilShown('AT SIZE');
  eye.press('enter');
  await eye.untilShown('Spigot kept');
  eye.press('n');
  await eye.untilShown('◆spigot thread');
  eye.press('n');
  await eye.untilShown('◆trial');
  eye.type(word);
  await eye.untilShown('Trial kept');
}

test('two boxes that seized make the third aim looser, and the screen names their trials', async () => {
  const eye = day.withFeed({ 'touch-off': '0.03mm' }).open();
  await eye.untilShown('to begin a job');
  const first = await toTarget(eye, 'first box');
  expect(first).toBeGreaterThan(42.5);
  await tried(eye, first.toFixed(2), '1');
  const second = await toTarget(eye, 'second box');
  await tried(eye, second.toFixed(2), '1');
  const third = await toTarget(eye, 'third box');
  expect(third).toBeLessThan(first - 0.01);
  await eye.untilShown(/learned .*2 trials/);
  eye.press('?');
  await eye.untilShown(/first box: computed 0\.15 mm, seized/);
  eye.press('q', 'q');
  expect((await eye.ended()).code).toBe(0);
  const shown = await day.run('jobs', 'show', 'third', '--json');
  expect(shown.out).toContain('first box: computed 0.15 mm, seized');
});
