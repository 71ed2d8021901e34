// Settings of commands that are not the bench: the environment and the file count there too, and only for what they use.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, expect, test } from 'vitest';
import { runLine } from '../support/command-run.ts';
import { freshFolder } from '../support/fresh-folder.ts';

let home = '';
beforeEach(() => {
  home = freshFolder();
});

test('the port of the environment, or of the file, is the one listened to', async () => {
  const heard = async (env?: Readonly<Record<string, string>>) => {
    const { code, data } = await runLine(home, 'listen --for 1', env);
    return [code, data.join()];
  };
  const missing = (port: string) => [3, expect.stringContaining(`Can't find ${port}`)];
  expect(await heard({ LIDWRIGHT_PORT: '/dev/none-of-that' })).toEqual(missing('/dev/none-of-that'));
  writeFileSync(join(home, 'settings.toml'), 'port = "/dev/nor-of-this"\n');
  expect(await heard()).toEqual(missing('/dev/nor-of-this'));
});

test.each(['listen --for 1', 'ports'])(
  '%s does not begin with an unsound speed, and says where it is set',
  async (line) => {
    const { code, said } = await runLine(home, line, { LIDWRIGHT_BAUD: 'fast' });
    expect(code).toBe(2);
    expect(said.join()).toContain('LIDWRIGHT_BAUD: "fast" isn\'t accepted. Give a whole number');
  },
);

test('trouble with a setting that a command does not use is ignored', async () => {
  const { code, said } = await runLine(home, 'ports --list', { LIDWRIGHT_TILT: 'steep' });
  expect(code).toBe(0);
  expect(said.join()).not.toContain('TILT');
});

const FIT = 'fit --bore 50mm --pitch 16tpi --depth 1mm';

test('fit takes clearance and bounds from its flag before the environment before the file', async () => {
  const told = async (line: string, env: Readonly<Record<string, string>> = {}) =>
    JSON.parse((await runLine(home, `${line} --json`, env)).data[0] ?? '');
  const clearance = async (line: string, env?: Readonly<Record<string, string>>): Promise<number> => {
    const { targetSpigotMm, boreMm, limitMm } = await told(line, env);
    return Number((boreMm + limitMm - targetSpigotMm).toFixed(6));
  };
  const env = { LIDWRIGHT_WANTED: '0.2mm' };
  expect(await clearance(FIT)).toBe(0.15);
  writeFileSync(join(home, 'settings.toml'), 'wanted = "0.12mm"\n');
  expect(await clearance(FIT)).toBe(0.12);
  expect(await clearance(FIT, env)).toBe(0.2);
  expect(await clearance(`${FIT} --clearance 0.25mm`, env)).toBe(0.25);
  const wide = { LIDWRIGHT_LOOSE_FROM: '0.5mm' };
  const { bandMm } = await told(FIT);
  expect((await told(FIT, wide)).bandMm).not.toEqual(bandMm);
  expect((await told(`${FIT} --loose-from 0.3mm`, wide)).bandMm).toEqual(bandMm);
});

test.each([
  [FIT, { LIDWRIGHT_WANTED: '-0.05mm' }, 'wanted, set in the environment: "-0.05mm" isn\'t accepted here'],
  [FIT, { LIDWRIGHT_RUNNING_FROM: 'loose' }, 'LIDWRIGHT_RUNNING_FROM: "loose"'],
  [FIT, { LIDWRIGHT_RUNNING_FROM: '0.4mm' }, 'so no lid could run'],
  ['plan --outside 60mm', { LIDWRIGHT_WANTED: '-0.05mm' }, 'wanted, set in the environment'],
  ['plan --outside 60mm', { LIDWRIGHT_UNIT: 'feet' }, 'LIDWRIGHT_UNIT: "feet"'],
])('%s with %j is refused, and says where it is set', async (line, env, why) => {
  const { code, said } = await runLine(home, line, env);
  expect(code).toBe(2);
  expect(said.join(' ')).toContain(why);
});

test('a wanted hold is right for a plain lid', async () => {
  const { code } = await runLine(home, 'fit --plain --bore 50mm', { LIDWRIGHT_WANTED: '-0.05mm' });
  expect(code).toBe(0);
});

const SEASON = 'season --wood "maple, sugar" --diameter 52mm --clearance 0.2mm --made 20C,45% --room 20C';
test.each([FIT, 'plan --outside 60mm', SEASON])(
  '%s answers people in the unit that is set, JSON in mm as ever',
  async (line) => {
    const set = { LIDWRIGHT_UNIT: 'inches' };
    const [metric, inches, flag] = [
      await runLine(home, line),
      await runLine(home, line, set),
      await runLine(home, `${line} --unit mm`, set),
    ];
    expect(metric.data.join(' ')).not.toMatch(/\d in\b/);
    expect(inches.data.join(' ')).toMatch(/\d in\b/);
    expect(flag.data).toEqual(metric.data);
    const json = await runLine(home, `${line} --json`);
    expect((await runLine(home, `${line} --json`, set)).data).toEqual(json.data);
  },
);
