// Every setting, defined once: flags, environment names, file keys, comments, help and `kit where` all come from this table.
import { degrees } from '../core/units.ts';
import {
  anyAngle,
  countOf,
  dashed,
  itemName,
  lengthAboveZero,
  lengthFromZero,
  lengthUnit,
  oneOf,
  only,
  onOff,
  type Quantity,
  signedLength,
  type ValueOf,
} from './quantities.ts';

interface Setting<T> {
  readonly of: Quantity<T>;
  readonly about: string;
  /** The default, read like any other source, so that it can't be a value that would be refused. Empty for none. */
  readonly fallback: string;
}

const setting = <T>(of: Quantity<T>, fallback: string, about: string): Setting<T> => ({
  of,
  about,
  fallback,
});

const MOST_PATH = 400;
const anyText: Quantity<string> = {
  placeholder: 'path',
  parse: (text) => ({ ok: true, value: text.trim() }),
};
const portPath = only(
  anyText,
  (text) => /^[^\p{C}]*$/u.test(text) && text.length <= MOST_PATH,
  'the path of a port, as `lidwright ports` lists it',
);
/** A name of the kit, or nothing for the first there is. */
const chosenName: Quantity<string> = {
  ...itemName,
  parse: (text) => (text.trim() === '' ? { ok: true, value: '' } : itemName.parse(text)),
};
/** The half-range of a tilt: a quarter of a right angle is far beyond what any hand would do. */
const tiltAngle = only(
  anyAngle,
  (angle) => angle >= 0 && angle <= degrees(10),
  'an angle from 0deg to 10deg, such as 1deg',
);

const TABLE = {
  unit: setting(lengthUnit, 'mm', 'unit for lengths'),
  port: setting(
    portPath,
    '',
    'serial port of the board; if empty, the one used last or the only one plugged in',
  ),
  baud: setting(countOf('rate', 300, 4_000_000), '115200', 'speed of that port'),
  caliper: setting(chosenName, '', 'name in the kit of the caliper in use; if empty, the first'),
  cutter: setting(chosenName, '', 'name in the kit of the cutter in use; if empty, the first'),
  feed: setting(chosenName, '', 'name in the kit of the feed handle in use; if empty, the first'),
  wanted: setting(
    signedLength,
    '0.15mm',
    'clearance wanted for a new job, on the diameter; below zero for a plain lid held by friction',
  ),
  runningFrom: setting(
    lengthFromZero,
    '0.08mm',
    'clearance from which a lid runs; below it, down to zero, the lid is tight',
  ),
  looseFrom: setting(lengthAboveZero, '0.3mm', 'clearance from which a lid is loose'),
  tolerance: setting(lengthAboveZero, '0.03mm', 'how close together the peaks of a rocked bore must be'),
  leastPeaks: setting(countOf('count', 3, 20), '3', 'how many peaks of a rocked bore must agree'),
  tilt: setting(
    tiltAngle,
    '1deg',
    'how far you may tilt the caliper along a bore without noticing, either way',
  ),
  bell: setting(onOff, 'on', 'ring the terminal bell at the bench'),
  spoken: setting(
    onOff,
    'off',
    'print changes as lines of text for a screen reader, instead of drawing the screen',
  ),
  glyphs: setting(
    oneOf('set', ['auto', 'all', 'blocks', 'ascii']),
    'auto',
    'characters to draw with: all, blocks without Braille, or only ASCII; auto follows the locale',
  ),
};

export type SettingKey = keyof typeof TABLE;
/** What can be set for every part of the program. An empty text means that nothing was said. */
export type Settings = { readonly [K in SettingKey]: ValueOf<(typeof TABLE)[K]['of']> };
export const SETTINGS: { readonly [K in SettingKey]: Setting<Settings[K]> } = TABLE;

const hasKey = (key: string): key is SettingKey => key in SETTINGS;
export const SETTING_KEYS: readonly SettingKey[] = Object.keys(SETTINGS).filter(hasKey);

/** `runningFrom` as a flag: `--running-from`. */
export const flagOf = (key: string): string => `--${dashed(key)}`;
/** `runningFrom` as a variable: `LIDWRIGHT_RUNNING_FROM`. */
export const variableOf = (key: SettingKey): string =>
  `LIDWRIGHT_${dashed(key).replaceAll('-', '_').toUpperCase()}`;

/** The setting that a file key or a key of this program names. */
export const settingNamed = (word: string): SettingKey | undefined =>
  SETTING_KEYS.find((key) => key === word || dashed(key) === word);
