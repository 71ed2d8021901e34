// The section of a pair, and dots as Braille.
import { describe, expect, test } from 'vitest';
import type { Groove, Pair } from '../../src/core/thread/pair.ts';
import { depthAt, type Point, sectionOf } from '../../src/core/thread/section.ts';
import { degrees, mm, tpi } from '../../src/core/units.ts';
import { canvas } from '../../src/screen/glyphs.ts';

const sixty = degrees(60);
const sharp: Groove = { depth: mm(1), tip: { kind: 'sharp' } };
const flat: Groove = { depth: mm(1), tip: { kind: 'flat', width: mm(0.3) } };
const round: Groove = { depth: mm(1), tip: { kind: 'radius', radius: mm(0.2) } };
const pairOf = (female: Groove, male: Groove): Pair => ({
  pitch: tpi(16),
  starts: 1,
  angle: sixty,
  female,
  male,
});
const wide: Groove = { ...sharp, widening: mm(0.05) };

describe('the depth of a groove along the axis', () => {
  const falls = (by: number) => 1 - by * Math.sqrt(3);

  test.each<[string, Groove, at: number, depth: number]>([
    ['a flank falls by 1 / tan 30', sharp, 0.2, falls(0.2)],
    ['a flat bottom is flat', flat, 0.149, 1],
    ['beside its flank', flat, 0.35, falls(0.2)],
    ['a nose is a circle', round, 0.1, 0.8 + Math.sqrt(0.04 - 0.01)],
    ['that meets the flank', round, 0.2 * Math.cos(Math.PI / 6), 0.9],
    ['a wide bottom is as deep over what was added', wide, 0.05, 1],
    ['and falls from there', wide, 0.25, falls(0.2)],
    ['as far as the surface', wide, 0.6, falls(0.55)],
    ['and no farther', wide, 0.63, 0],
    ['nothing cut is nothing deep', { ...sharp, depth: mm(0) }, 0, 0],
  ])('%s: %o', (_, groove, at, depth) => {
    expect(depthAt(groove, sixty, at)).toBeCloseTo(depth, 9);
    expect(depthAt(groove, sixty, -at)).toBe(depthAt(groove, sixty, at));
    expect([depthAt(groove, sixty, 0), depthAt(groove, sixty, 0.9)]).toEqual([groove.depth, 0]);
  });
});

/** The outline's height at a place along it, by the line between its two neighbours. */
function heightOf(outline: readonly Point[], along: number): number {
  for (const [at, to] of outline.slice(1).entries()) {
    const from = outline[at];
    if (from && from.along <= along && along <= to.along && to.along > from.along)
      return from.out + ((along - from.along) / (to.along - from.along)) * (to.out - from.out);
  }
  throw new Error(`nothing at ${along}`);
}

describe('the outlines', () => {
  test.each([
    ['sharp', sharp, sharp],
    ['flat over round', flat, round],
    ['round over sharp', round, sharp],
    ['widened over flat', wide, flat],
    ['widened flat over sharp', { ...flat, widening: mm(0.05) }, sharp],
    ['sharp over widened round', sharp, { ...round, widening: mm(0.05) }],
  ])('%s: follow the grooves everywhere, the male ones half a pitch on', (_, female, male) => {
    const pair = pairOf(female, male);
    const section = sectionOf(pair, mm(1.1), 3);
    const fromGroove = (along: number, first: number): number => {
      const turns = (along - first) / pair.pitch;
      return (turns - Math.round(turns)) * pair.pitch;
    };
    for (let at = 0; at < 400; at++) {
      const along = ((at + 0.5) / 400) * section.length;
      const up = depthAt(female, sixty, fromGroove(along, pair.pitch / 2));
      const down = 0.55 - depthAt(male, sixty, fromGroove(along, 0));
      expect(heightOf(section.female, along)).toBeCloseTo(up, 2);
      expect(heightOf(section.male, along)).toBeCloseTo(down, 2);
    }
  });

  test('close on themselves around the whole drawing, in the order of the axis', () => {
    const section = sectionOf(pairOf(flat, round), mm(1.1), 2);
    for (const outline of [section.female, section.male]) {
      expect(outline[0]?.along).toBe(0);
      expect(outline.at(-1)?.along).toBe(0);
      const surface = outline.slice(0, -2).map((point) => point.along);
      expect(surface).toEqual(surface.toSorted((a, b) => a - b));
      for (const point of outline)
        expect(Number.isFinite(point.along) && Number.isFinite(point.out)).toBe(true);
    }
    expect(section.length).toBeCloseTo(3.175, 12);
    expect(section.from).toBeCloseTo(0.55 - 1 - 1.5875 / 4, 12);
    expect(section.to).toBeCloseTo(1 + 1.5875 / 4, 12);
  });

  test('a part not yet cut is a straight line', () => {
    const uncut = { ...sharp, depth: mm(0) };
    const section = sectionOf(pairOf(sharp, uncut), mm(1.1), 2);
    expect(section.male.slice(0, -2)).toEqual([
      { along: 0, out: 0.55 },
      { along: section.length, out: 0.55 },
    ]);
  });
});

describe('dots', () => {
  test('each of the eight of a Braille character has its own bit', () => {
    const only = (x: number, y: number) => canvas(1, 1, 'all', (atX, atY) => atX === x && atY === y)[0];
    expect([0, 1, 2, 3].map((y) => only(0, y))).toEqual(['⠁', '⠂', '⠄', '⡀']);
    expect([0, 1, 2, 3].map((y) => only(1, y))).toEqual(['⠈', '⠐', '⠠', '⢀']);
  });

  test('keep their rows as wide as asked, in every kind of characters', () => {
    expect(canvas(3, 2, 'all', (x, y) => y === 0 && x < 2)).toEqual(['⠉  ', '   ']);
    expect(canvas(2, 1, 'all', () => true)).toEqual(['⣿⣿']);
    expect(canvas(2, 0, 'all', () => true)).toEqual([]);
    expect(canvas(3, 1, 'blocks', (x, y) => x === y)).toEqual(['▀▄ ']);
    expect(canvas(3, 1, 'ascii', (x) => x === 1)).toEqual([' # ']);
  });
});
