// Settings of commands that are not the bench: the environment and the file count there too, and only for what they use.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { COMMANDS } from '../../src/commands/all.ts';
import { runLine } from '../support/command-run.ts';

let home = '';
beforeEach(() => {
  home = mkdtempSync(join(tmpdir(), 'lidwright-settings-'));
});
afterEach(() => rmSync(home, { recursive: true, force: true }));

test('the port of the environment, or of the file, is the one listened to', async () => {
  const fromEnvironment = await runLine(home, 'listen --for 1', COMMANDS, {
    LIDWRIGHT_PORT: '/dev/none-of-that',
  });
  expect(fromEnvironment).toMatchObject({
    code: 3,
    data: [expect.stringContaining("Can't find /dev/none-of-that")],
  });
  writeFileSync(join(home, 'settings.toml'), 'port = "/dev/nor-of-this"\n');
  const fromFile = await runLine(home, 'listen --for 1', COMMANDS);
  expect(fromFile).toMatchObject({
    code: 3,
    data: [expect.stringContaining("Can't find /dev/nor-of-this")],
  });
});

test.each(['listen --for 1', 'ports'])(
  '%s does not begin with an unsound speed, and says where it is set',
  async (line) => {
    const { code, said } = await runLine(home, line, COMMANDS, { LIDWRIGHT_BAUD: 'fast' });
    expect(code).toBe(2);
    expect(said.join()).toContain('LIDWRIGHT_BAUD: "fast" isn\'t accepted. Give a whole number');
  },
);

test('trouble with a setting that a command does not use is ignored', async () => {
  const { code, said } = await runLine(home, 'ports --list', COMMANDS, { LIDWRIGHT_TILT: 'steep' });
  expect(code).toBe(0);
  expect(said.join()).not.toContain('TILT');
});

const FIT = 'fit --bore 50mm --pitch 16tpi --depth 1mm';

test('fit takes clearance and bounds from its flag before the environment before the file', async () => {
  const clearance = async (line: string, env: Readonly<Record<string, string>>): Promise<number> => {
    const { data } = await runLine(home, `${line} --json`, COMMANDS, env);
    const { targetSpigotMm, boreMm, limitMm } = JSON.parse(data[0] ?? '') as Record<string, number>;
    return Number(((boreMm ?? 50) + (limitMm ?? 0) - (targetSpigotMm ?? 0)).toFixed(6));
  };
  writeFileSync(join(home, 'settings.toml'), 'wanted = "0.12mm"\n');
  const env = { LIDWRIGHT_WANTED: '0.2mm' };
  expect(await clearance(`${FIT} --clearance 0.25mm`, env)).toBeCloseTo(0.25, 6);
  expect(await clearance(FIT, env)).toBeCloseTo(0.2, 6);
  expect(await clearance(FIT, {})).toBeCloseTo(0.12, 6);
  writeFileSync(join(home, 'settings.toml'), '');
  expect(await clearance(FIT, {})).toBeCloseTo(0.15, 6);
  const bounds = async (line: string, set: Readonly<Record<string, string>>) =>
    (JSON.parse((await runLine(home, `${line} --json`, COMMANDS, set)).data[0] ?? '') as { bandMm: unknown })
      .bandMm;
  const plain = await bounds(FIT, {});
  const wide = await bounds(FIT, { LIDWRIGHT_LOOSE_FROM: '0.5mm' });
  expect(wide).not.toEqual(plain);
  expect(await bounds(`${FIT} --loose-from 0.3mm`, { LIDWRIGHT_LOOSE_FROM: '0.5mm' })).toEqual(plain);
});

test.each([
  [FIT, { LIDWRIGHT_WANTED: '-0.05mm' }, 'wanted, set in the environment: "-0.05mm" isn\'t accepted here'],
  [FIT, { LIDWRIGHT_RUNNING_FROM: 'loose' }, 'LIDWRIGHT_RUNNING_FROM: "loose"'],
  [FIT, { LIDWRIGHT_RUNNING_FROM: '0.4mm' }, 'so no lid could run'],
  ['plan --outside 60mm', { LIDWRIGHT_WANTED: '-0.05mm' }, 'wanted, set in the environment'],
  ['plan --outside 60mm', { LIDWRIGHT_UNIT: 'feet' }, 'LIDWRIGHT_UNIT: "feet"'],
])('%s with %j is refused, and says where it is set', async (line, env, why) => {
  const { code, said } = await runLine(home, line, COMMANDS, env);
  expect(code).toBe(2);
  expect(said.join(' ')).toContain(why);
});

test('a wanted hold is right for a plain lid', async () => {
  const { code } = await runLine(home, 'fit --plain --bore 50mm', COMMANDS, { LIDWRIGHT_WANTED: '-0.05mm' });
  expect(code).toBe(0);
});

const SEASON = 'season --wood "maple, sugar" --diameter 52mm --clearance 0.2mm --made 20C,45% --room 20C';
test.each([FIT, 'plan --outside 60mm', SEASON])(
  '%s answers people in the unit that is set, JSON in mm as ever',
  async (line) => {
    const set = { LIDWRIGHT_UNIT: 'inches' };
    const [metric, inches, flag] = [
      await runLine(home, line, COMMANDS),
      await runLine(home, line, COMMANDS, set),
      await runLine(home, `${line} --unit mm`, COMMANDS, set),
    ];
    expect(metric.data.join(' ')).not.toMatch(/\d in\b/);
    expect(inches.data.join(' ')).toMatch(/\d in\b/);
    expect(flag.data).toEqual(metric.data);
    const json = await runLine(home, `${line} --json`, COMMANDS);
    expect((await runLine(home, `${line} --json`, COMMANDS, set)).data).toEqual(json.data);
  },
);
