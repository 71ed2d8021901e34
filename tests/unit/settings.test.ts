// The settings: one table behind flags, environment, file and help; which source wins; what an unsound one does.
import { writeFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { settingOptions } from '../../src/commands/options.ts';
import { defaultSettings } from '../../src/core/measure/capture-settings.ts';
import { defaultBounds } from '../../src/core/thread/fit.ts';
import { dashed } from '../../src/kit/quantities.ts';
import {
  changedSettings,
  newSettingsFile,
  readSettings,
  resolveSettings,
  settingsPath,
} from '../../src/kit/setting-sources.ts';
import { flagOf, SETTING_KEYS, SETTINGS, type SettingKey, variableOf } from '../../src/kit/settings.ts';
import { tableIn } from '../../src/kit/toml.ts';
import { kitTroubleText } from '../../src/kit/trouble.ts';
import { freshFolder } from '../support/fresh-folder.ts';

const nothing = { env: {}, file: undefined };
const inFile = (table: Record<string, unknown>) => ({ path: 'settings.toml', table });

/** Three sound texts for each setting, none of them the default. */
const OTHER: { readonly [key in SettingKey]: readonly [string, string, string] } = {
  unit: ['in', 'INCH', ' inches '],
  port: ['/dev/a', '/dev/b', 'COM3'],
  baud: ['9600', '19200', '57600'],
  caliper: ['a', 'b', 'c'],
  cutter: ['a', 'b', 'c'],
  feed: ['a', 'b', 'c'],
  wanted: ['0.1mm', '-0.05mm', '0.004in'],
  runningFrom: ['0.05mm', '0.06mm', '0.002in'],
  looseFrom: ['0.4mm', '0.5mm', '1/64in'],
  tolerance: ['0.02mm', '0.05mm', '0.001in'],
  leastPeaks: ['4', '5', '6'],
  tilt: ['2deg', '0deg', '0.01rad'],
  bell: ['off', 'OFF', ' off'],
  spoken: ['on', 'ON', 'on '],
  glyphs: ['ascii', 'blocks', 'all'],
};

describe('one setting, four sources', () => {
  test.each(SETTING_KEYS)('%s: flag before environment before file before default', (key) => {
    const [flag, variable, kept] = OTHER[key];
    const [flags, env] = [{ [key]: flag }, { [variableOf(key)]: variable }];
    const file = inFile({ [dashed(key)]: kept });
    const winners = [{ flags, env, file }, { env, file }, { ...nothing, file }, nothing].map(resolveSettings);
    expect(winners.map(({ from }) => from[key])).toEqual(['flag', 'environment', 'file', 'default']);
    expect(winners.map(({ texts }) => texts[key])).toEqual([flag, variable, kept, SETTINGS[key].fallback]);
    expect(winners.flatMap(({ troubles }) => troubles)).toEqual([]);
  });

  test('the defaults are those of the core', () => {
    const { values } = resolveSettings(nothing);
    expect(values).toMatchObject(defaultBounds);
    const { tolerance, leastPeaks, tiltHalfRange: tilt } = defaultSettings('bore');
    expect(values).toMatchObject({ tolerance, leastPeaks, tilt, wanted: 0.15 });
  });
});

describe('unsound settings', () => {
  test('each is reported with where, what was found, what is accepted and what is used: the next source', () => {
    const { values, from, troubles } = resolveSettings({
      flags: { tolerance: '0.03' },
      env: { LIDWRIGHT_TOLERANCE: 'three', LIDWRIGHT_BAUD: '12' },
      file: inFile({ tolerance: '0.05mm', baud: 9600, bell: true, unit: ['mm'] }),
    });
    expect(values).toMatchObject({ tolerance: 0.05, baud: 9600, bell: 'on', unit: 'mm' });
    expect(from).toMatchObject({ tolerance: 'file', baud: 'file', bell: 'file', unit: 'default' });
    expect(troubles.map(kitTroubleText)).toEqual([
      'settings.toml: unit: ["mm"] isn\'t accepted. Give mm or in. Until then, the default is used.',
      'environment: LIDWRIGHT_BAUD: "12" isn\'t accepted. Give a whole number from 300 to 4000000. Until then, the one from the file is used.',
      expect.stringMatching(/^command line: --tolerance: "0.03" isn't accepted. Give a number with mm or in/),
      expect.stringContaining('environment: LIDWRIGHT_TOLERANCE: "three" isn\'t accepted'),
    ]);
  });

  test('a spelling mistake is reported, in the file and in the environment', () => {
    const env = { LIDWRIGHT_TOLERENCE: '0.02mm', LIDWRIGHT_HOME: '/x', PATH: '/bin' };
    expect(resolveSettings({ env, file: inFile({ Bell: 'off' }) }).troubles).toMatchObject([
      { kind: 'unknown-key', where: 'settings.toml', key: 'Bell' },
      { kind: 'unknown-key', where: 'environment', key: 'LIDWRIGHT_TOLERENCE' },
    ]);
  });

  test('bounds that leave nothing that runs are refused together', () => {
    const { values, from } = resolveSettings({ ...nothing, env: { LIDWRIGHT_RUNNING_FROM: '0.4mm' } });
    expect(values).toMatchObject(defaultBounds);
    expect(from.runningFrom).toBe('default');
  });
});

describe('the settings file', () => {
  test('a new one sets nothing until a # is removed, and then just the defaults', () => {
    expect(tableIn(newSettingsFile())).toEqual({ found: {} });
    const freed = tableIn(newSettingsFile().replace(/^# (?=[a-z-]+ = )/gm, ''));
    const table = 'found' in freed ? freed.found : {};
    expect(Object.keys(table)).toEqual(SETTING_KEYS.map(dashed));
    const { values, troubles } = resolveSettings({ ...nothing, file: inFile(table) });
    expect({ values, troubles }).toEqual({ values: resolveSettings(nothing).values, troubles: [] });
  });

  test('it explains every setting with its flag and its variable', () => {
    for (const key of SETTING_KEYS)
      for (const word of [flagOf(key), variableOf(key), SETTINGS[key].about.slice(1)])
        expect(newSettingsFile()).toContain(word);
    expect(settingOptions(['runningFrom', 'unit'])).toMatchObject([
      { flags: '--running-from <length>' },
      { flags: '--unit <unit>', offers: ['mm', 'in'] },
    ]);
  });

  test('a file that is not TOML is reported with its line, and ignored', () => {
    const home = { config: freshFolder() };
    writeFileSync(settingsPath(home), 'unit = "in"\nbaud = = 3\n');
    const { values, troubles } = readSettings(home, { env: {} });
    expect(values.unit).toBe('mm');
    expect(troubles).toMatchObject([{ kind: 'not-toml', where: settingsPath(home), line: 2 }]);
    expect(changedSettings(home, 'baud', '9600').ok).toBe(false);
  });
});
