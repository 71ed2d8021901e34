// What the two documents say of the program is what the program is: commands, the worked example, counts, cautions, places in the tree.
import { existsSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, test } from 'vitest';
import about from '../../package.json' with { type: 'json' };
import { COMMANDS } from '../../src/commands/all.ts';
import { CAUTIONS } from '../../src/core/bench/cautions.ts';
import { judge, needsMore } from '../published/check.ts';
import { families } from '../published/families.ts';
import { runLine } from '../support/command-run.ts';
import { freshFolder } from '../support/fresh-folder.ts';

const root = resolve(import.meta.dirname, '../..');
const textOf = (file: string): string => readFileSync(join(root, file), 'utf8');
const readme = textOf('README.md');
const developers = textOf('DEVELOPERS.md');

test('the table of commands has every command, and no other', () => {
  const rows = readme.split('\n').filter((row) => row.startsWith('| `lidwright'));
  const named = rows.flatMap((row) =>
    [...(row.split('|')[1] ?? '').matchAll(/`(?:lidwright|…) (\w+)`/g)].map((match) => match[1]),
  );
  expect(named.sort()).toEqual(COMMANDS.map(({ name }) => name).sort());
});

test('the worked example prints what it prints', async () => {
  const lines = readme.split('\n').map((line) => line.slice(4));
  const from = lines.findIndex((line) => line.startsWith('$ lidwright fit'));
  const told = await runLine(freshFolder(), lines[from]?.replace('$ lidwright ', '') ?? '');
  const shown = lines.slice(from + 1, from + 2 + told.data.length).filter((line) => line !== '');
  expect(shown).toEqual(told.data);
});

test('the counts of published figures are those that the report prints', () => {
  const rows = families.flatMap((family) => family.rows());
  const of = (what: ReturnType<typeof judge>): number => rows.filter((row) => judge(row) === what).length;
  expect(readme).toContain(`puts ${rows.length} of them beside ours`);
  const wider = rows.filter((row) => judge(row) === 'agrees' && needsMore(row)).length;
  expect(readme).toContain(`${of('agrees') - wider} agree within half`);
  expect(readme).toContain(`${wider} more agree within a wider allowance`);
  expect(readme).toContain(`${of('misses as known')} do not`);
  expect(readme).toContain(
    `${rows.filter(({ status }) => status === 'MEMORY').length} of those rows are recalled`,
  );
});

test('the README has every caution of the screen, word for word', () => {
  for (const caution of Object.values(CAUTIONS)) expect(readme).toContain(`- ${caution}\n`);
});

test('every link, picture and script that the documents name is there', () => {
  for (const text of [readme, developers]) {
    const links = [...text.matchAll(/\]\(([^)]+)\)/g)].flatMap((match) => match[1] ?? []);
    expect(links.length).toBeGreaterThan(1);
    for (const link of links) expect(existsSync(join(root, link)), link).toBe(true);
    const scripts = [...text.matchAll(/npm run (\w+)/g)].flatMap((match) => match[1] ?? []);
    for (const script of scripts) expect(about.scripts, script).toHaveProperty(script);
  }
});

test('every file that DEVELOPERS.md names from the top folder is there', () => {
  const places = [...developers.matchAll(/`((?:src|tests|shared|firmware-notes)\/[\w./-]+)`/g)].flatMap(
    (match) => match[1] ?? [],
  );
  expect(places.length).toBeGreaterThan(20);
  for (const place of places) expect(existsSync(join(root, place)), place).toBe(true);
});
