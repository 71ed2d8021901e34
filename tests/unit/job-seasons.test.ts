// The seasons of a job: which wood is on which part, and what sources that differ give.
import { describe, expect, test } from 'vitest';
import { MADE, ovalPerPercent, seasonLoss, seasonsOf, woodOf } from '../../src/core/bench/seasons.ts';
import { humidityPercent, mm } from '../../src/core/units.ts';
import { leastGapOver } from '../../src/core/wood/season.ts';
import { findWood } from '../../src/core/wood/woods.ts';
import { ofKind } from '../support/of-kind.ts';

describe('the woods of a pair', () => {
  test('bore and spigot are of lid and body, whichever is bored', () => {
    const two = { wood: 'pear', lidWood: 'yew' };
    const parts = (of: Parameters<typeof woodOf>[0]) => [woodOf(of, 'female'), woodOf(of, 'male')];
    expect(parts({ ...two, bored: 'lid' })).toEqual(['yew', 'pear']);
    expect(parts({ ...two, bored: 'body' })).toEqual(['pear', 'yew']);
    expect(parts({ wood: 'pear', bored: 'lid' })).toEqual(['pear', 'pear']);
  });

  const figuresOf = (name: string) => ofKind('found', findWood(name)).wood.figures;

  test('what a percent of moisture does to a ring is by the source that says most', () => {
    const each = figuresOf('pear').map(
      ({ radial, tangential }) => 50 * (tangential.coefficient - radial.coefficient),
    );
    expect(each.length).toBeGreaterThan(1);
    expect(ovalPerPercent('pear', mm(50))).toBeCloseTo(Math.max(...each), 12);
    expect(ovalPerPercent(undefined, mm(50))).toBeNull();
    expect(ovalPerPercent('no such wood', mm(50))).toBeNull();
  });

  const seasons = (wood: string, lidWood?: string) =>
    seasonsOf({ wood, ...(lidWood && { lidWood }), bored: 'lid' }, mm(52), mm(0.4), mm(0.08)) ?? [];
  const dampest = (season: ReturnType<typeof seasons>[number] | undefined) => {
    if (!season) throw new Error('no season');
    return ofKind('runs', season.season).to.humidity;
  };

  test.each(['pear', 'elm, european', 'walnut, european'])(
    'sources that differ about %s give the season of both ends, the one that takes less first',
    (wood) => {
      const both = seasons(wood);
      expect(both.map(({ by }) => by)).toEqual(['handbook', 'handbook', 'newer', 'newer']);
      expect(new Set(both.map(({ source }) => source)).size).toBe(2);
      expect(dampest(both[0])).toBeGreaterThan(dampest(both[1]));
      expect(seasons(wood, wood)).toEqual(both);
      expect(both.every(({ source }) => !source?.includes(';'))).toBe(true);
    },
  );

  test('two woods give the season of each with each, and name the sources of both', () => {
    const two = seasons('pear', 'elm, european');
    expect(two).toHaveLength(4);
    expect(two.map(({ source }) => source)).not.toContain(null);
    expect(two.some(({ source }) => source?.includes('; '))).toBe(true);
    expect(seasons('pear', 'no such wood')).toEqual([]);
  });

  test('sources that differ by less than a fifth say the same', () => {
    expect(seasons('teak').map(({ source }) => source)).toEqual([null, null]);
  });

  test('one source gives one season by each equation, and no source is named', () => {
    const maple = seasons('maple, sugar');
    expect(maple.map(({ by, source }) => [by, source])).toEqual([
      ['handbook', null],
      ['newer', null],
    ]);
    expect(seasonsOf({ wood: 'no such wood', bored: 'lid' }, mm(52), mm(0.4), mm(0.08))).toBeNull();
  });

  test('what a range of humidity takes is the most that any source and equation says', () => {
    const range = { from: humidityPercent(30), to: humidityPercent(65) };
    const losses = figuresOf('pear').flatMap((of) => {
      const ring = { first: of.tangential, second: of.radial };
      const pair = {
        diameter: mm(52),
        clearance: mm(0),
        bore: { ring, made: MADE },
        spigot: { ring, made: MADE },
      };
      return (['handbook', 'newer'] as const).map(
        (by) => -ofKind('least', leastGapOver(pair, { by, temperature: MADE.temperature }, range)).gap,
      );
    });
    expect(seasonLoss({ wood: 'pear', bored: 'lid' }, mm(52), range)).toBeCloseTo(Math.max(...losses), 12);
    expect(seasonLoss({ wood: 'no such wood', bored: 'lid' }, mm(52), range)).toBeNull();
  });
});
