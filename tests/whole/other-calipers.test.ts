// Calipers other than a checked one in millimetres: bare numbers from an adapter, and inches.
import { expect, test } from 'vitest';
import { openDay } from '../support/day.ts';

test('an adapter that prints bare numbers is read and marked as unchecked', async () => {
  const day = openDay();
  const board = await day.board();
  const eye = day.open(board);
  await board.pair.waitForReceived('?');
  await board.pair.write('42.11\r\n+42.12 mm\r\n');
  await eye.untilShown(/unchecked/i);
  await eye.untilShown('to begin a job');
  await eye.beginJob('bare box');
  const swing = Array.from({ length: 68 }, (_, at) =>
    Math.sqrt(42.3 ** 2 - 4 * (((at % 17) - 8) * 0.45) ** 2).toFixed(2),
  );
  await board.pair.play(
    40,
    swing.map((value) => `${value}\n`),
  );
  await eye.untilShown('STEADY');
  await eye.goes(['\r', 'KEPT']);
  eye.press('q');
  expect((await eye.ended()).code).toBe(0);
  const { out, code } = await day.run('jobs', 'show', '1', '--json');
  expect(code).toBe(0);
  expect(out).toMatch(/"how":"rocked"/);
});

test('in inches, with one key to see millimetres', async () => {
  const day = openDay();
  const board = await day.board({ unit: 'in' });
  const eye = day.open(board, { args: ['--unit', 'in'] });
  await board.pair.waitForReceived('?');
  await board.hello();
  await eye.untilShown('test-01');
  await eye.untilShown('to begin a job');
  await eye.beginJob('inch box');
  await board.rock(1.6655, 5);
  await eye.untilShown('STEADY');
  await eye.goes(['\r', /1\.66\d* ± 0\.00\d+ in/], ['m', /42\.\d\d? ± 0\.\d+ mm/]);
  eye.press('m');
  await eye.goes(['n', 'TURN TO THIS']);
  await board.holds(1.71);
  await eye.untilShown(/1\.7100 in/);
  eye.press('q');
  expect((await eye.ended()).code).toBe(0);
});
