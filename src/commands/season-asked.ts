// What `lidwright season` was asked: two parts, their room and the range, read from options and refused by name.

import { type Parsed, parseMoisture, parsePositiveLength } from '../core/quantity.ts';
import { forScreen } from '../core/safe-text.ts';
import { celsius, humidityPercent, type LengthUnit, mm } from '../core/units.ts';
import { GRAINS, type Grain, ringOf } from '../core/wood/movement.ts';
import type { HumidityRange, Made, SeasonPair, SeasonPart } from '../core/wood/season.ts';
import { type Figures, findWood, type Wood } from '../core/wood/woods.ts';
import { type Asking, parseWord } from './asking.ts';
import {
  parseAir,
  parseClearance,
  parseRange,
  parseRoom,
  parseShrinkage,
  type RoomAir,
} from './season-quantities.ts';

/** A wood by name with the figures taken, or figures typed by hand. */
export interface NamedWood {
  readonly name: string;
  readonly botanical: string | null;
  readonly figures: Figures;
  /** Figures of the same wood from other sources, kept apart. */
  readonly others: readonly Figures[];
}

export interface PartAsked {
  readonly wood: NamedWood;
  readonly made: Made;
  readonly grain: Grain;
}

export interface SeasonAsked {
  readonly body: PartAsked;
  readonly lid: PartAsked;
  readonly bored: 'lid' | 'body';
  readonly pair: SeasonPair;
  /** False where only the clearance needed is wanted; the pair's is then 0. */
  readonly clearanceGiven: boolean;
  readonly room: RoomAir;
  readonly range: HumidityRange;
  readonly rangeGiven: boolean;
  /** What the diameter was typed in. */
  readonly unit: LengthUnit;
}

/** A house's year where nothing was stated: generic comfort ranges, from memory. */
const ORDINARY_YEAR: HumidityRange = { from: humidityPercent(30), to: humidityPercent(65) };
const ORDINARY_ROOM: RoomAir = { temperature: celsius(20), humidity: undefined };

const asText = (text: string): Parsed<string> => ({ ok: true, value: text });

function withFigures(wood: Wood, flag: string, ask: Asking): NamedWood | undefined {
  const [figures, ...others] = wood.figures;
  if (figures) return { name: wood.trade, botanical: wood.botanical, figures, others };
  const instead = flag.replace('wood', 'shrinkage');
  ask.complain(
    `${flag}: no figure is known for ${wood.trade}, and none is guessed; give ${instead} radial,tangential.`,
  );
  return undefined;
}

function woodCalled(typed: string, flag: string, ask: Asking): NamedWood | undefined {
  const found = findWood(typed);
  switch (found.kind) {
    case 'found':
      return withFigures(found.wood, flag, ask);
    case 'ambiguous': {
      const names = found.candidates.map((wood) => wood.trade).join('; ');
      ask.complain(`${flag}: "${forScreen(typed, 40)}" could be ${names}. Type more of the one you mean.`);
      return undefined;
    }
    case 'unknown': {
      const instead = flag.replace('wood', 'shrinkage');
      ask.complain(
        `${flag}: "${forScreen(typed, 40)}" is in no row of the table; give part of a trade or botanical name, or ${instead} radial,tangential.`,
      );
      return undefined;
    }
    default:
      return found satisfies never;
  }
}

/** The wood of one part; `prefix` is `--` for the body and `--lid-` for the lid. */
function woodAsked(prefix: string, ask: Asking): NamedWood | undefined {
  const name = ask.optional(`${prefix}wood`, asText);
  const figures = ask.optional(`${prefix}shrinkage`, parseShrinkage);
  if (figures) return { name: name ?? 'a wood of your own', botanical: null, figures, others: [] };
  return name === undefined ? undefined : woodCalled(name, `${prefix}wood`, ask);
}

function madeAsked(prefix: string, ask: Asking): Made | undefined {
  const air = ask.optional(`${prefix}made`, parseAir);
  const meter = ask.optional(`${prefix}made-mc`, parseMoisture);
  if (air && meter !== undefined)
    ask.complain(`${prefix}made: given together with ${prefix}made-mc; give one of them.`);
  if (meter !== undefined) return { kind: 'meter', moisture: meter };
  return air && { kind: 'air', ...air };
}

const grainAsked = (prefix: string, ask: Asking): Grain | undefined =>
  ask.optional(`${prefix}grain`, parseWord(GRAINS));

const partOf = (asked: PartAsked): SeasonPart => ({
  ring: ringOf(asked.wood.figures, asked.grain),
  made: asked.made,
});

/** Both parts; the lid is like the body where nothing else was said of it. */
function partsAsked(ask: Asking): { readonly body: PartAsked; readonly lid: PartAsked } | undefined {
  const [wood, made, grain] = [woodAsked('--', ask), madeAsked('--', ask), grainAsked('--', ask) ?? 'end'];
  const lidWood = woodAsked('--lid-', ask) ?? wood;
  const lidMade = madeAsked('--lid-', ask) ?? made;
  const lidGrain = grainAsked('--lid-', ask) ?? grain;
  if (ask.complaints.length === 0) {
    if (!wood) ask.complain('--wood: missing; give part of its name, such as "maple, sugar".');
    if (!made)
      ask.complain(
        '--made: missing; give the air the parts were made in, such as 20C,45%, or --made-mc 8.5%.',
      );
  }
  if (!wood || !made || !lidWood || !lidMade) return undefined;
  return { body: { wood, made, grain }, lid: { wood: lidWood, made: lidMade, grain: lidGrain } };
}

/** The whole question, or nothing when something was complained of. */
export function readSeason(ask: Asking, unit: LengthUnit): SeasonAsked | undefined {
  const diameter = ask.needed('--diameter', parsePositiveLength, 'that of the thread, such as 52mm');
  const clearance = ask.optional('--clearance', parseClearance);
  const range = ask.optional('--range', parseRange);
  const room = ask.optional('--room', parseRoom) ?? ORDINARY_ROOM;
  const bored = ask.optional('--bored', parseWord(['lid', 'body'])) ?? 'lid';
  const parts = partsAsked(ask);
  if (ask.complaints.length === 0 && clearance === undefined && range === undefined)
    ask.complain(
      '--clearance: missing; give what the pair has, such as 0.2mm, or --range 30%,65% to hear what it needs.',
    );
  if (ask.complaints.length > 0 || !parts || diameter === undefined) return undefined;
  const [bore, spigot] = bored === 'lid' ? [parts.lid, parts.body] : [parts.body, parts.lid];
  return {
    ...parts,
    bored,
    pair: { diameter, clearance: clearance ?? mm(0), bore: partOf(bore), spigot: partOf(spigot) },
    clearanceGiven: clearance !== undefined,
    room,
    range: range ?? ORDINARY_YEAR,
    rangeGiven: range !== undefined,
    unit,
  };
}
