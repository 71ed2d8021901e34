// Entries that the database does not take: said on the screen, kept in memory, and put into a file when the turner leaves all the same.
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DatabaseSync } from '@photostructure/sqlite';
import { afterEach, expect, test } from 'vitest';
import { Day } from '../support/day.ts';

let day = new Day();
afterEach(async () => {
  await day.close();
  day = new Day();
});

test('a database locked to the end costs nothing: the job is in a file, and an import brings it back', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'lidwright-cwd-'));
  const eye = day.open(undefined, { cwd: folder });
  await eye.untilShown('◆ welcome');
  await eye.beginJob('stuck box');
  const other = new DatabaseSync(join(day.home, 'jobs.db'));
  other.exec('BEGIN EXCLUSIVE');
  eye.type('42.30\r');
  await eye.untilShown('1 READING');
  eye.press('enter');
  await eye.untilShown('NOT SAVED', 30_000);
  eye.press('q');
  expect((await eye.ended(30_000)).code).toBe(3);
  other.exec('ROLLBACK');
  other.close();
  const [file] = readdirSync(folder);
  expect(file).toMatch(/^lidwright-rescued-\d+\.ndjson$/);
  expect(eye.text()).toContain('The whole job is in');
  const before = await day.run('jobs', 'show', 'stuck', '--json');
  expect(before.out).not.toContain('bore-taken');
  expect((await day.run('jobs', 'import', join(folder, file ?? ''))).code).toBe(0);
  const after = await day.run('jobs', 'show', 'stuck', '--json');
  expect(after.out).toContain('bore-taken');
  expect((await day.run('jobs', 'import', join(folder, file ?? ''))).code).toBe(0);
  expect((await day.run('jobs', 'show', 'stuck', '--json')).out).toBe(after.out);
  rmSync(folder, { recursive: true, force: true });
});

test('an emoji at the last place of a name costs neither the name nor the job', async () => {
  const eye = day.open();
  await eye.untilShown('◆ welcome');
  eye.press('w');
  await eye.untilShown('◆ new job');
  eye.type(`${'x'.repeat(79)}🪵`);
  await eye.untilShown('xxxxx');
  eye.type('\x1b[F');
  await eye.untilShown('◆bore size');
  for (let reading = 0; reading < 3; reading += 1) eye.type('50.00\r');
  await eye.untilShown('3 READINGS');
  eye.press('enter');
  await eye.untilShown('Bore kept');
  eye.press('q');
  expect((await eye.ended(30_000)).code).toBe(0);
  const job = JSON.parse((await day.run('jobs', 'show', '1', '--json')).out);
  expect(job).toMatchObject({ name: `${'x'.repeat(79)}🪵`, boreMm: 50 });
});
