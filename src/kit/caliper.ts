// Calipers as facts: what one step is worth, how far off it may be, and the lands of its inside jaws.
import * as v from 'valibot';
import type { CaliperFacts } from '../core/bench/setup.ts';
import { parsePositiveLength } from '../core/quantity.ts';
import type { LengthUnit } from '../core/units.ts';
import type { Kind } from './kind.ts';
import { need, read } from './schema.ts';
import { type Fact, parseName, parseUnsignedLength, parseWord } from './value.ts';

export interface Caliper extends CaliperFacts {
  /** What its display is switched to, and so what a bare number from it means. */
  readonly unit: LengthUnit;
}

const entries = {
  name: need(parseName),
  step: need(parsePositiveLength),
  'limit-of-error': need(parseUnsignedLength),
  'jaw-land': v.optional(read(parseUnsignedLength)),
  unit: v.optional(read(parseWord(['mm', 'in']))),
};

const facts: { readonly [key in Exclude<keyof typeof entries, 'name'>]: Fact } = {
  step: { about: 'One step of its display.', placeholder: 'length', example: '0.01mm', needed: true },
  'limit-of-error': {
    about: 'How far off it may be, plus or minus, from its sheet.',
    placeholder: 'length',
    example: '0.03mm',
    needed: true,
  },
  'jaw-land': {
    about: 'Width of the straight land on its inside jaws, once found with a ring of known size.',
    placeholder: 'length',
    example: '0.3mm',
  },
  unit: {
    about: 'What it is switched to, and what a bare number from it means: mm or in.',
    placeholder: 'unit',
    example: 'mm',
    choices: ['mm', 'in'],
  },
};

export const caliperKind: Kind<Caliper> = {
  word: 'caliper',
  folder: 'calipers',
  about: "A caliper of the turner's kit.",
  facts,
  // Until one is added. Limit of error: DIN 862, digital, up to 200 mm; from memory.
  plain: { name: '0.01 mm caliper', step: '0.01mm', 'limit-of-error': '0.03mm', unit: 'mm' },
  schema: v.pipe(
    v.object(entries),
    v.transform((found): Caliper => {
      const land = found['jaw-land'];
      return {
        name: found.name,
        step: found.step,
        limitOfError: found['limit-of-error'],
        unit: found.unit ?? 'mm',
        ...(land === undefined ? {} : { jawLand: land }),
      };
    }),
  ),
};
