// The settings file: written once with every setting explained and nothing in force, then the turner's own to edit.
import { join } from 'node:path';
import { withKey } from './edit.ts';
import { tableOf, textOfFile } from './folder.ts';
import { type Resolved, resolveSettings } from './resolve.ts';
import { fileKeyOf, flagOf, SETTING_KEYS, SETTINGS, type SettingKey, variableOf } from './settings.ts';
import { scalarOf, type TomlValue, tomlLine } from './toml.ts';
import type { KitTrouble } from './trouble.ts';

/** Where the turner's own files lie: `config` of the bench's folders. */
export interface ConfigHome {
  readonly config: string;
}

export const settingsPath = (home: ConfigHome): string => join(home.config, 'settings.toml');

const tomlValueOf = (key: SettingKey, text: string): TomlValue => scalarOf(SETTINGS[key].number, text);

const HEAD = [
  '# Settings of lidwright. Take the # off a line to put it in force.',
  '# The environment is stronger than this file, and a flag is stronger than both;',
  '# `lidwright kit where` shows which one holds. `lidwright kit set` changes a line here and keeps your comments.',
];

/** Every setting under its comment, each commented out at its default. */
export const newSettingsFile = (): string =>
  [
    ...HEAD,
    ...SETTING_KEYS.flatMap((key) => [
      '',
      `# ${SETTINGS[key].about}`,
      ...(SETTINGS[key].choices ? [`# One of: ${SETTINGS[key].choices?.join(', ')}.`] : []),
      `# ${variableOf(key)}, ${flagOf(key)}`,
      `# ${tomlLine(fileKeyOf(key), tomlValueOf(key, SETTINGS[key].fallback))}`,
    ]),
    '',
  ].join('\n');

/** The settings that hold, from a home's file, the environment and the flags. A file that is no TOML is told and left out. */
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

export type Edited =
  | { readonly ok: true; readonly path: string; readonly text: string }
  | { readonly ok: false; readonly troubles: readonly KitTrouble[] };

/** The settings file with one setting changed (or taken out, at undefined); a new one where there was none. Writes nothing. */
export function changedSettings(home: ConfigHome, key: SettingKey, text: string | undefined): Edited {
  const path = settingsPath(home);
  const read = textOfFile(path);
  if ('trouble' in read) return { ok: false, troubles: [read.trouble] };
  const value = text === undefined ? undefined : tomlValueOf(key, text);
  const made = withKey(read.text ?? newSettingsFile(), fileKeyOf(key), value);
  if (made !== undefined) return { ok: true, path, text: made };
  const why = `${fileKeyOf(key)} cannot be changed here without touching more`;
  const kept = 'the file is left as it is; edit it by hand';
  return { ok: false, troubles: [{ kind: 'crossed', where: path, why, kept }] };
}
