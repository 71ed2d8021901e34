// Feeds as facts: what a detent is worth and how surely, which way it counts, what it loses on turning back, what is proven.
import * as v from 'valibot';
import type { KitFeed, Proven } from '../core/bench/setup.ts';
import { parseCount, parsePositiveLength } from '../core/quantity.ts';
import type { Kind } from './kind.ts';
import { need, read, readList } from './schema.ts';
import { type Fact, parseName, parseProven, parseUnsignedLength, parseWord } from './value.ts';

export interface Feed extends KitFeed {
  /** Which way the board's count goes as the cutter goes deeper; the bench line says `up` (protocol: deeper is positive). */
  readonly deeper: 'up' | 'down';
  /** Detents that gave a thread which ran, by pitch. */
  readonly proven: readonly Proven[];
}

const entries = {
  name: need(parseName),
  'per-detent': need(parsePositiveLength),
  'per-detent-standard': need(parseUnsignedLength),
  'touch-off': v.optional(read(parsePositiveLength)),
  'lost-detents': v.optional(read((text) => parseCount(text, 0, 1000))),
  deeper: v.optional(read(parseWord(['up', 'down']))),
  proven: v.optional(readList(parseProven)),
};

const facts: { readonly [key in Exclude<keyof typeof entries, 'name'>]: Fact } = {
  'per-detent': {
    about: 'Radial feed of one detent.',
    placeholder: 'length',
    example: '0.05mm',
    needed: true,
  },
  'per-detent-standard': {
    about: 'Standard uncertainty of that; `lidwright kit calibrate` finds both.',
    placeholder: 'length',
    example: '0.0005mm',
    needed: true,
  },
  'touch-off': {
    about: 'A touch-off lies within this, plus or minus; one detent when left out.',
    placeholder: 'length',
    example: '0.03mm',
  },
  'lost-detents': {
    about: 'Detents that move nothing after turning back.',
    placeholder: 'count',
    example: '2',
    number: true,
  },
  deeper: {
    about: "Which way the board's count goes as the cutter goes deeper: up or down.",
    placeholder: 'way',
    example: 'up',
    choices: ['up', 'down'],
  },
  proven: {
    about: 'Detents that gave a thread which ran, by pitch.',
    placeholder: 'list',
    example: '14 at 16tpi',
    list: true,
  },
};

export const feedKind: Kind<Feed> = {
  word: 'feed',
  folder: 'feeds',
  about: "A feed handle of the turner's kit.",
  facts,
  plain: null,
  schema: v.pipe(
    v.object(entries),
    v.transform(
      (found): Feed => ({
        name: found.name,
        perDetent: found['per-detent'],
        perDetentStandard: found['per-detent-standard'],
        lostDetents: found['lost-detents'] ?? 0,
        ...(found['touch-off'] === undefined ? {} : { touchOff: found['touch-off'] }),
        deeper: found.deeper ?? 'up',
        proven: found.proven ?? [],
      }),
    ),
  ),
};
