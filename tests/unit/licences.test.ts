// Licences: everything that is installed with the program may be given away with it, and the map says under which terms.
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { expect, test } from 'vitest';

const root = resolve(import.meta.dirname, '../..');
const json = (file: string): unknown => JSON.parse(readFileSync(resolve(root, file), 'utf8'));

interface Locked {
  readonly license?: string;
  readonly dev?: boolean;
  readonly devOptional?: boolean;
}
const { packages } = json('package-lock.json') as { packages: Readonly<Record<string, Locked>> };
const { dependencies } = json('package.json') as { dependencies: Readonly<Record<string, string>> };

/** Says so in an older form of package file, which the lock file does not take up; its licence file was read. */
const READ_BY_HAND: ReadonlyMap<string, string> = new Map([['node_modules/jstat', 'MIT']]);
const FREE = new Set(['MIT', 'ISC', 'BSD-2-Clause', 'BSD-3-Clause', 'Apache-2.0', '0BSD']);
const licenceOf = (path: string): string => packages[path]?.license ?? READ_BY_HAND.get(path) ?? 'none named';

test('whatever comes with the program is under a licence that lets it be passed on', () => {
  const shipped = Object.entries(packages).filter(
    ([path, { dev, devOptional }]) => path && !dev && !devOptional,
  );
  expect(shipped.length).toBeGreaterThan(Object.keys(dependencies).length);
  const unfree = shipped
    .map(([path]) => ({ path, choices: licenceOf(path).replace(/[()]/g, '').split(' OR ') }))
    .filter(({ choices }) => !choices.some((choice) => FREE.has(choice)));
  expect(unfree).toEqual([]);
});

test('the map lists every library by its licence, and the lock file pins each to one version', () => {
  const map = readFileSync(resolve(root, 'DEVELOPERS.md'), 'utf8');
  for (const [name, version] of Object.entries(dependencies)) {
    expect(version).toMatch(/^\d+\.\d+\.\d+$/);
    const row = map.split('\n').find((line) => line.startsWith(`| ${name} `));
    expect(row?.split('|').at(-2)?.trim(), name).toBe(licenceOf(`node_modules/${name}`));
  }
});
