// `lidwright sheet` as typed: to stdout and to files, what happens to a file that is there, drawings alone, JSON, exit codes.
import { existsSync, mkdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { sheetFileName } from '../../src/commands/sheet.ts';
import { mm } from '../../src/core/units.ts';
import { objectIn, runLine } from '../support/command-run.ts';
import { logOf } from '../support/job.ts';
import { freshHome, must, opened } from '../support/records-home.ts';
import { boreTaken, usual } from '../support/sheet-jobs.ts';

const { plannedBore: _, ...unplanned } = usual;
/** Nothing but a name, touched before the other one. */
const bare = logOf({ ...unplanned, name: 'bare box' }).map((entry) => ({
  ...entry,
  ...{ id: `b${entry.id}`, job: 'bare-0001', at: entry.at - 1000 },
}));

/** A home with a job on which a bore was taken, and one that was only named. */
function benchHome(): string {
  const home = freshHome();
  const records = opened(home);
  must(records.appendAll(bare));
  must(records.appendAll(logOf(usual, [boreTaken(mm(48.03))])));
  records.close();
  return home.data;
}

const sheet = (home: string, words: string) => runLine(home, `sheet ${words}`);

test('goes to stdout whole, of the job touched last', async () => {
  const { code, data, said } = await sheet(benchHome(), '');
  expect({ code, said, first: data[0] }).toEqual({ code: 0, said: [], first: '<!DOCTYPE html>' });
  expect(data.at(-1)).toMatch(/<\/html>$/);
  expect(data.join('\n')).toContain('<h1 dir="auto">pear box for tea</h1>');
});

test('goes to a file, readable by its owner alone, and replaces an earlier sheet there', async () => {
  const home = benchHome();
  const file = join(home, 'tea.html');
  const first = await sheet(home, `--file ${file}`);
  expect([first.code, first.data]).toEqual([0, []]);
  expect(first.said.join()).toContain('written to ');
  expect(statSync(file).mode & 0o777).toBe(0o600);
  const again = await sheet(home, `--unit in --file ${file}`);
  expect(again.code).toBe(0);
  expect(again.said.join()).toContain('replacing the sheet that was there');
  expect(readFileSync(file, 'utf8')).toContain('figures in inches');
});

test('leaves any other file as it is, and makes no folder', async () => {
  const home = benchHome();
  const other = join(home, 'letter.html');
  writeFileSync(other, 'dear turner');
  mkdirSync(join(home, 'folder'));
  for (const [path, why] of [
    [other, "isn't a job sheet"],
    [join(home, 'folder'), "isn't a job sheet"],
    [join(home, 'nowhere/tea.html'), 'no such folder'],
  ] as const) {
    const { code, data, said } = await sheet(home, `--file ${path}`);
    expect([code, data]).toEqual([3, []]);
    expect(said.join()).toContain(why);
    expect(said.join()).toContain('another --file');
  }
  expect(readFileSync(other, 'utf8')).toBe('dear turner');
  expect(existsSync(join(home, 'nowhere'))).toBe(false);
});

test('gives the drawings alone', async () => {
  const home = benchHome();
  const file = join(home, 'tea.svg');
  expect((await sheet(home, `"pear box" --svg --file ${file}`)).code).toBe(0);
  expect(readFileSync(file, 'utf8')).toMatch(/^<svg xmlns="[^"]*\/2000\/svg" [^>]*width="108mm"/);
  expect((await sheet(home, `--svg --file ${file}`)).said.join()).toContain('replacing');
});

test('says why there is nothing to draw, and still gives the page', async () => {
  const home = benchHome();
  const drawing = await sheet(home, '"bare box" --svg');
  expect([drawing.code, drawing.data]).toEqual([1, []]);
  expect(drawing.said).toEqual(['sheet: no drawing: no bore is measured or planned yet.']);
  const page = await sheet(home, '"bare box"');
  expect([page.code, page.said]).toEqual([0, drawing.said]);
});

test('tells in JSON what it wrote, or holds it', async () => {
  const home = benchHome();
  const file = join(home, 'tea.html');
  const { code, data } = await sheet(home, `--json --file ${file}`);
  expect(code).toBe(0);
  const bytes = statSync(file).size;
  expect(objectIn({ data })).toEqual({
    ...{ job: 2, id: '3f9a41c2-0000', name: 'pear box for tea', format: 'html', unit: 'mm', notDrawn: [] },
    ...{ file, replaced: false, bytes },
  });
  const held = objectIn(await sheet(home, '--json'));
  expect(held).toMatchObject({ file: null, bytes });
  expect(held.markup).toBe(readFileSync(file, 'utf8'));
});

test('answers no for a job that is not there or not clear, and refuses a wrong unit', async () => {
  const home = benchHome();
  expect(await sheet(home, 'nothing')).toMatchObject({ code: 1, data: [] });
  const many = await sheet(home, 'box');
  expect([many.code, many.said.length]).toEqual([1, 3]);
  expect((await sheet(home, '--unit cm')).code).toBe(2);
  expect(await sheet(freshHome().data, '')).toMatchObject({ code: 1, data: [] });
});

test.each([
  ['Salt box, second lid', 'job-3-salt-box-second-lid-2026-11-26.html'],
  ['Dose für Öl', 'job-3-dose-fur-ol-2026-11-26.html'],
  ['../../etc/passwd', 'job-3-etc-passwd-2026-11-26.html'],
  ['木の箱 🪵', 'job-3-2026-11-26.html'],
])('a sheet from the bench is named by job and date: %s', (name, file) => {
  expect(sheetFileName(3, name, '2026-11-26')).toBe(file);
});
