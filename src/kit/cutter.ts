// Cutters as facts: the form they leave, how large they are, how fast their maker lets them turn.
import * as v from 'valibot';
import type { Cutter } from '../core/bench/setup.ts';
import { parseCount, parsePositiveLength } from '../core/quantity.ts';
import type { Kind } from './kind.ts';
import { need, read } from './schema.ts';
import { type Fact, parseFormAngle, parseName, parseTip } from './value.ts';

const entries = {
  name: need(parseName),
  angle: need(parseFormAngle),
  tip: need(parseTip),
  diameter: v.optional(read(parsePositiveLength)),
  'top-speed': v.optional(read((text) => parseCount(text, 1, 200_000))),
};

const facts: { readonly [key in Exclude<keyof typeof entries, 'name'>]: Fact } = {
  angle: {
    about: 'Included angle of the form it leaves.',
    placeholder: 'angle',
    example: '60deg',
    needed: true,
  },
  tip: {
    about: 'Its end: sharp, or flat or radius with the size.',
    placeholder: 'tip',
    example: 'flat 0.2mm',
    needed: true,
  },
  diameter: { about: 'Diameter over its tips.', placeholder: 'length', example: '20mm' },
  'top-speed': {
    about: "Its maker's top speed in turns a minute; never run it faster.",
    placeholder: 'turns',
    example: '8000',
    number: true,
  },
};

export const cutterKind: Kind<Cutter> = {
  word: 'cutter',
  folder: 'cutters',
  about: "A thread cutter of the turner's kit.",
  facts,
  plain: { name: '60 degree sharp', angle: '60deg', tip: 'sharp' },
  schema: v.pipe(
    v.object(entries),
    v.transform((found): Cutter => {
      const { name, angle, tip, diameter, 'top-speed': topSpeed } = found;
      return {
        name,
        angle,
        tip,
        ...(diameter === undefined ? {} : { diameter }),
        ...(topSpeed === undefined ? {} : { topSpeed }),
      };
    }),
  ),
};
