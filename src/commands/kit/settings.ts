// The settings: which value counts and where it comes from, one changed, the whole file written.
import { existsSync } from 'node:fs';
import { refusal } from '../../core/quantity.ts';
import { forScreen, pathForScreen } from '../../core/safe-text.ts';
import type { Resolved } from '../../kit/resolve.ts';
import {
  fileKeyOf,
  flagOf,
  parseSetting,
  SETTING_KEYS,
  type SettingKey,
  settingNamed,
  variableOf,
} from '../../kit/settings.ts';
import { changedSettings, newSettingsFile, settingsPath } from '../../kit/settings-file.ts';
import type { ExitCode, Output, Typed } from '../command.ts';
import { openKit, sayTroubles, writeOrSay } from './open-kit.ts';

const JSON_VERSION = 1;

/** Where a value comes from, as a person would look for it. */
function sourceOf(key: SettingKey, settings: Resolved, file: string): string {
  const source = settings.from[key];
  switch (source) {
    case 'flag':
      return `flag ${flagOf(key)}`;
    case 'environment':
      return `environment ${variableOf(key)}`;
    case 'file':
      return `file ${pathForScreen(file)}`;
    case 'default':
      return 'default';
    default:
      return source satisfies never;
  }
}

/** Every setting with its value and where that comes from. */
export function showWhere(typed: Typed, output: Output): ExitCode {
  const { home, read } = openKit(typed, SETTING_KEYS);
  const { settings } = read;
  const file = settingsPath(home);
  for (const key of SETTING_KEYS) {
    const [text, from] = [forScreen(settings.texts[key].trim()), sourceOf(key, settings, file)];
    const { [key]: source } = settings.from;
    if (typed.options.json === true)
      output.data(
        JSON.stringify({
          kind: 'setting',
          v: JSON_VERSION,
          key: fileKeyOf(key),
          text,
          from: source,
          where: from,
        }),
      );
    else output.data(`${fileKeyOf(key).padEnd(14)} ${(text || '-').padEnd(18)} ${from}`);
  }
  return sayTroubles(read.troubles, output);
}

/** Changes one setting in the file, or takes it out where no value was given. */
export function setSetting(typed: Typed, output: Output): ExitCode {
  const [word, text] = [String(typed.args[0] ?? ''), typed.args[1]];
  const key = settingNamed(word);
  if (!key) {
    output.message(
      `"${forScreen(word)}" isn't a setting. There are: ${SETTING_KEYS.map(fileKeyOf).join(', ')}. Nothing was changed.`,
    );
    return 2;
  }
  const value = typeof text === 'string' ? text : undefined;
  const parsed = value === undefined ? undefined : parseSetting(key, value);
  if (parsed?.ok === false) {
    output.message(`${refusal(fileKeyOf(key), parsed)} Nothing was changed.`);
    return 2;
  }
  const { home } = openKit(typed);
  const edited = changedSettings(home, key, value);
  if (!edited.ok) return sayTroubles(edited.troubles, output);
  if (!writeOrSay(edited.path, edited.text, output)) return 3;
  const what = value === undefined ? 'is back at its default' : `is ${forScreen(value)}`;
  output.data(`${fileKeyOf(key)} ${what} (${pathForScreen(edited.path)}).`);
  const winner = openKit(typed).read.settings.from[key];
  if (winner === 'environment') output.message(`${variableOf(key)} is set, and overrides the file.`);
  return 0;
}

/** Writes the settings file with everything explained, unless there is one. */
export function writeSettings(typed: Typed, output: Output): ExitCode {
  const path = settingsPath(openKit(typed).home);
  if (existsSync(path)) {
    output.message(`${pathForScreen(path)} already exists and is unchanged.`);
    return 1;
  }
  if (!writeOrSay(path, newSettingsFile(), output)) return 3;
  output.data(`Wrote ${pathForScreen(path)}: every setting explained and commented out.`);
  return 0;
}
