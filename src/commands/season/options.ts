// What `lidwright season` is asked: two parts, their room and the range, read from options and refused by name.
import { parseHumidity, parseMoisture, parseTemperature } from '../../core/quantity.ts';
import { capitalised, forScreen } from '../../core/safe-text.ts';
import {
  celsius,
  type Humidity,
  humidityPercent,
  type Moisture,
  mm,
  type Temperature,
} from '../../core/units.ts';
import { GRAINS, type Grain, ringOf, swellOf } from '../../core/wood/movement.ts';
import type { HumidityRange, Made, SeasonPart } from '../../core/wood/season.ts';
import { type Figures, findWood } from '../../core/wood/woods.ts';
import { lengthAboveZero, lengthFromZero, oneOf, type Quantity, quantity } from '../../kit/quantities.ts';
import { flagOf } from '../../kit/settings.ts';
import { type Asks, neededOption, type OptionReader, option } from '../options.ts';
import { BORED } from '../thread-options.ts';

export interface Air {
  readonly temperature: Temperature;
  readonly humidity: Humidity;
}

/** A room's temperature, and its humidity of today where it was given. */
interface RoomAir {
  readonly temperature: Temperature;
  readonly humidity: Humidity | undefined;
}

/** `20C` or `20C,45%`. */
function roomIn(text: string): RoomAir | undefined {
  const [warmth = '', damp, ...rest] = text.split(',');
  const temperature = parseTemperature(warmth);
  const humidity = damp === undefined ? undefined : parseHumidity(damp);
  return temperature.ok && humidity?.ok !== false && rest.length === 0
    ? { temperature: temperature.value, humidity: humidity?.value }
    : undefined;
}
const roomAir = quantity('air', roomIn, 'a temperature, with the humidity if known, such as 20C or 68F,45%');

/** `20C,45%`: both are needed. */
export const airQuantity = quantity<Air>(
  'air',
  (text) => {
    const { temperature, humidity } = roomIn(text) ?? {};
    return temperature === undefined || humidity === undefined ? undefined : { temperature, humidity };
  },
  'a temperature and a relative humidity from 0% to 100%, such as 20C,45% or 70F,50%',
);

/** `30%,65%`, in either order. */
const humidityRange = quantity<HumidityRange>(
  'from,to',
  (text) => {
    const [one, two, ...rest] = text.split(',').map(parseHumidity);
    if (!one?.ok || !two?.ok || rest.length > 0) return undefined;
    return one.value <= two.value ? { from: one.value, to: two.value } : { from: two.value, to: one.value };
  },
  'two relative humidities from 0% to 100% with a comma between them, such as 30%,65%',
);

/** `4.8%,9.9%`: radial and tangential, from green to oven-dry. */
const shrinkages = quantity<Figures>(
  'radial,tangential',
  (text) => {
    const [radial, tangential, ...rest] = text.split(',').map((part) => {
      const percent = parseMoisture(part);
      return percent.ok && percent.value > 0 ? swellOf({ shrinkage: percent.value }) : undefined;
    });
    return radial && tangential && rest.length === 0
      ? { radial, tangential, source: 'typed by hand', status: 'none', note: null }
      : undefined;
  },
  'radial and tangential shrinkage, each above 0% and to 30%, such as 4.8%,9.9%',
);

const woodName: Quantity<string> = { placeholder: 'name', parse: (text) => ({ ok: true, value: text }) };
const byMeter: Quantity<Moisture> = { placeholder: 'percent', parse: parseMoisture };
const grainWay = oneOf('way', GRAINS);

const PAIR = {
  diameter: neededOption(
    lengthAboveZero,
    'diameter of the thread',
    'the diameter of the thread, such as 52mm',
  ),
  clearance: option(lengthFromZero, 'clearance as made, on the diameter'),
  range: option(humidityRange, 'humidity the lid must run in (30%,65%); exit code 1 if it binds'),
  room: option(roomAir, 'air of the room where the box will live: 20C, or 20C,55% with its humidity today'),
  ...BORED,
};
const PARTS = {
  wood: option(woodName, 'wood, by part of its trade or botanical name: "maple, sugar" or "sug map"'),
  made: option(airQuantity, 'air that the parts were made in: 20C,45%'),
  madeMc: option(byMeter, 'moisture of the parts from a meter, instead of --made: 8.5%'),
  grain: option(
    grainWay,
    'grain: end if the axis runs along it; flat or quarter, as sawn, if it runs across (end)',
  ),
  shrinkage: option(shrinkages, "shrinkage of a wood that isn't in the table, green to oven-dry: 4.8%,9.9%"),
  lidWood: option(woodName, 'wood of the lid, if it differs'),
  lidMade: option(airQuantity, 'air that the lid was made in, if it differs'),
  lidMadeMc: option(byMeter, 'moisture of the lid from a meter, instead of --lid-made'),
  lidGrain: option(grainWay, 'grain of the lid, if it differs'),
  lidShrinkage: option(shrinkages, 'shrinkage of the lid, if it differs'),
};
/** In the order of help: what is most often typed comes first. */
const { wood, diameter, clearance, made, madeMc } = { ...PAIR, ...PARTS };
export const SEASON_OPTIONS: Asks = Object.assign({ wood, diameter, clearance, made, madeMc }, PAIR, PARTS, {
  emc: option(airQuantity, 'only show the moisture that wood settles at in this air: 70F,50%'),
});

/** A wood by name with the figures taken, or figures typed by hand. */
export interface NamedWood {
  readonly name: string;
  readonly botanical: string | null;
  readonly figures: Figures;
  /** Figures of the same wood from other sources, kept apart. */
  readonly others: readonly Figures[];
}

export interface PartQuestion {
  readonly wood: NamedWood;
  readonly made: Made;
  readonly grain: Grain;
}

/** A house's year where nothing was stated: generic comfort ranges, from memory. */
const ORDINARY_YEAR: HumidityRange = { from: humidityPercent(30), to: humidityPercent(65) };
const ORDINARY_ROOM: RoomAir = { temperature: celsius(20), humidity: undefined };

/** The one wood of the table that is called so, with figures; else an error that says what to give. */
function woodCalled(typed: string, flag: string, options: OptionReader): NamedWood | undefined {
  const found = findWood(typed);
  const instead = `${flag.replace('wood', 'shrinkage')} radial,tangential`;
  const refuse = (why: string): undefined => options.addError(`${flag}: ${why}`);
  switch (found.kind) {
    case 'found': {
      const { trade: name, botanical, figures: all } = found.wood;
      const [figures, ...others] = all;
      if (figures) return { name, botanical, figures, others };
      return refuse(`no shrinkage figures are known for ${name}. Give ${instead}.`);
    }
    case 'ambiguous': {
      const names = found.candidates.map((wood) => wood.trade).join('; ');
      return refuse(`"${forScreen(typed, 40)}" could be ${names}. Type more of its name.`);
    }
    case 'unknown':
      return refuse(
        `"${forScreen(typed, 40)}" isn't in the table of woods. Give part of its trade or botanical name, or ${instead}.`,
      );
    default:
      return found satisfies never;
  }
}

/** `wood` is `lidWood` where it is the lid's own. */
const ownKey = (part: 'body' | 'lid', key: string): string =>
  part === 'body' ? key : `lid${capitalised(key)}`;

function woodAsked(part: 'body' | 'lid', options: OptionReader): NamedWood | undefined {
  const name = options.one(ownKey(part, 'wood'), woodName);
  const figures = options.one(ownKey(part, 'shrinkage'), shrinkages);
  if (figures) return { name: name ?? 'your own wood', botanical: null, figures, others: [] };
  return name === undefined ? undefined : woodCalled(name, flagOf(ownKey(part, 'wood')), options);
}

function madeAsked(part: 'body' | 'lid', options: OptionReader): Made | undefined {
  const [made, madeMc] = [ownKey(part, 'made'), ownKey(part, 'madeMc')];
  const [air, moisture] = [options.one(made, airQuantity), options.one(madeMc, byMeter)];
  if (air && moisture !== undefined) options.addError(`Give ${flagOf(made)} or ${flagOf(madeMc)}, not both.`);
  return moisture === undefined ? air && { kind: 'air', ...air } : { kind: 'meter', moisture };
}

const partOf = (asked: PartQuestion): SeasonPart => ({
  ring: ringOf(asked.wood.figures, asked.grain),
  made: asked.made,
});

/** Both parts; the lid is like the body where nothing else was said of it. */
function partsAsked(options: OptionReader) {
  const [wood, made] = [woodAsked('body', options), madeAsked('body', options)];
  const [lidWood, lidMade] = [woodAsked('lid', options) ?? wood, madeAsked('lid', options) ?? made];
  const grain = options.one('grain', grainWay) ?? 'end';
  const lidGrain = options.one('lidGrain', grainWay) ?? grain;
  if (options.errors.length === 0) {
    if (!wood) options.addError('--wood is missing. Give part of its name, such as "maple, sugar".');
    if (!made)
      options.addError(
        '--made is missing. Give the air the parts were made in, such as 20C,45%, or --made-mc 8.5%.',
      );
  }
  if (!wood || !made || !lidWood || !lidMade) return undefined;
  return { body: { wood, made, grain }, lid: { wood: lidWood, made: lidMade, grain: lidGrain } };
}

type Parts = NonNullable<ReturnType<typeof partsAsked>>;

const pairOf = ({ body, lid }: Parts, bored: 'lid' | 'body') => {
  const [bore, spigot] = bored === 'lid' ? [lid, body] : [body, lid];
  return { bore: partOf(bore), spigot: partOf(spigot) };
};

/** The whole question; undefined where there are errors. */
export function readSeason(options: OptionReader) {
  const settings = options.settings(['unit', 'runningFrom', 'wanted']);
  const asked = options.read(PAIR);
  const parts = partsAsked(options);
  const { clearance, range = ORDINARY_YEAR, room = ORDINARY_ROOM, bored = 'lid' } = asked;
  if (options.errors.length === 0 && clearance === undefined && asked.range === undefined)
    options.addError(
      '--clearance is missing. Give the clearance of the pair, such as 0.2mm, or --range 30%,65% to see what it needs.',
    );
  if (!options.isWhole(asked) || !parts) return undefined;
  return {
    ...parts,
    bored,
    pair: { diameter: asked.diameter, clearance: clearance ?? mm(0), ...pairOf(parts, bored) },
    /** False where only the clearance needed is wanted; the pair's is then 0. */
    clearanceGiven: clearance !== undefined,
    /** Clearance from which a lid runs, and what is wanted to remain in the worst air. */
    running: settings.values.runningFrom,
    wanted: settings.values.wanted,
    room,
    range,
    rangeGiven: asked.range !== undefined,
    /** The unit for people. */
    unit: options.unitFor(settings, 'diameter'),
  };
}

export type SeasonQuestion = NonNullable<ReturnType<typeof readSeason>>;

/** The same question with the figures of every other source for its woods; one wood takes the same figures in both parts. */
export function byOtherSources(question: SeasonQuestion): readonly SeasonQuestion[] {
  const { body, lid, bored, pair } = question;
  const all = ({ wood }: PartQuestion): readonly Figures[] => [wood.figures, ...wood.others];
  const isOneWood = body.wood.figures === lid.wood.figures;
  const chosen = all(body).flatMap((figures) =>
    (isOneWood ? [figures] : all(lid)).map((lidFigures) => ({
      body: { ...body, wood: { ...body.wood, figures } },
      lid: { ...lid, wood: { ...lid.wood, figures: lidFigures } },
    })),
  );
  return chosen
    .slice(1)
    .map((parts) => ({ ...question, ...parts, pair: { ...pair, ...pairOf(parts, bored) } }));
}
