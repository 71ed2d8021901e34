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

describe('the depth of a groove along the axis', () => {
  test.each([
    ['sharp', sharp, 1],
    ['flat', flat, 1],
    ['round', round, 1],
  ])('%s: full in the middle, nothing beside it, even on both sides', (_, groove, deepest) => {
    expect(depthAt(groove, sixty, 0)).toBeCloseTo(deepest, 12);
    expect(depthAt(groove, sixty, 0.9)).toBe(0);
    expect(depthAt(groove, sixty, -0.2)).toBe(depthAt(groove, sixty, 0.2));
  });

  test('a flat bottom is flat, a flank falls by 1 / tan 30, a nose is a circle', () => {
    expect(depthAt(flat, sixty, 0.149)).toBeCloseTo(1, 12);
    expect(depthAt(sharp, sixty, 0.2)).toBeCloseTo(1 - 0.2 * Math.sqrt(3), 12);
    expect(depthAt(flat, sixty, 0.15 + 0.2)).toBeCloseTo(1 - 0.2 * Math.sqrt(3), 12);
    expect(depthAt(round, sixty, 0.1)).toBeCloseTo(0.8 + Math.sqrt(0.04 - 0.01), 12);
    expect(depthAt(round, sixty, 0.2 * Math.cos(Math.PI / 6))).toBeCloseTo(0.9, 9);
  });

  test('widened, the bottom is as deep over the width that was added', () => {
    const wide: Groove = { ...sharp, widening: mm(0.05) };
    expect(depthAt(wide, sixty, 0.05)).toBeCloseTo(1, 12);
    expect(depthAt(wide, sixty, 0.25)).toBeCloseTo(depthAt(sharp, sixty, 0.2), 12);
    expect(depthAt(wide, sixty, 0.6)).toBeCloseTo(1 - 0.55 * Math.sqrt(3), 12);
    expect(depthAt(wide, sixty, 0.63)).toBe(0);
  });

  test('nothing cut is nothing deep', () => {
    expect(depthAt({ ...sharp, depth: mm(0) }, sixty, 0)).toBe(0);
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
    ['widened over flat', { ...sharp, widening: mm(0.05) }, flat],
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
