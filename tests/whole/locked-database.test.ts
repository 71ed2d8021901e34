// A database that another program keeps locked: the job on the bench goes into a file, and an import brings it back.
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from '@photostructure/sqlite';
import { expect, test } from 'vitest';
import { openDay } from '../support/day.ts';
import { freshFolder } from '../support/fresh-folder.ts';

test('a database locked to the end costs nothing: the job is in a file, and an import brings it back', async () => {
  const day = openDay();
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
