// Wrong lines by the million through the wire, judged by a separate checksum and grammar.
import type { LineEvent } from '../../../src/core/bench/event.ts';
import { millis } from '../../../src/core/units.ts';
import { createLineCutter } from '../../../src/link/lines.ts';
import { Watch } from '../../../src/wire/watch.ts';
import { fastChanceFrom } from '../../support/chance.ts';
import { MUTATIONS, type Mutation, wholeLines } from './mutations.ts';

interface Tried {
  readonly name: string;
  readonly certain: boolean;
  lines: number;
  discarded: number;
  /** Lines that mutation left as they were, or that are right by their own checksum: a receiver cannot tell. */
  right: number;
  /** Readings from a line that is not right by the checksum and the grammar below, counts and buttons from one that can't be: there may be none. */
  wrong: number;
}

interface Fuzzed {
  readonly lines: number;
  readonly seconds: number;
  readonly tried: readonly Tried[];
  /** The first wrong ones, for the report. */
  readonly examples: readonly string[];
}

/** CRC-16/IBM-3740 by long division, bit for bit and without a table: written apart from the program's own. */
function dividedCrc(text: string): number {
  let remainder = 0xffff;
  for (const character of text) {
    const code = character.charCodeAt(0);
    for (let bit = 7; bit >= 0; bit--) {
      const carry = (remainder >> 15) ^ ((code >> bit) & 1);
      remainder = (remainder << 1) & 0xffff;
      if (carry) remainder ^= 0x1021;
    }
  }
  return remainder;
}

const READING = /^DI,(\d{1,10}),(\d{1,10}),([+-]?\d{1,5}(?:\.\d{1,5})?),(mm|in)(?:,[ -~]*)?\*([0-9A-F]{4})$/;

/** What a line says, if it is a reading by protocol.md: its text and unit. */
export function readingIn(line: string): { readonly text: string; readonly unit: string } | undefined {
  const match = line.length <= 95 ? READING.exec(line) : null;
  if (!match || Number(match[1]) > 0xffff || Number(match[2]) > 0xffffffff) return undefined;
  if (dividedCrc(line.slice(0, -5)) !== Number.parseInt(match[5] ?? '', 16)) return undefined;
  return { text: match[3] ?? '', unit: match[4] ?? '' };
}

const FIRST = 'HI,0,3,1,0.3.0,pear-07,caliper+feed+button*E327';

/** Puts `lines` wrong lines through the line cutter and the watch; throws only what the wire throws. */
export function fuzzDecoder(lines: number, seed: number): Fuzzed {
  const chance = fastChanceFrom(seed);
  const tried = MUTATIONS.map(({ name, certain }): Tried => {
    return { name, certain, lines: 0, discarded: 0, right: 0, wrong: 0 };
  });
  const examples: string[] = [];
  const began = performance.now();
  const whole = wholeLines(chance, 4096);
  const one = (): string => chance.pick(whole);
  let watch = new Watch();
  let now: Tried = tried[0] as Tried;
  let pushed = 0;
  const judge = (event: LineEvent): void => {
    if (event.kind === 'line-discarded') now.discarded++;
    if (now.certain && (event.kind === 'feed-counted' || event.kind === 'button-changed')) now.wrong++;
    if (event.kind !== 'reading-received') return;
    const said = event.checked ? readingIn(event.raw) : undefined;
    const honest =
      said?.text === event.reading.text &&
      said.unit === event.reading.unit &&
      Number.isFinite(event.reading.value);
    if (honest) now.right++;
    else {
      now.wrong++;
      if (examples.length < 20) examples.push(`${now.name}: ${JSON.stringify(event.raw)}`);
    }
  };
  const hear = (line: string): void => watch.push(line, millis(pushed), judge);
  let cutter = createLineCutter(hear);
  const push = (text: string): void => cutter.take(Buffer.from(`${text}\n`, 'latin1'));
  for (let count = 0; count < lines; count++) {
    // A fresh line now and then, as on another day: nothing may depend on what came before.
    if (count % 1000 === 0) {
      watch = new Watch();
      cutter = createLineCutter(hear);
      push(FIRST);
    }
    const at = count % MUTATIONS.length;
    now = tried[at] as Tried;
    now.lines++;
    pushed++;
    push((MUTATIONS[at] as Mutation).make(one(), chance, one()));
  }
  return { lines, seconds: (performance.now() - began) / 1000, tried, examples };
}
