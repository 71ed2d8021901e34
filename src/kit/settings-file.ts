// The settings file: written once with every setting explained and commented out, then the turner's to edit.
import { join } from 'node:path';
import { type ConfigHome, type Edited, tableOf, textOfFile } from './item-files.ts';
import { type Resolved, resolveSettings } from './resolve.ts';
import { fileKeyOf, flagOf, SETTING_KEYS, SETTINGS, type SettingKey, variableOf } from './settings.ts';
import { scalarOf, type TomlValue, tomlLine, withKey } from './toml.ts';

export const settingsPath = (home: ConfigHome): string => join(home.config, 'settings.toml');

const settingValue = (key: SettingKey, text: string): TomlValue => scalarOf(SETTINGS[key].number, text);

const HEAD = [
  '# Settings of lidwright. Remove the # from a line to use it.',
  '# The environment overrides this file, and a flag overrides both.',
  '# `lidwright kit where` shows which one counts. `lidwright kit set` changes a line here and keeps your comments.',
];

const sentence = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;

/** Every setting under its comment, each commented out at its default. */
export const newSettingsFile = (): string =>
  [
    ...HEAD,
    ...SETTING_KEYS.flatMap((key) => [
      '',
      `# ${sentence(SETTINGS[key].about)}`,
      ...(SETTINGS[key].choices ? [`# One of: ${SETTINGS[key].choices?.join(', ')}.`] : []),
      `# ${variableOf(key)}, ${flagOf(key)}`,
      `# ${tomlLine(fileKeyOf(key), settingValue(key, SETTINGS[key].fallback))}`,
    ]),
    '',
  ].join('\n');

/** The settings that hold, from a home's file, the environment and the flags. A file that is no TOML is reported and ignored. */
export function readSettings(
  home: ConfigHome,
  given: {
    readonly flags: Readonly<Record<string, unknown>>;
    readonly env: Readonly<Record<string, string | undefined>>;
  },
): Resolved {
  const path = settingsPath(home);
  const read = tableOf(path);
  const table = 'trouble' in read ? undefined : read.table;
  const resolved = resolveSettings({ ...given, file: table && { path, table } });
  return 'trouble' in read ? { ...resolved, troubles: [read.trouble, ...resolved.troubles] } : resolved;
}

/** The settings file with one setting changed (or taken out, at undefined); a new one where there was none. Writes nothing. */
export function changedSettings(home: ConfigHome, key: SettingKey, text: string | undefined): Edited {
  const path = settingsPath(home);
  const read = textOfFile(path);
  if ('trouble' in read) return { ok: false, troubles: [read.trouble] };
  const value = text === undefined ? undefined : settingValue(key, text);
  const made = withKey(read.text ?? newSettingsFile(), fileKeyOf(key), value);
  if (made !== undefined) return { ok: true, path, text: made };
  const why = `${fileKeyOf(key)} can't be changed here without touching something else`;
  const kept = 'the file is unchanged; edit it by hand';
  return { ok: false, troubles: [{ kind: 'crossed', where: path, why, kept }] };
}
