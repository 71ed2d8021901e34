// Nothing kept is lost: entries that the database does not take go into a file, and two benches, in two programs, on one job learn of
// each other.
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from '@photostructure/sqlite';
import { afterEach, expect, test } from 'vitest';
import { Day } from '../support/day.ts';
import { freshFolder } from '../support/fresh-folder.ts';

let day = new Day();
afterEach(async () => {
  await day.close();
  day = new Day();
});

test('a database locked to the end costs nothing: the job is in a file, and an import brings it back', async () => {
  const folder = freshFolder();
  const eye = day.open(undefined, { cwd: folder });
  await eye.untilShown('◆ welcome');
  await eye.beginJob('stuck box');
  const other = new DatabaseSync(join(day.home, 'jobs.db'));
  other.exec('BEGIN EXCLUSIVE');
  await eye.goes(['42.30\r', '1 READING'], ['\r']);
  await eye.untilShown('NOT SAVED', 30_000);
  eye.press('q');
  expect((await eye.ended(30_000)).code).toBe(3);
  await eye.untilShown('The whole job is in');
  other.exec('ROLLBACK');
  other.close();
  const [file] = readdirSync(folder);
  expect(file).toMatch(/^lidwright-rescued-\d+\.ndjson$/);
  const shown = async () => (await day.run('jobs', 'show', 'stuck', '--json')).out;
  const imported = async () => (await day.run('jobs', 'import', join(folder, file ?? ''))).code;
  expect(await shown()).not.toContain('bore-taken');
  expect(await imported()).toBe(0);
  const after = await shown();
  expect(after).toContain('bore-taken');
  expect(await imported()).toBe(0);
  expect(await shown()).toBe(after);
});

test('an emoji at the last place of a name costs neither the name nor the job', async () => {
  const eye = day.open();
  await eye.untilShown('◆ welcome');
  await eye.goes(
    ['w', '◆ new job'],
    [`${'x'.repeat(79)}🪵`, 'xxxxx'],
    ['\x1b[F', '◆bore size'],
    ['50.00\r50.00\r50.00\r', '3 READINGS'],
    ['\r', 'Bore kept'],
  );
  expect(await eye.left()).toBe(0);
  const job = JSON.parse((await day.run('jobs', 'show', '1', '--json')).out);
  expect(job).toMatchObject({ name: `${'x'.repeat(79)}🪵`, boreMm: 50 });
});

const threeOf = (typed: string) =>
  ['1 READING', '2 READINGS', '3 READINGS'].map((shown) => [`${typed}\r`, shown] as const);

test('the bench that kept a bore first learns of the second one, and works out its target from that', async () => {
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
