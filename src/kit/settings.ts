// Every setting, defined once: flags, environment names, file keys, comments, help and `kit where` all come from this table.
import {
  notAccepted,
  type Parsed,
  parseAngle,
  parseCount,
  parseLength,
  parsePositiveLength,
  parseUnit,
  parseUnsignedLength,
  parseWord,
} from '../core/quantity.ts';
import { type Angle, degrees, type Length, type LengthUnit } from '../core/units.ts';
import { type Parse, parseName } from './value.ts';

type OnOff = 'on' | 'off';

/** What can be set for every part of the program. An empty text means that nothing was said. */
export interface Settings {
  readonly unit: LengthUnit;
  readonly port: string;
  readonly baud: number;
  readonly caliper: string;
  readonly cutter: string;
  readonly feed: string;
  readonly wanted: Length;
  readonly runningFrom: Length;
  readonly looseFrom: Length;
  readonly tolerance: Length;
  readonly leastPeaks: number;
  readonly tilt: Angle;
  readonly bell: OnOff;
  readonly spoken: OnOff;
  readonly glyphs: 'auto' | 'all' | 'blocks' | 'ascii';
}

export type SettingKey = keyof Settings;

interface Setting<T> {
  readonly about: string;
  readonly placeholder: string;
  /** Read like any other source, so that a default is never what would be refused. */
  readonly fallback: string;
  readonly parse: Parse<T>;
  readonly choices?: readonly string[];
  /** True where a file writes it as a number, without quotes. */
  readonly number?: boolean;
}

const MOST_PATH = 400;
const parsePort: Parse<string> = (text) =>
  /^[^\p{C}]*$/u.test(text) && text.length <= MOST_PATH
    ? { ok: true, value: text.trim() }
    : notAccepted(text, 'the path of a port; `lidwright ports` lists them');

/** A name of the kit, or nothing for the first there is. */
const parseChosen: Parse<string> = (text) => (text.trim() === '' ? { ok: true, value: '' } : parseName(text));

/** The half-range of a tilt: a quarter of a right angle is far beyond what any hand would do. */
const parseTilt: Parse<Angle> = (text) => {
  const parsed = parseAngle(text);
  const fits = parsed.ok && parsed.value >= 0 && parsed.value <= degrees(10);
  return fits ? parsed : notAccepted(text, 'an angle from 0deg to 10deg, such as 1deg');
};

const choice = <const T extends string>(words: readonly T[]) => ({ parse: parseWord(words), choices: words });
const onOff = choice(['on', 'off']);

export const SETTINGS: { readonly [K in SettingKey]: Setting<Settings[K]> } = {
  unit: {
    about: 'unit for lengths',
    placeholder: 'unit',
    fallback: 'mm',
    parse: parseUnit,
    choices: ['mm', 'in'],
  },
  port: {
    about: 'serial port of the board; empty for the one used last, or the only one there',
    placeholder: 'path',
    fallback: '',
    parse: parsePort,
  },
  baud: {
    about: 'speed of that port',
    placeholder: 'rate',
    fallback: '115200',
    parse: (text) => parseCount(text, 300, 4_000_000),
    number: true,
  },
  caliper: {
    about: 'caliper in use, by its name in the kit; empty for the first',
    placeholder: 'name',
    fallback: '',
    parse: parseChosen,
  },
  cutter: {
    about: 'cutter in use, by its name in the kit; empty for the first',
    placeholder: 'name',
    fallback: '',
    parse: parseChosen,
  },
  feed: {
    about: 'feed handle in use, by its name in the kit; empty for the first',
    placeholder: 'name',
    fallback: '',
    parse: parseChosen,
  },
  wanted: {
    about: 'clearance wanted for a new job, on the diameter; below zero for a plain lid held by friction',
    placeholder: 'length',
    fallback: '0.15mm',
    parse: (text) => parseLength(text),
  },
  runningFrom: {
    about: 'clearance from which a lid runs; below it, down to zero, the lid is tight',
    placeholder: 'length',
    fallback: '0.08mm',
    parse: parseUnsignedLength,
  },
  looseFrom: {
    about: 'clearance from which a lid is loose',
    placeholder: 'length',
    fallback: '0.3mm',
    parse: parsePositiveLength,
  },
  tolerance: {
    about: 'how close the peaks of a rocked bore must be to agree',
    placeholder: 'length',
    fallback: '0.03mm',
    parse: parsePositiveLength,
  },
  leastPeaks: {
    about: 'how many peaks of a rocked bore must agree',
    placeholder: 'count',
    fallback: '3',
    parse: (text) => parseCount(text, 3, 20),
    number: true,
  },
  tilt: {
    about: 'how far you may tilt the caliper along a bore without noticing, either way',
    placeholder: 'angle',
    fallback: '1deg',
    parse: parseTilt,
  },
  bell: { about: 'ring the terminal bell at the bench', placeholder: 'on|off', fallback: 'on', ...onOff },
  spoken: {
    about: 'print changes as lines of text for a screen reader, instead of drawing the screen',
    placeholder: 'on|off',
    fallback: 'off',
    ...onOff,
  },
  glyphs: {
    about: 'characters to draw with: all, blocks without Braille, or only ASCII; auto follows the locale',
    placeholder: 'set',
    fallback: 'auto',
    ...choice(['auto', 'all', 'blocks', 'ascii']),
  },
};

const hasKey = (key: string): key is SettingKey => key in SETTINGS;
export const SETTING_KEYS: readonly SettingKey[] = Object.keys(SETTINGS).filter(hasKey);

const parted = (key: SettingKey, by: string): string =>
  key.replace(/[A-Z]/g, (letter) => `${by}${letter.toLowerCase()}`);

/** `runningFrom` is `running-from` in the settings file, */
export const fileKeyOf = (key: SettingKey): string => parted(key, '-');
/** `--running-from` among the flags, */
export const flagOf = (key: SettingKey): string => `--${fileKeyOf(key)}`;
/** and `LIDWRIGHT_RUNNING_FROM` in the environment. */
export const variableOf = (key: SettingKey): string => `LIDWRIGHT_${parted(key, '_').toUpperCase()}`;

/** The setting that a file key or a key of this program names. */
export const settingNamed = (word: string): SettingKey | undefined =>
  SETTING_KEYS.find((key) => key === word || fileKeyOf(key) === word);

/** Options for a command that uses these settings, in the shape of a command's other options. */
export const settingOptions = (keys: readonly SettingKey[]) =>
  keys.map((key) => {
    const { about, placeholder, fallback, choices } = SETTINGS[key];
    const usually = fallback === '' ? '' : ` (${fallback})`;
    const option = { flags: `${flagOf(key)} <${placeholder}>`, about: `${about}${usually}` };
    return choices ? { ...option, offers: choices } : option;
  });

/** One setting's text read by its own reader. */
export const parseSetting = (key: SettingKey, text: string): Parsed<unknown> => SETTINGS[key].parse(text);
