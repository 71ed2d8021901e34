// A second job on the same setup: its target differs by what the first one's trial says, and the screen says why.
import { expect, test } from 'vitest';
import { openDay } from '../support/day.ts';
import type { Eye } from '../support/terminal.ts';

/** A job typed from the form to the spigot stage; gives the target that is shown there. */
async function toTarget(eye: Eye, name: string): Promise<number> {
  await eye.beginJob(name);
  await eye.keepBore('42.30');
  await eye.goes(['n', 'TURN TO THIS']);
  return Number(/target (\d+\.\d+)/.exec(eye.text())?.[1]);
}

/** The spigot at its target, threaded, and the trial's word kept: it seized. */
const seized = (eye: Eye, spigot: number): Promise<void> =>
  eye.goes(
    [`${spigot.toFixed(2)}\r`, 'AT SIZE'],
    ['\r', 'Spigot kept'],
    ['n', '◆spigot thread'],
    ['n', '◆trial'],
    ['1', 'Trial kept'],
  );

test('two boxes that seized make the third aim looser, and the screen names their trials', async () => {
  const day = openDay().withFeed({ 'touch-off': '0.03mm' });
  const eye = day.open();
  await eye.untilShown('to begin a job');
  const first = await toTarget(eye, 'first box');
  expect(first).toBeGreaterThan(42.5);
  await seized(eye, first);
  await seized(eye, await toTarget(eye, 'second box'));
  expect(await toTarget(eye, 'third box')).toBeLessThan(first - 0.01);
  await eye.untilShown(/learned .*2 trials/);
  await eye.goes(['?', /first box: computed 0\.15 mm, seized/]);
  eye.press('q', 'q');
  expect((await eye.ended()).code).toBe(0);
  const shown = await day.run('jobs', 'show', 'third', '--json');
  expect(shown.out).toContain('first box: computed 0.15 mm, seized');
});
