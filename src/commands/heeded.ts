// The settings that a command heeds, from its flags, the environment and the settings file; what is wrong with just those.

import type { Parsed } from '../core/quantity.ts';
import { forScreen } from '../core/safe-text.ts';
import type { Length, LengthUnit } from '../core/units.ts';
import type { Resolved } from '../kit/resolve.ts';
import { fileKeyOf, flagOf, type SettingKey, type Settings, variableOf } from '../kit/settings.ts';
import { readSettings } from '../kit/settings-file.ts';
import { type KitTrouble, kitTroubleText } from '../kit/trouble.ts';
import { homeOf } from '../records/home.ts';
import type { Asking } from './asking.ts';
import type { Typed } from './command.ts';

export interface Heeded {
  readonly values: Settings;
  /** Where each value comes from, and its text as it was given there. */
  readonly from: Resolved['from'];
  readonly texts: Resolved['texts'];
  /** Sentences about unsound values of these settings; a command that has any does not begin. */
  readonly complaints: readonly string[];
}

/** Of what was typed, `keys` are settings; trouble with any other setting is not this command's. */
export function heededSettings(typed: Typed, keys: readonly SettingKey[]): Heeded {
  const flags = Object.fromEntries(keys.map((key) => [key, typed.options[key]]));
  const { values, from, texts, troubles } = readSettings(homeOf(process.env), { flags, env: process.env });
  const own = new Set(keys.flatMap((key) => [flagOf(key), variableOf(key), fileKeyOf(key)]));
  const isOwn = (trouble: KitTrouble): boolean =>
    trouble.kind === 'crossed'
      ? keys.includes('runningFrom')
      : trouble.kind === 'bad-value' && own.has(trouble.key);
  return { values, from, texts, complaints: troubles.filter(isOwn).map(kitTroubleText) };
}

/** For commands whose own flags say the rest: what `--unit`, the environment and the settings file say of these settings. */
export function heededBeside(ask: Asking, typed: Typed, keys: readonly SettingKey[]): Heeded {
  const heeded = heededSettings({ args: [], options: { unit: typed.options.unit } }, keys);
  for (const complaint of heeded.complaints) ask.complain(complaint);
  return heeded;
}

/** The unit for people: as set, else what a length was typed in. */
export const unitHeeded = ({ values, from }: Heeded, typedIn: LengthUnit): LengthUnit =>
  from.unit === 'default' ? typedIn : values.unit;

/** The clearance wanted where no flag says it; one that this question cannot have is complained of, with where it is set. */
export function wantedHeeded(
  ask: Asking,
  { values, from, texts }: Heeded,
  parse: (text: string) => Parsed<Length>,
): Length {
  const parsed = parse(texts.wanted);
  if (parsed.ok) return parsed.value;
  ask.complain(
    `wanted, set in the ${from.wanted}: "${forScreen(texts.wanted)}" is not accepted here; give --clearance: ${parsed.accepted}.`,
  );
  return values.wanted;
}
