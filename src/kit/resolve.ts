// Which value of a setting counts: a flag before the environment, before the settings file, before the default.
import { forScreen } from '../core/safe-text.ts';
import { asTyped, dashed } from './quantities.ts';
import { flagOf, SETTING_KEYS, SETTINGS, type SettingKey, type Settings, variableOf } from './settings.ts';
import type { KitTrouble } from './trouble.ts';

export type Source = 'flag' | 'environment' | 'file' | 'default';

/** The options typed, by camel-cased name (values that aren't text are ignored), and the environment. */
export interface GivenSettings {
  readonly flags?: Readonly<Record<string, unknown>>;
  readonly env: Readonly<Record<string, string | undefined>>;
}

interface Sources extends GivenSettings {
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
  readonly given: unknown;
}

/** What each source says of a setting, the strongest first; a source that says nothing is left out. */
function offersFor(key: SettingKey, { flags, env, file }: Sources): readonly Offer[] {
  const flag = flags?.[key];
  const variable = env[variableOf(key)] || undefined;
  const offers: readonly Offer[] = [
    {
      source: 'flag',
      where: 'command line',
      name: flagOf(key),
      given: typeof flag === 'string' ? flag : undefined,
    },
    { source: 'environment', where: 'environment', name: variableOf(key), given: variable },
    { source: 'file', where: file?.path ?? '', name: dashed(key), given: file?.table[dashed(key)] },
    { source: 'default', where: 'default', name: key, given: SETTINGS[key].fallback },
  ];
  return offers.filter(({ given }) => given !== undefined);
}

/** The strongest sound offer; unsound ones before it are reported, and the next counts. */
function bestOffer(key: SettingKey, sources: Sources, troubles: KitTrouble[]) {
  const offers = offersFor(key, sources);
  for (const [at, { source, where, name, given }] of offers.entries()) {
    const { of } = SETTINGS[key];
    const text = asTyped(of, given);
    const parsed = of.parse(text ?? '\u0000');
    if (parsed.ok) return { value: parsed.value, source, text: text ?? '' };
    const next = offers[at + 1]?.source ?? 'default';
    const kept = `the ${next === 'default' ? 'default' : `one from the ${next}`} is used`;
    const found = given === '' ? '""' : (JSON.stringify(given) ?? '?');
    troubles.push({ kind: 'bad-value', where, key: name, found, accepted: parsed.accepted, kept });
  }
  throw new TypeError(`the default of ${key} is one that its own reader refuses`);
}

const isWhole = <T>(all: { readonly [key in SettingKey]?: T }): all is { readonly [key in SettingKey]: T } =>
  SETTING_KEYS.every((key) => key in all);
const areSettings = (all: { readonly [key in SettingKey]?: unknown }): all is Settings => isWhole(all);

/** Reads every setting from its strongest sound source. Never fails. */
export function resolveSettings(sources: Sources): Resolved {
  const troubles: KitTrouble[] = [...unknownKeys(sources)];
  const values: { [key in SettingKey]?: unknown } = {};
  const from: { [key in SettingKey]?: Source } = {};
  const texts: { [key in SettingKey]?: string } = {};
  for (const key of SETTING_KEYS) {
    const best = bestOffer(key, sources, troubles);
    values[key] = best.value;
    from[key] = best.source;
    texts[key] = best.text;
  }
  if (!areSettings(values) || !isWhole(from) || !isWhole(texts))
    throw new TypeError('a setting was left out');
  return uncrossed({ values, from, texts, troubles });
}

/** Bounds that no lid could run between are refused together, since neither alone is wrong. */
function uncrossed(resolved: Resolved): Resolved {
  const { values, from, texts, troubles } = resolved;
  if (values.runningFrom < values.looseFrom) return resolved;
  const usual = resolveSettings({ env: {}, file: undefined });
  const both = <T>({ runningFrom, looseFrom }: { readonly runningFrom: T; readonly looseFrom: T }) => ({
    runningFrom,
    looseFrom,
  });
  const why = `lids would run from ${forScreen(texts.runningFrom)} (${from.runningFrom}) and be loose from ${forScreen(texts.looseFrom)} (${from.looseFrom}), so no lid could run`;
  const kept = `the defaults ${usual.texts.runningFrom} and ${usual.texts.looseFrom} are used`;
  return {
    values: { ...values, ...both(usual.values) },
    from: { ...from, ...both(usual.from) },
    texts: { ...texts, ...both(usual.texts) },
    troubles: [...troubles, { kind: 'crossed', where: 'running-from and loose-from', why, kept }],
  };
}

/** Keys of the file, and variables with our prefix, that are not settings: most likely a spelling mistake. */
function unknownKeys({ env, file }: Sources): readonly KitTrouble[] {
  const unknown = (
    where: string,
    found: readonly string[],
    accepted: readonly string[],
  ): readonly KitTrouble[] =>
    found
      .filter((key) => !accepted.includes(key))
      .map((key) => ({ kind: 'unknown-key', where, key, accepted }));
  const ours = Object.keys(env).filter((name) => name.startsWith('LIDWRIGHT_'));
  return [
    ...unknown(file?.path ?? '', Object.keys(file?.table ?? {}), SETTING_KEYS.map(dashed)),
    ...unknown('environment', ours, [...SETTING_KEYS.map(variableOf), 'LIDWRIGHT_HOME']),
  ];
}
