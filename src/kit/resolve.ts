// Which value of a setting counts: a flag before the environment, before the settings file, before the default.

import { forScreen } from '../core/safe-text.ts';
import {
  fileKeyOf,
  flagOf,
  SETTING_KEYS,
  SETTINGS,
  type SettingKey,
  type Settings,
  variableOf,
} from './settings.ts';
import type { KitTrouble } from './trouble.ts';
import { textOf } from './value.ts';

export type Source = 'flag' | 'environment' | 'file' | 'default';

export interface Sources {
  /** What was typed, by camel-cased name; values that are not text are ignored. */
  readonly flags: Readonly<Record<string, unknown>>;
  readonly env: Readonly<Record<string, string | undefined>>;
  /** The settings file's top table, and where it lies. */
  readonly file: { readonly path: string; readonly table: Readonly<Record<string, unknown>> } | undefined;
}

export interface Resolved {
  readonly values: Settings;
  readonly from: { readonly [key in SettingKey]: Source };
  /** The text that won, as it was given. */
  readonly texts: { readonly [key in SettingKey]: string };
  readonly troubles: readonly KitTrouble[];
}

interface Offer {
  readonly source: Source;
  readonly where: string;
  readonly name: string;
  readonly text: string | undefined;
  readonly found: string;
}

/** What each source says of a setting, the strongest first; a source that says nothing is left out. */
function offersFor(key: SettingKey, { flags, env, file }: Sources): readonly Offer[] {
  const flag = flags[key];
  const variable = env[variableOf(key)];
  const kept = file?.table[fileKeyOf(key)];
  const of = (source: Source, where: string, name: string, value: unknown): Offer => ({
    source,
    where,
    name,
    text: textOf(value),
    found: value === '' ? '""' : (JSON.stringify(value) ?? '?'),
  });
  return [
    ...(typeof flag === 'string' ? [of('flag', 'command line', flagOf(key), flag)] : []),
    ...(variable === undefined || variable === ''
      ? []
      : [of('environment', 'environment', variableOf(key), variable)]),
    ...(file === undefined || kept === undefined ? [] : [of('file', file.path, fileKeyOf(key), kept)]),
    of('default', 'default', key, SETTINGS[key].fallback),
  ];
}

type Building = { [K in SettingKey]?: Settings[K] };
const isWhole = (values: Building): values is Settings => SETTING_KEYS.every((key) => key in values);

/** Reads every setting from its strongest sound source; an unsound one is reported, and the next source counts. Never fails. */
export function resolveSettings(sources: Sources): Resolved {
  const values: Building = {};
  const from: Partial<Record<SettingKey, Source>> = {};
  const texts: Partial<Record<SettingKey, string>> = {};
  const troubles: KitTrouble[] = [...unknownKeys(sources)];
  const take = <K extends SettingKey>(key: K): void => {
    const offers = offersFor(key, sources);
    for (const [at, offer] of offers.entries()) {
      const parsed = SETTINGS[key].parse(offer.text ?? '\u0000');
      if (parsed.ok) {
        values[key] = parsed.value;
        from[key] = offer.source;
        texts[key] = offer.text ?? '';
        return;
      }
      const next = offers[at + 1]?.source ?? 'default';
      const kept = `the ${next === 'default' ? 'default' : `one from the ${next}`} is used`;
      troubles.push({
        kind: 'bad-value',
        where: offer.where,
        key: offer.name,
        found: offer.found,
        accepted: parsed.accepted,
        kept,
      });
    }
  };
  for (const key of SETTING_KEYS) take(key);
  if (!isWhole(values)) throw new TypeError('a setting has a default that its own reader refuses');
  return uncrossed({ values, from: whole(from), texts: whole(texts), troubles });
}

function whole<T>(parts: Partial<Record<SettingKey, T>>): Record<SettingKey, T> {
  const isWhole = (all: Partial<Record<SettingKey, T>>): all is Record<SettingKey, T> =>
    SETTING_KEYS.every((key) => all[key] !== undefined);
  if (!isWhole(parts)) throw new TypeError('a setting was left out');
  return parts;
}

/** Bounds that leave nothing that runs are refused together, since neither alone is wrong. */
function uncrossed(resolved: Resolved): Resolved {
  const { values, from, texts, troubles } = resolved;
  if (values.runningFrom < values.looseFrom) return resolved;
  const [running, loose] = [SETTINGS.runningFrom, SETTINGS.looseFrom];
  const defaults = resolveSettings({ flags: {}, env: {}, file: undefined }).values;
  const why = `lids would run from ${forScreen(texts.runningFrom)} (${from.runningFrom}) and be loose from ${forScreen(texts.looseFrom)} (${from.looseFrom}), so no lid could run`;
  const kept = `the defaults ${running.fallback} and ${loose.fallback} are used`;
  return {
    values: { ...values, runningFrom: defaults.runningFrom, looseFrom: defaults.looseFrom },
    from: { ...from, runningFrom: 'default', looseFrom: 'default' },
    texts: { ...texts, runningFrom: running.fallback, looseFrom: loose.fallback },
    troubles: [...troubles, { kind: 'crossed', where: 'running-from and loose-from', why, kept }],
  };
}

/** Keys of the file, and variables with our prefix, that are not settings: most likely a spelling mistake. */
function unknownKeys({ env, file }: Sources): readonly KitTrouble[] {
  const keys = SETTING_KEYS.map(fileKeyOf);
  const variables = [...SETTING_KEYS.map(variableOf), 'LIDWRIGHT_HOME'];
  const inFile = Object.keys(file?.table ?? {}).filter((key) => !keys.includes(key));
  const inEnv = Object.keys(env).filter((name) => name.startsWith('LIDWRIGHT_') && !variables.includes(name));
  return [
    ...inFile.map(
      (key): KitTrouble => ({ kind: 'unknown-key', where: file?.path ?? '', key, accepted: keys }),
    ),
    ...inEnv.map(
      (key): KitTrouble => ({ kind: 'unknown-key', where: 'environment', key, accepted: variables }),
    ),
  ];
}
