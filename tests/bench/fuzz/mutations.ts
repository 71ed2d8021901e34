// Lines made wrong in every way a wire, a cable or a stranger can make them wrong; the same for the same seed.
import { type BoardMessage, encode, sealed } from '../../../src/wire/encode.ts';
import type { Chance } from '../../support/chance.ts';

const byte = (code: number): string => String.fromCharCode(code & 0xff);
const put = (line: string, at: number, taken: number, text: string): string =>
  line.slice(0, at) + text + line.slice(at + taken);

function saying(chance: Chance): BoardMessage {
  const kind = chance.below(8);
  if (kind < 5)
    return chance.below(4) === 0
      ? { kind: 'DI', text: (chance.below(8000) / 2000).toFixed(4), unit: 'in' }
      : { kind: 'DI', text: ((chance.below(20_000) - 1000) / 100).toFixed(2), unit: 'mm' };
  if (kind === 5) return { kind: 'FE', total: chance.below(400) - 200 };
  if (kind === 6)
    return { kind: 'PB', button: chance.pick([1, 2, 3, 4] as const), down: chance.below(2) === 0 };
  return { kind: 'HI', firmware: '0.3.0', board: `b-${chance.below(99)}`, parts: ['caliper', 'feed'] };
}

/** Lines as boards send them, made once for each seed: making one costs more than reading it. */
export const wholeLines = (chance: Chance, count: number): readonly string[] =>
  Array.from({ length: count }, () => encode(saying(chance), chance.below(65_536), chance.below(2 ** 32)));

export interface Mutation {
  readonly name: string;
  /**
   * True where the checksum's algebra promises that damage is seen: up to three bits in a line of this length, and any
   * burst of up to 16 bits (Peterson and Brown 1961; the distance of this polynomial from memory).
   */
  readonly certain: boolean;
  readonly make: (whole: string, chance: Chance, other: string) => string;
}

/** This many different bits, so that no flip takes another back. */
function flipped(line: string, chance: Chance, bits: number): string {
  const places = new Set<number>();
  while (places.size < Math.min(bits, line.length * 8)) places.add(chance.below(line.length * 8));
  let out = line;
  for (const place of places) {
    const at = place >> 3;
    out = put(out, at, 1, byte(out.charCodeAt(at) ^ (1 << (place & 7))));
  }
  return out;
}

function burst(line: string, chance: Chance): string {
  const at = chance.below(line.length - 1);
  const damage = 1 + chance.below(0xffff);
  return put(line, at, 2, byte(line.charCodeAt(at) ^ (damage >> 8)) + byte(line.charCodeAt(at + 1) ^ damage));
}

function overwritten(line: string, chance: Chance): string {
  const count = 1 + chance.below(8);
  const at = chance.below(line.length);
  return put(line, at, count, Array.from({ length: count }, () => byte(32 + chance.below(95))).join(''));
}

/** A stretch of random text: of bytes, or of printable ones. */
function stretch(chance: Chance, from: number, count: number): string {
  let out = '';
  for (let left = chance.below(120); left > 0; left--) out += byte(from + chance.below(count));
  return out;
}

const SHOWN = '42.30|-0.01|+1.5|.5|1e9|99999.99999|123456|42.|NaN||0x10|4 2|42,3'.split('|');
const COUNTS = '0|1|65535|65536|4294967295|4294967296|-1|1.5||00012|99999999999'.split('|');
const WORDS = 'mm|in|MM|inch||down|up|1|2|caliper+feed|__proto__|-2147483649'.split('|');
const KINDS = 'DI|DI|DI|DI|FE|HI|PB|FA|ZZ|di||TOOLONGAKIND'.split('|');

/** A checksum that is right over fields that a stranger's board could send. */
function stranger(_: string, chance: Chance): string {
  const fields = [KINDS, COUNTS, COUNTS, SHOWN, WORDS, ...(chance.below(3) === 0 ? [WORDS, SHOWN] : [])];
  return sealed(fields.map((field) => chance.pick(field)).join(','));
}

type Make = Mutation['make'];
const someFlipped =
  (least: number, count: number): Make =>
  (whole, chance) =>
    flipped(whole, chance, least + chance.below(count));
const dropped: Make = (whole, chance) => put(whole, chance.below(whole.length), 1 + chance.below(4), '');
const putIn: Make = (whole, chance) => {
  const at = chance.below(whole.length);
  return put(whole, at, 0, chance.below(2) === 0 ? (whole[at] ?? '') : byte(chance.below(256)));
};
const beheaded: Make = (whole, chance) => whole.slice(1 + chance.below(whole.length));
const joined: Make = (whole, chance, other) =>
  whole.slice(0, chance.below(whole.length)) + other.slice(chance.below(20));

export const MUTATIONS: readonly Mutation[] = [
  { certain: true, name: 'one to three bits flipped', make: someFlipped(1, 3) },
  { certain: true, name: 'a burst of up to 16 bits', make: burst },
  { certain: false, name: 'four to forty bits flipped', make: someFlipped(4, 37) },
  { certain: false, name: 'bytes overwritten with printable ones', make: overwritten },
  { certain: false, name: 'bytes dropped', make: dropped },
  { certain: false, name: 'a byte doubled or put in', make: putIn },
  { certain: false, name: 'cut short', make: (whole, chance) => whole.slice(0, chance.below(whole.length)) },
  { certain: false, name: 'its beginning missing', make: beheaded },
  { certain: false, name: 'run together with another', make: joined },
  { certain: false, name: 'random bytes', make: (_, chance) => stretch(chance, 0, 256) },
  { certain: false, name: 'random printable text', make: (_, chance) => stretch(chance, 32, 95) },
  { certain: false, name: 'right checksum, any fields', make: stranger },
];
