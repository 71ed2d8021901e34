// What `lidwright season` is asked: two parts, their room and the range, read from options and refused by name.
import {
  notAccepted,
  type Parsed,
  parseHumidity,
  parseMoisture,
  parsePositiveLength,
  parseTemperature,
  parseUnsignedLength,
  parseWord,
} from '../../core/quantity.ts';
import { forScreen } from '../../core/safe-text.ts';
import {
  celsius,
  type Humidity,
  humidityPercent,
  type Length,
  type LengthUnit,
  mm,
  type Temperature,
} from '../../core/units.ts';
import { GRAINS, type Grain, ringOf, swellOf } from '../../core/wood/movement.ts';
import type { HumidityRange, Made, SeasonPair, SeasonPart } from '../../core/wood/season.ts';
import { type Figures, findWood, type Wood } from '../../core/wood/woods.ts';
import type { OptionReader } from '../options.ts';

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
function parseRoom(text: string): Parsed<RoomAir> {
  const [warmth = '', damp, ...rest] = text.split(',');
  const temperature = parseTemperature(warmth);
  const humidity = damp === undefined ? undefined : parseHumidity(damp);
  if (!temperature.ok || humidity?.ok === false || rest.length > 0)
    return notAccepted(text, 'a temperature, with the humidity if known, such as 20C or 68F,45%');
  return { ok: true, value: { temperature: temperature.value, humidity: humidity?.value } };
}

/** `20C,45%`: both are needed. */
export function parseAir(text: string): Parsed<Air> {
  const room = parseRoom(text);
  if (!room.ok || room.value.humidity === undefined)
    return notAccepted(
      text,
      'a temperature and a relative humidity from 0% to 100%, such as 20C,45% or 70F,50%',
    );
  return { ok: true, value: { temperature: room.value.temperature, humidity: room.value.humidity } };
}

/** `30%,65%`, in either order. */
function parseRange(text: string): Parsed<HumidityRange> {
  const ends = text.split(',').map(parseHumidity);
  const [one, two] = ends;
  if (ends.length !== 2 || !one?.ok || !two?.ok)
    return notAccepted(text, 'two relative humidities from 0% to 100%, such as 30%,65%');
  const [from, to] = one.value <= two.value ? [one.value, two.value] : [two.value, one.value];
  return { ok: true, value: { from, to } };
}

/** `4.8%,9.9%`: radial and tangential, from green to oven-dry. */
function parseShrinkage(text: string): Parsed<Figures> {
  const [radial, tangential, ...rest] = text.split(',').map((part) => {
    const percent = parseMoisture(part);
    return percent.ok && percent.value > 0 ? swellOf({ shrinkage: percent.value }) : undefined;
  });
  if (!radial || !tangential || rest.length > 0)
    return notAccepted(text, 'radial and tangential shrinkage, each above 0% and to 30%, such as 4.8%,9.9%');
  return { ok: true, value: { radial, tangential, source: 'typed by hand', status: 'none', note: null } };
}

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

export interface SeasonQuestion {
  readonly body: PartQuestion;
  readonly lid: PartQuestion;
  readonly bored: 'lid' | 'body';
  readonly pair: SeasonPair;
  /** False where only the clearance needed is wanted; the pair's is then 0. */
  readonly clearanceGiven: boolean;
  /** Clearance from which a lid runs, and what is wanted to remain in the worst air. */
  readonly running: Length;
  readonly wanted: Length;
  readonly room: RoomAir;
  readonly range: HumidityRange;
  readonly rangeGiven: boolean;
  /** The unit for people. */
  readonly unit: LengthUnit;
}

/** A house's year where nothing was stated: generic comfort ranges, from memory. */
const ORDINARY_YEAR: HumidityRange = { from: humidityPercent(30), to: humidityPercent(65) };
const ORDINARY_ROOM: RoomAir = { temperature: celsius(20), humidity: undefined };

const asText = (text: string): Parsed<string> => ({ ok: true, value: text });

function withFigures(wood: Wood, flag: string, options: OptionReader): NamedWood | undefined {
  const [figures, ...others] = wood.figures;
  if (figures) return { name: wood.trade, botanical: wood.botanical, figures, others };
  const instead = flag.replace('wood', 'shrinkage');
  options.addError(
    `${flag}: no shrinkage figures are known for ${wood.trade}. Give ${instead} radial,tangential.`,
  );
  return undefined;
}

function woodCalled(typed: string, flag: string, options: OptionReader): NamedWood | undefined {
  const found = findWood(typed);
  switch (found.kind) {
    case 'found':
      return withFigures(found.wood, flag, options);
    case 'ambiguous': {
      const names = found.candidates.map((wood) => wood.trade).join('; ');
      options.addError(`${flag}: "${forScreen(typed, 40)}" could be ${names}. Type more of its name.`);
      return undefined;
    }
    case 'unknown': {
      const instead = flag.replace('wood', 'shrinkage');
      options.addError(
        `${flag}: "${forScreen(typed, 40)}" isn't in the table of woods. Give part of its trade or botanical name, or ${instead} radial,tangential.`,
      );
      return undefined;
    }
    default:
      return found satisfies never;
  }
}

/** The wood of one part; `prefix` is `--` for the body and `--lid-` for the lid. */
function woodAsked(prefix: string, options: OptionReader): NamedWood | undefined {
  const name = options.optional(`${prefix}wood`, asText);
  const figures = options.optional(`${prefix}shrinkage`, parseShrinkage);
  if (figures) return { name: name ?? 'your own wood', botanical: null, figures, others: [] };
  return name === undefined ? undefined : woodCalled(name, `${prefix}wood`, options);
}

function madeAsked(prefix: string, options: OptionReader): Made | undefined {
  const air = options.optional(`${prefix}made`, parseAir);
  const meter = options.optional(`${prefix}made-mc`, parseMoisture);
  if (air && meter !== undefined) options.addError(`Give ${prefix}made or ${prefix}made-mc, not both.`);
  if (meter !== undefined) return { kind: 'meter', moisture: meter };
  return air && { kind: 'air', ...air };
}

const grainAsked = (prefix: string, options: OptionReader): Grain | undefined =>
  options.optional(`${prefix}grain`, parseWord(GRAINS));

const partOf = (asked: PartQuestion): SeasonPart => ({
  ring: ringOf(asked.wood.figures, asked.grain),
  made: asked.made,
});

/** Both parts; the lid is like the body where nothing else was said of it. */
function partsAsked(
  options: OptionReader,
): { readonly body: PartQuestion; readonly lid: PartQuestion } | undefined {
  const [wood, made, grain] = [
    woodAsked('--', options),
    madeAsked('--', options),
    grainAsked('--', options) ?? 'end',
  ];
  const lidWood = woodAsked('--lid-', options) ?? wood;
  const lidMade = madeAsked('--lid-', options) ?? made;
  const lidGrain = grainAsked('--lid-', options) ?? grain;
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

interface Parts {
  readonly body: PartQuestion;
  readonly lid: PartQuestion;
}

const pairOf = ({ body, lid }: Parts, bored: 'lid' | 'body') => {
  const [bore, spigot] = bored === 'lid' ? [lid, body] : [body, lid];
  return { bore: partOf(bore), spigot: partOf(spigot) };
};

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

/** The whole question; undefined where there are errors. */
export function readSeason(
  options: OptionReader,
  unit: LengthUnit,
  { runningFrom, wanted }: { readonly runningFrom: Length; readonly wanted: Length },
): SeasonQuestion | undefined {
  const diameter = options.required(
    '--diameter',
    parsePositiveLength,
    'the diameter of the thread, such as 52mm',
  );
  const clearance = options.optional('--clearance', parseUnsignedLength);
  const range = options.optional('--range', parseRange);
  const room = options.optional('--room', parseRoom) ?? ORDINARY_ROOM;
  const bored = options.optional('--bored', parseWord(['lid', 'body'])) ?? 'lid';
  const parts = partsAsked(options);
  if (options.errors.length === 0 && clearance === undefined && range === undefined)
    options.addError(
      '--clearance is missing. Give the clearance of the pair, such as 0.2mm, or --range 30%,65% to see what it needs.',
    );
  if (options.errors.length > 0 || !parts || diameter === undefined) return undefined;
  return {
    ...parts,
    bored,
    pair: { diameter, clearance: clearance ?? mm(0), ...pairOf(parts, bored) },
    clearanceGiven: clearance !== undefined,
    running: runningFrom,
    wanted,
    room,
    range: range ?? ORDINARY_YEAR,
    rangeGiven: range !== undefined,
    unit,
  };
}
