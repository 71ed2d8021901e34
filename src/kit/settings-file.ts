// The settings file: written once with every setting explained and commented out, then the turner's to edit.
import { join } from 'node:path';
import { capitalised } from '../core/safe-text.ts';
import { type ConfigHome, type Edited, editedFile, tableOf, textOfFile } from './item-files.ts';
import { asWritten, dashed } from './quantities.ts';
import { type GivenSettings, type Resolved, resolveSettings } from './resolve.ts';
import { flagOf, SETTING_KEYS, SETTINGS, type SettingKey, variableOf } from './settings.ts';
import { tomlLine, withKey } from './toml.ts';

export const settingsPath = (home: ConfigHome): string => join(home.config, 'settings.toml');

const HEAD = [
  '# Settings of lidwright. Remove the # from a line to use it.',
  '# The environment overrides this file, and a flag overrides both.',
  '# `lidwright kit where` shows which one counts. `lidwright kit set` changes a line here and keeps your comments.',
];

/** Every setting under its comment, each commented out at its default. */
export const newSettingsFile = (): string =>
  [
    ...HEAD,
    ...SETTING_KEYS.flatMap((key) => {
      const { about, of, fallback } = SETTINGS[key];
      return [
        '',
        `# ${capitalised(about)}.`,
        ...(of.choices ? [`# One of: ${of.choices.join(', ')}.`] : []),
        `# ${variableOf(key)}, ${flagOf(key)}`,
        `# ${tomlLine(dashed(key), asWritten(of, fallback))}`,
      ];
    }),
    '',
  ].join('\n');

/** The settings that hold, from a home's file, the environment and the flags. A file that isn't TOML is reported and ignored. */
export function readSettings(home: ConfigHome, given: GivenSettings): Resolved {
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
  const value = text === undefined ? undefined : asWritten(SETTINGS[key].of, text);
  return editedFile(path, withKey(read.text ?? newSettingsFile(), dashed(key), value));
}
