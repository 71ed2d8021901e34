// What is installed: few packages, each pinned to its contents, under a licence that allows passing it on, and listed in DEVELOPERS.md.
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { expect, test } from 'vitest';

const root = resolve(import.meta.dirname, '../..');
const json = (file: string): unknown => JSON.parse(readFileSync(resolve(root, file), 'utf8'));

interface Locked {
  readonly license?: string;
  readonly dev?: boolean;
  readonly devOptional?: boolean;
  readonly integrity?: string;
  readonly resolved?: string;
  readonly hasInstallScript?: boolean;
}
const { packages } = json('package-lock.json') as { packages: Readonly<Record<string, Locked>> };
const { dependencies, allowScripts } = json('package.json') as {
  dependencies: Readonly<Record<string, string>>;
  allowScripts: Readonly<Record<string, boolean>>;
};
const map = readFileSync(resolve(root, 'DEVELOPERS.md'), 'utf8');

/** Everything but the program itself. */
const locked = Object.entries(packages).filter(([path]) => path !== '');
/** What a turner installs. */
const shipped = locked.filter(([, { dev, devOptional }]) => !dev && !devOptional);
/** Our own choice: each package is one more that somebody has to trust. */
const MOST_SHIPPED = 70;

/** Says so in an older form of package file, which the lock file does not take up; its licence file was read. */
const READ_BY_HAND: ReadonlyMap<string, string> = new Map([['node_modules/jstat', 'MIT']]);
const FREE = new Set(['MIT', 'ISC', 'BSD-2-Clause', 'BSD-3-Clause', 'Apache-2.0', '0BSD']);
const licenceOf = (path: string): string => packages[path]?.license ?? READ_BY_HAND.get(path) ?? 'none named';

test('a turner installs few packages, and DEVELOPERS.md says how many', () => {
  expect(shipped.length).toBeLessThanOrEqual(MOST_SHIPPED);
  expect(map).toContain(`A turner installs ${shipped.length} packages`);
});

test('every package is pinned to its contents, wherever it is fetched from', () => {
  const loose = locked.filter(([, { integrity, resolved }]) => !integrity?.startsWith('sha512-') || resolved);
  expect(loose.map(([path]) => path)).toEqual([]);
});

test('only the packages named in package.json may run a script when they are installed', () => {
  const names = locked.flatMap(([path, { hasInstallScript }]) =>
    hasInstallScript ? [path.replace(/^.*node_modules\//, '')] : [],
  );
  // Only ever fetched on a Mac.
  expect(new Set(names.filter((name) => name !== 'fsevents'))).toEqual(new Set(Object.keys(allowScripts)));
});

test('every package that comes with the program has a licence that lets you pass it on', () => {
  const unfree = shipped
    .map(([path]) => ({ path, choices: licenceOf(path).replace(/[()]/g, '').split(' OR ') }))
    .filter(({ choices }) => !choices.some((choice) => FREE.has(choice)));
  expect(unfree).toEqual([]);
});

test('DEVELOPERS.md lists every library by its licence, and the lock file pins each to one version', () => {
  for (const [name, version] of Object.entries(dependencies)) {
    expect(version).toMatch(/^\d+\.\d+\.\d+$/);
    const row = map.split('\n').find((line) => line.startsWith(`| ${name} `));
    expect(row?.split('|').at(-2)?.trim(), name).toBe(licenceOf(`node_modules/${name}`));
  }
});
