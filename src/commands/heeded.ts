// The settings that a command heeds, from its flags, the environment and the settings file; what is wrong with just those.

import { fileKeyOf, flagOf, type SettingKey, type Settings, variableOf } from '../kit/settings.ts';
import { readSettings } from '../kit/settings-file.ts';
import { kitTroubleText } from '../kit/trouble.ts';
import { homeOf } from '../records/home.ts';
import type { Typed } from './command.ts';

export interface Heeded {
  readonly values: Settings;
  /** Sentences about unsound values of these settings; a command that has any does not begin. */
  readonly complaints: readonly string[];
}

/** Of what was typed, `keys` are settings; trouble with any other setting is not this command's. */
export function heededSettings(typed: Typed, keys: readonly SettingKey[]): Heeded {
  const flags = Object.fromEntries(keys.map((key) => [key, typed.options[key]]));
  const { values, troubles } = readSettings(homeOf(process.env), { flags, env: process.env });
  const own = new Set(keys.flatMap((key) => [flagOf(key), variableOf(key), fileKeyOf(key)]));
  const wrong = troubles.filter((trouble) => trouble.kind === 'bad-value' && own.has(trouble.key));
  return { values, complaints: wrong.map(kitTroubleText) };
}
