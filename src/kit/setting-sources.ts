// Where a setting's value comes from: a flag before the environment, before the settings file, before the default; and that file.
import { join } from 'node:path';
import { capitalised, forScreen } from '../core/safe-text.ts';
import { asTyped, asWritten, dashed } from './quantities.ts';
import { flagOf, SETTING_KEYS, SETTINGS, type SettingKey, type Settings, variableOf } from './settings.ts';
import { type Edited, editedFile, type TomlTable, tableOf, textOfFile, tomlLine, withKey } from './toml.ts';
import type { KitTrouble } from './trouble.ts';

/** Where the turner's own files lie: `config` of the bench's folders. */
export interface ConfigHome {
  readonly config: string;
}

export const settingsPath = (home: ConfigHome): string => join(home.config, 'settings.toml');

type Source = 'flag' | 'environment' | 'file' | 'default';

/** The options typed, by camel-cased name (values that aren't text are ignored), and the environment. */
interface GivenSettings {
  readonly flags?: Readonly<Record<string, unknown>>;
  readonly env: Readonly<Record<string, string | undefined>>;
}

interface Sources extends GivenSettings {
  /** The settings file's top table, and where it lies. */
  readonly file: { readonly path: string; readonly table: TomlTable } | undefined;
}

type OfEach<T> = { readonly [key in SettingKey]: T };

export interface Resolved {
  readonly values: Settings;
  readonly from: OfEach<Source>;
  /** The text that won, as it was given. */
  readonly texts: OfEach<string>;
  readonly troubles: readonly KitTrouble[];
}

/** What each source says of a setting, the strongest first; a source that says nothing is left out. */
function offersFor(key: SettingKey, { flags, env, file }: Sources) {
  const { [key]: flag } = flags ?? {};
  const name = dashed(key);
  const offers: readonly (readonly [Source, where: string, name: string, given: unknown])[] = [
    ['flag', 'command line', flagOf(key), typeof flag === 'string' ? flag : undefined],
    ['environment', 'environment', variableOf(key), env[variableOf(key)] || undefined],
    ['file', file?.path ?? '', name, file?.table[name]],
    ['default', 'default', key, SETTINGS[key].fallback],
  ];
  return offers.filter(([, , , given]) => given !== undefined);
}

/** The strongest sound offer; unsound ones before it are reported, and the next counts. */
function bestOffer(key: SettingKey, sources: Sources, troubles: KitTrouble[]) {
  const offers = offersFor(key, sources);
  for (const [at, [source, where, name, given]] of offers.entries()) {
    const { of } = SETTINGS[key];
    const text = asTyped(of, given);
    const parsed = of.parse(text ?? '\u0000');
    if (parsed.ok) return { value: parsed.value, source, text: text ?? '' };
    const [next = 'default'] = offers[at + 1] ?? [];
    const kept = `the ${next === 'default' ? 'default' : `one from the ${next}`} is used`;
    const found = given === '' ? '""' : (JSON.stringify(given) ?? '?');
    troubles.push({ kind: 'bad-value', where, key: name, found, accepted: parsed.accepted, kept });
  }
  throw new TypeError(`the default of ${key} is one that its own reader refuses`);
}

const isWhole = <T>(all: Readonly<Record<string, T>>): all is OfEach<T> =>
  SETTING_KEYS.every((key) => key in all);
const areSettings = (all: object): all is Settings => isWhole({ ...all });

/** Reads every setting from its strongest sound source. Never fails. */
export function resolveSettings(sources: Sources): Resolved {
  const troubles = [...unknownKeys(sources)];
  const best = SETTING_KEYS.map((key) => ({ key, ...bestOffer(key, sources, troubles) }));
  const values = Object.fromEntries(best.map(({ key, value }) => [key, value]));
  const from = Object.fromEntries(best.map(({ key, source }) => [key, source]));
  const texts = Object.fromEntries(best.map(({ key, text }) => [key, text]));
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
  const unknown = (where: string, found: readonly string[], accepted: readonly string[]) =>
    found
      .filter((key) => !accepted.includes(key))
      .map((key): KitTrouble => ({ kind: 'unknown-key', where, key, accepted }));
  const ours = Object.keys(env).filter((name) => name.startsWith('LIDWRIGHT_'));
  return [
    ...unknown(file?.path ?? '', Object.keys(file?.table ?? {}), SETTING_KEYS.map(dashed)),
    ...unknown('environment', ours, [...SETTING_KEYS.map(variableOf), 'LIDWRIGHT_HOME']),
  ];
}

/** The settings that hold, from a home's file, the environment and the flags. A file that isn't TOML is reported and ignored. */
export function readSettings(home: ConfigHome, given: GivenSettings): Resolved {
  const path = settingsPath(home);
  const read = tableOf(path);
  if ('trouble' in read) {
    const resolved = resolveSettings({ ...given, file: undefined });
    return { ...resolved, troubles: [read.trouble, ...resolved.troubles] };
  }
  return resolveSettings({ ...given, file: read.found && { path, table: read.found } });
}

const HEAD = [
  '# Settings of lidwright. Remove the # from a line to use it.',
  '# The environment overrides this file, and a flag overrides both.',
  '# `lidwright kit where` shows which one counts. `lidwright kit set` changes a line here and keeps your comments.',
];

/** The file as it is first written: every setting under its comment, each commented out at its default. */
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

/** The settings file with one setting changed (or taken out, at undefined); a new one where there was none. Writes nothing. */
export function changedSettings(home: ConfigHome, key: SettingKey, text: string | undefined): Edited {
  const path = settingsPath(home);
  const read = textOfFile(path);
  if ('trouble' in read) return { ok: false, troubles: [read.trouble] };
  const value = text === undefined ? undefined : asWritten(SETTINGS[key].of, text);
  return editedFile(path, withKey(read.found ?? newSettingsFile(), dashed(key), value));
}
