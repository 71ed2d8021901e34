// The settings that count for one command, from its flags, the environment and the settings file, and what is wrong with them.
import { forScreen } from '../core/safe-text.ts';
import type { Length, LengthUnit } from '../core/units.ts';
import { dashed, type Quantity } from '../kit/quantities.ts';
import { type Resolved, readSettings } from '../kit/setting-sources.ts';
import { flagOf, type SettingKey, variableOf } from '../kit/settings.ts';
import { type KitTrouble, kitTroubleText } from '../kit/trouble.ts';
import { homeOf } from '../records/home.ts';
import type { Typed } from './command.ts';
import type { OptionReader } from './options.ts';

export interface CommandSettings extends Resolved {
  /** What is wrong with these settings; a command with any error doesn't run. */
  readonly errors: readonly string[];
}

/** The typed flags that are settings of a command. */
export const flagsAmong = ({ options }: Typed, keys: readonly SettingKey[]): Typed['options'] =>
  Object.fromEntries(keys.map((key) => [key, options[key]]));

/** Only the typed `keys` are settings here; trouble with any other setting does not concern this command. */
export function commandSettings(typed: Typed, keys: readonly SettingKey[]): CommandSettings {
  const resolved = readSettings(homeOf(process.env), { flags: flagsAmong(typed, keys), env: process.env });
  const own = new Set(keys.flatMap((key) => [flagOf(key), variableOf(key), dashed(key)]));
  const isOwn = (trouble: KitTrouble): boolean =>
    trouble.kind === 'crossed'
      ? keys.includes('runningFrom')
      : trouble.kind === 'bad-value' && own.has(trouble.key);
  return { ...resolved, errors: resolved.troubles.filter(isOwn).map(kitTroubleText) };
}

/** For commands that read their other flags themselves: the values of `keys` by `--unit`, the environment and the settings file. */
export function settingsBeside(
  options: OptionReader,
  typed: Typed,
  keys: readonly SettingKey[],
): CommandSettings {
  const settings = commandSettings({ args: [], options: flagsAmong(typed, ['unit']) }, keys);
  for (const error of settings.errors) options.addError(error);
  return settings;
}

/** The unit for people: as set, else what a length was typed in. */
export const unitFor = ({ values, from }: CommandSettings, typedIn: LengthUnit): LengthUnit =>
  from.unit === 'default' ? typedIn : values.unit;

/** `--clearance`, or else the clearance that is set; one that this question cannot have is an error that says where it is set. */
export function clearanceFor(
  options: OptionReader,
  { values, from, texts }: CommandSettings,
  of: Quantity<Length>,
): Length {
  if (options.isTyped('clearance')) return options.one('clearance', of) ?? values.wanted;
  const parsed = of.parse(texts.wanted);
  if (parsed.ok) return parsed.value;
  options.addError(
    `wanted, set in the ${from.wanted}: "${forScreen(texts.wanted)}" isn't accepted here. Give --clearance: ${parsed.accepted}.`,
  );
  return values.wanted;
}
