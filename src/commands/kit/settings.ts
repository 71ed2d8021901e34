// The settings: which value counts and where it comes from, one changed, the whole file written.
import { existsSync } from 'node:fs';
import { refusal } from '../../core/quantity.ts';
import { forScreen, pathForScreen } from '../../core/safe-text.ts';
import { dashed } from '../../kit/quantities.ts';
import { changedSettings, newSettingsFile, settingsPath } from '../../kit/setting-sources.ts';
import {
  flagOf,
  SETTING_KEYS,
  SETTINGS,
  type SettingKey,
  settingNamed,
  variableOf,
} from '../../kit/settings.ts';
import type { ExitCode, Output, Typed } from '../command.ts';
import { answer, endWith } from '../output.ts';
import { openKit, sayTroubles, writeOrSay } from './kit-files.ts';

/** Where a value comes from, as a person would look for it. */
const PLACES = {
  flag: (key: SettingKey) => ` ${flagOf(key)}`,
  environment: (key: SettingKey) => ` ${variableOf(key)}`,
  file: (_: SettingKey, file: string) => ` ${pathForScreen(file)}`,
  default: () => '',
};

/** Every setting with its value and where that comes from. */
export function showWhere(typed: Typed, output: Output): ExitCode {
  const { home, read } = openKit(typed, SETTING_KEYS);
  const { texts, from: sources } = read.settings;
  for (const name of SETTING_KEYS) {
    const [key, text, from] = [dashed(name), forScreen(texts[name].trim()), sources[name]];
    const where = from + PLACES[from](name, settingsPath(home));
    answer(typed, output, { kind: 'setting', v: 1, key, text, from, where }, [
      `${key.padEnd(14)} ${(text || '-').padEnd(18)} ${where}`,
    ]);
  }
  return sayTroubles(read.troubles, output);
}

/** Changes one setting in the file, or takes it out where no value was given. */
export function setSetting(typed: Typed, output: Output): ExitCode {
  const [word, text] = [String(typed.args[0] ?? ''), typed.args[1]];
  const key = settingNamed(word);
  const names = SETTING_KEYS.map(dashed).join(', ');
  if (!key)
    return endWith(
      output,
      2,
      `"${forScreen(word)}" isn't a setting. The settings are: ${names}. Nothing was changed.`,
    );
  const value = typeof text === 'string' ? text : undefined;
  const parsed = value === undefined ? undefined : SETTINGS[key].of.parse(value);
  if (parsed?.ok === false) return endWith(output, 2, `${refusal(dashed(key), parsed)} Nothing was changed.`);
  const edited = changedSettings(openKit(typed).home, key, value);
  if (!edited.ok) return sayTroubles(edited.troubles, output);
  const what = value === undefined ? 'is back at its default' : `is ${forScreen(value)}`;
  const done = `${dashed(key)} ${what} (${pathForScreen(edited.path)}).`;
  const code = writeOrSay(edited.path, edited.text, done, output);
  const overridden = code === 0 && openKit(typed).read.settings.from[key] === 'environment';
  return endWith(output, code, ...(overridden ? [`${variableOf(key)} is set, and overrides the file.`] : []));
}

/** Writes the settings file with everything explained, unless there is one. */
export function writeSettings(typed: Typed, output: Output): ExitCode {
  const path = settingsPath(openKit(typed).home);
  if (existsSync(path)) return endWith(output, 1, `${pathForScreen(path)} already exists and is unchanged.`);
  const done = `Wrote ${pathForScreen(path)}: every setting explained and commented out.`;
  return writeOrSay(path, newSettingsFile(), done, output);
}
