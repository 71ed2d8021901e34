// The spigot on its way down: its target with what was learned, plain lids, the zones, its shape, and what is kept, asked or refused.
import { describe, expect, test } from 'vitest';
import { clearanceInDoubt } from '../../src/core/bench/doubt.ts';
import type { Setup } from '../../src/core/bench/setup.ts';
import { type Aim, aimOf, expectedOf, zoneOf } from '../../src/core/bench/target.ts';
import { mm } from '../../src/core/units.ts';
import { sceneOf } from '../../src/screen/scenes/scene-of.ts';
import { played, type Table, threaded } from '../support/bench.ts';
import { rock } from '../support/moments/begun.ts';
import { ofKind } from '../support/of-kind.ts';
import { asks, keeps, near, no, type Step, story, tells } from '../support/story.ts';

const bored = (setup: Setup = threaded, bore = '42.30') => played(`=${bore} enter keep`, setup);
const aimOn = ({ job }: Table): Aim => ofKind('aim', aimOf(job));
const expectedWith = (setup: Setup, bore: string, spigot: number) =>
  ofKind('expected', expectedOf(played(`=${bore} keep`, setup).job, { diameter: mm(spigot) }));
const plain = { ...threaded, fit: 'plain', wanted: mm(-0.05) } as const;
/** Earlier pairs came out tighter than computed by 0.06 mm. */
const learned = { shift: mm(-0.06), spread: mm(0.05), reasons: [] };
const deep = (female: number, male = female) => ({
  ...threaded,
  depth: { female: mm(female), male: mm(male) },
});
/** Sharp 60 degree threads of 16 TPI cut 1 mm deep each touch at this allowance (4 x 1 mm less 2 H). */
const LIMIT = 4 * 1 - 2 * (25.4 / 16) * (Math.sqrt(3) / 2);

describe('the target', () => {
  const sizes = ({ target, low, high }: Aim) => [target, low, high].map((size) => size - 42.3);

  test.each([
    // The bore with the limit less the clearance wanted; its band is where the pair runs, from 0.08 to 0.30 mm.
    ['a thread', threaded, [LIMIT - 0.15, LIMIT - 0.3, LIMIT - 0.08]],
    // Pairs that came out tight before make it smaller, and its band with it.
    ['a thread with lessons', { ...threaded, learned }, [LIMIT - 0.21, LIMIT - 0.36, LIMIT - 0.14]],
    ['a plain lid', plain, [0.05, 0, 0.1]],
    ['a plain lid with lessons', { ...plain, learned }, [-0.01, -0.06, 0.04]],
  ])('of %s', (_, setup, expected) => {
    expect(sizes(aimOn(played('=42.30 keep', setup)))).toEqual(
      expected.map((size) => expect.closeTo(size, 9)),
    );
  });

  test('with lessons says them, and expects what they make of the sums', () => {
    const setup = { ...threaded, learned };
    const aim = aimOn(played('=42.30 keep', setup));
    expect(aim.shift).toBe(-0.06);
    expect(expectedWith(setup, '42.30', aim.target)).toMatchObject({
      computed: near(0.21),
      clearance: near(0.15),
    });
    const lid = expectedWith({ ...plain, learned }, '42.30', 42.3);
    expect(lid).toMatchObject({ computed: 0, clearance: -0.06 });
    expect(aimOn(played('=42.30 keep', plain)).limit).toBe(0);
  });

  test.each([
    [-0.05, 39.99, 'loose'],
    [-0.05, 40, 'running'],
    [-0.05, 40.05, 'running'],
    [-0.05, 40.11, 'tight'],
    [-0.05, 40.24, 'tight'],
    [-0.05, 40.27, 'seized'],
    // The ends belong to the better word.
    [0.2, 40, 'tight'],
    [0, 40, 'running'],
  ])('a plain lid wanted %d mm loose, on a spigot of %d in a bore of 40, is %s', (wanted, spigot, word) => {
    expect(expectedWith({ ...plain, wanted: mm(wanted) }, '40', spigot).word).toBe(word);
  });

  test.each<[string, Setup]>([
    ['threads too shallow to engage', deep(0.6)],
    ['a band in which nothing engages', { ...deep(0.7), wanted: mm(-0.5) }],
    ['more clearance wanted than there is', { ...deep(0.74), wanted: mm(0.3) }],
    ['a thread whose crest is eaten', deep(1.5, 1)],
    ['a plain spigot of nothing', { ...plain, wanted: mm(50) }],
  ])('%s: no target, and why', (_, setup) => {
    const { job } = played('=42.30 keep', setup);
    expect(aimOf(job)).toEqual({ kind: 'no-fit', why: expect.stringMatching(/\w+ \w+/) });
  });

  test('without a bore there is neither a target nor anything to expect', () => {
    const { job } = played('');
    expect(aimOf(job)).toEqual({ kind: 'missing', what: 'bore' });
    expect(expectedOf(job, { diameter: mm(43.4) })).toEqual({ kind: 'missing', what: 'bore' });
  });

  test('is kept once, on entering the stage', () => {
    const table = played('=42.30 keep next');
    expect(table.kinds.slice(-2)).toEqual(['stage-entered', 'target-set']);
    // The last stage has no next one.
    expect(table.play('next next next next').countOf('stage-entered')).toBe(4);
    expect([table.countOf('target-set'), table.bench.notice]).toEqual([1, null]);
  });
});

test.each([
  [40.51, 0.01, 'far'],
  [40.5, 0.01, 'near'],
  [40.03, 0.01, 'near'],
  [40.02, 0.01, 'at'],
  [39.98, 0.01, 'at'],
  [39.97, 0.01, 'under'],
  [39.9, 0.01, 'under'],
  [39.89, 0.01, 'past'],
  // A caliper of tenths cannot tell 40.1 from the target; no display counts as coarser than that.
  [40.1, 0.1, 'at'],
  [40.3, 1, 'near'],
  // However fine the caliper, hundredths are what a turner can hold.
  [40.02, 0.001, 'at'],
] as const)('at a target of 40 with 39.90 still running, %s in steps of %s is %s', (value, shown, zone) => {
  const [low, high, target] = [mm(39.9), mm(40.07), mm(40)];
  const aim: Aim = { kind: 'aim', bore: mm(39), target, low, high, limit: mm(1.15), shift: mm(0) };
  expect(zoneOf(aim, mm(value), mm(shown))).toBe(zone);
});

/** The target of a bore of 42.30 mm is 43.40 mm. */
const AT = '=42.30 keep next';
const word = (standing: string): Step[1] => ({ word: standing });
const kept = keeps('spigot-taken');

describe('at the stage', () => {
  test.each<Step>([
    [`${AT} 44.4x4 43.4x4 keep`, keeps('spigot-taken', { diameter: 43.4, how: 'read', fit: 'running' })],
    [`${AT} 45x1 44.5x1 44.1x1 keep`, no('moving')],
    [`${AT} 45x1 44.5x1 44.1x1 44.41x4 43.41x4 keep`, { spigot: near(43.41) }],
    [`${AT} keep`, no('no-reading')],
    [`${AT} 44.4x4 43.4x4 keep keep`, { ...no('no-reading'), ...kept }],
    [`${AT} 43.4x5 wait:2500 keep`, no('stale-reading')],
    [`${AT} 43.4x5 lost keep`, no('stale-reading')],
    // A typed size doesn't age, however long ago the caliper spoke.
    [`${AT} 45x1 =43.40 wait:60000 keep`, keeps('spigot-taken', { diameter: 43.4, how: 'typed' })],
    [`${AT} =0`, no('bad-number', { found: '0' })],
    [`${AT} =thin`, no('bad-number', { found: 'thin' })],
    // One that can hardly be meant.
    [`${AT} =30`, asks('odd-size', { found: 30, expected: near(42.3 + LIMIT - 0.15) })],
    [`${AT} =43.4 keep keep again =45 keep`, asks('odd-shape', { found: 45, known: 43.4 })],
    // Without a bore a typed number is the bore.
    ['@spigot keep', no('missing', { what: 'bore' })],
    ['@spigot =0', no('bad-number', { found: '0' })],
    ['@spigot =5', asks('odd-size', { found: 5, expected: null })],
    ['@spigot =42.30', keeps('bore-taken', { tops: 1, agreeing: 1, spread: null })],
    ['@spigot =42.30 =43.40 keep', keeps('spigot-taken', { diameter: 43.4, how: 'typed', fit: 'running' })],
    // Closed jaws are no spigot, even if the turner says yes.
    [`${AT} 0x6 keep keep`, no('closed-jaws')],
    // The figure is as fine as the caliper, whatever was typed.
    [`${AT} =44`, { shows: '0.60' }],
    [`${AT} =44.00`, { shows: '0.60' }],
    [`${AT} =46`, { shows: '2.60' }],
    // A number that is short isn't at size, however coarse it would be on a caliper.
    [`${AT} =44`, word('TURN DOWN')],
    [`${AT} =43`, word('PAST')],
    [`${AT} =1.7in`, word('PAST')],
    [`${AT} =43.4`, word('AT SIZE')],
    [`${AT} 45x4 43.4x4`, word('AT SIZE')],
  ])('%s', tells);

  test('every reading goes with it, and those typed for a bore', () => {
    expect(played(`${AT} 44.4x4 43.4x4 keep`).entries.at(-1)?.readings).toHaveLength(8);
    expect(played('@spigot =42.30').entries.at(-1)?.readings).toMatchObject([{ text: '42.30', raw: '' }]);
  });

  test('a size typed for the missing bore is doubted beside the plan; where no spigot fits, only for its size', () => {
    story(played('@spigot', { ...threaded, plannedBore: mm(52) }), [
      '=42.30',
      asks('odd-size', { found: 42.3, expected: 52 }),
    ]);
    story(played(AT, deep(0.1)), ['=30', { asked: null }], ['=151', asks('odd-size', { expected: null })]);
  });

  test('near, at and past sound once each, in the order met, typed or held; nothing without a bore', () => {
    const cues = (script: string) =>
      played(script).sounds.filter((cue) => !['kept', 'refused'].includes(cue));
    const way = [45, 43.8, 43.6, 43.41, 43.4, 43.3, 43.1].map((value) => `${value}x5`).join(' ');
    expect(cues(`${AT} ${way}`)).toEqual(['near', 'at', 'past', 'past']);
    expect(cues(`${AT} =43.40 again =43.40`)).toEqual(['at', 'at']);
    expect(cues('@spigot 44.4x4 43.4x5')).toEqual([]);
  });

  test('a pair that makes no fit is refused with why', () =>
    story(played(`${AT} 44.4x4 43.4x4 keep`, deep(1.5, 1)), ['', { ...no('no-fit'), spigot: undefined }]));

  test('one wrong value is never kept, never sounds and never says stop', () => {
    // Every single data bit of a frame that shows 45.00 mm, in hundredths: 20 magnitude bits and the sign.
    const flipped = Array.from({ length: 20 }, (_, bit) => (4500 ^ (1 << bit)) / 100);
    const stop = /AT SIZE|UNDER|PAST/;
    for (const wrong of [43.4, ...flipped, -45]) {
      const table = played(`open ${AT} 45x6`);
      const sounds = table.sounds.length;
      expect(sceneOf(table.reads(wrong, 1).bench).standing?.word).not.toMatch(stop);
      expect(table.sounds).toHaveLength(sounds);
      table.play('keep');
      if (Math.abs(wrong - 45) > 0.025) expect(table.job.spigot).toBeNull();
      expect(sceneOf(table.play('45x1').bench).standing?.word).not.toMatch(stop);
    }
  });
});

describe('coming to the spigot with the jaws still at the bore', () => {
  test('shows the target and keeps nothing unasked', () =>
    story(
      played(`board ${AT} 42.3x6`),
      ['', { word: 'TURN TO THIS', shows: '43.40', sounds: expect.not.arrayContaining(['past']) }],
      ['keep', { ...asks('is-spigot', { found: 42.3 }), spigot: undefined }],
      ['keep', { spigot: 42.3 }],
    ));

  test.each([-0.05, 0.2])('of a plain lid wanted %d mm loose, they are not the spigot', (wanted) => {
    const table = played(`board ${AT} 42.3x6`, { ...plain, wanted: mm(wanted) });
    const target = Math.round(aimOn(table).target * 100) / 100;
    story(
      table,
      ['', { word: 'TURN TO THIS', sounds: expect.not.arrayContaining(['near']) }],
      ['keep', { ...asks('is-spigot'), spigot: undefined }],
      [`esc 42.6x6 ${target}x6 keep`, { spigot: target }],
    );
  });

  test('once a reading above the target was seen, past is said at once', () =>
    story(played(`board ${AT} 44.4x6 42.4x6`), ['', word('PAST')]));
});

describe('once it is measured', () => {
  const at = (size: number) => `board ${AT} 44.4x6 ${size}x6 keep`;

  test.each([0.4, -0.4])('%d mm off the target it is kept only after a question, and not in green', (off) => {
    const table = played(at(43.4 + off));
    const over = expect.closeTo(43.4 + off - aimOn(table).target, 9);
    story(
      table,
      ['', { ...asks('off-size', { over }), spigot: undefined }],
      ['keep', { spigot: 43.4 + off }],
    );
    const { standing, next } = sceneOf(table.bench);
    expect(standing?.style).not.toBe('good');
    expect(next).not.toMatch(/^Press n for its thread/);
  });

  test('its clearance is expected to come out as far over as earlier trials did', () => {
    const learned = { shift: mm(0), mean: mm(0.1), spread: mm(0.05), reasons: [] };
    const { job } = played(at(43.4), { ...threaded, learned });
    const { computed, clearance } = ofKind('expected', job.spigot && expectedOf(job, job.spigot));
    expect(clearance - computed).toBeCloseTo(0.1, 12);
  });

  test.each(['again', 'next back'])("%s doesn't answer: the question is asked again", (keys) =>
    story(played(`${at(43.8)} ${keys} 43.8x6 keep`), ['', { ...asks('off-size'), spigot: undefined }]),
  );

  test('at its target it is not asked about, however doubtful its fit', () => {
    const lessons = { shift: mm(-0.2), spread: mm(0.2), reasons: ['an earlier box, seized'] };
    const bounds = { ...threaded.bounds, runningFrom: mm(0.14) };
    const table = played(AT, { ...threaded, learned: lessons, wanted: mm(0.1), bounds });
    const target = Math.round(aimOn(table).target * 100) / 100;
    table.turns(target, 6);
    story(table, ['keep', { spigot: target, next: expect.stringMatching(/^Press n for its thread/) }]);
  });

  test('it stays kept while the jaws lean or open, and the screen says where to go on', () => {
    const on: Step[1] = { word: 'KEPT', next: expect.stringMatching(/^Press n for its thread\./) };
    story(played(at(43.4)), ['43.39x2', on], ['43.46x2', on], ['43.7x2', on], ['63.4x2', on]);
  });

  test('cut again it is measured against the target again', () => {
    const next = expect.stringMatching(/Press Enter to keep it/);
    story(played(at(43.4)), ['43.35x6', { word: 'UNDER', next }]);
    story(played(`${at(43.4)} @trial @spigot`), ['43.35x6', { word: 'UNDER', next }]);
  });

  test('kept past its limit it is called PAST until another is measured', () =>
    story(played(`${at(42.4)} keep`), ['42.4x6', word('PAST')], ['45.4x6', word('TURN DOWN')]));
});

/** Its touch-off is known to a hundredth, so that the shape is what is in doubt. */
const sure = { ...threaded, feed: { ...threaded.feed, touchOff: mm(0.01) } } as Setup;
const HALF = Math.PI / 4;
const clearances = ({ job }: Table) => {
  const expected = ofKind('expected', job.spigot && expectedOf(job, job.spigot));
  return { tightest: expected.clearance, loosest: expected.loosest };
};
/** Again until this size is asked for, then typed and kept. */
function measured(table: Table, place: 'across' | 'end', text: string): Table {
  for (let tries = 0; tries < 3 && table.bench.place !== place; tries++) table.play('again');
  expect(table.bench.place).toBe(place);
  return table.play(`=${text} keep`);
}

describe('an oval bore', () => {
  test('measured a quarter turn round makes the target fit its worst turn', () => {
    const table = bored(sure);
    const before = aimOn(table).target;
    measured(table, 'across', '42.18');
    expect(table.job.bore).toMatchObject({ diameter: 42.3, across: 42.18, acrossStandard: 0.03 });
    // D = 42.24, h = (pi / 2) 0.12 / 2: the narrowest width is D - h
    expect(aimOn(table).target).toBeCloseTo(before - (42.3 - (42.24 - HALF * 0.12)), 9);
    story(table, ['', { word: 'OVAL', about: '0.12 mm: fits like 42.15 mm' }]);
    expect(clearanceInDoubt(table.job)?.shares.map(({ name }) => name)).toContain('ovality of the bore');
  });

  test('is rocked a quarter turn round, and undo takes back that size alone', () => {
    const table = rock(played('board', sure), 42.3, 5).play('keep again');
    expect(table.bench.place).toBe('across');
    rock(table, 42.18, 5).play('keep');
    expect(table.job.bore).toMatchObject({
      diameter: expect.closeTo(42.3, 1),
      across: expect.closeTo(42.18, 1),
    });
    expect(table.entries.at(-1)?.readings).toHaveLength(5 * 13);
    story(table, ['undo', { notice: { kind: 'undone', what: 'the last size measured' } }]);
    expect(table.job.bore).toMatchObject({ how: 'rocked' });
    expect(table.job.bore?.across).toBeUndefined();
  });

  test('that is the same both ways is round; a new first size drops the second', () => {
    const table = measured(bored(sure), 'across', '42.30');
    story(table, ['', { word: 'KEPT', about: expect.stringMatching(/round$/) }]);
    expect(table.play('=42.4 keep').job.bore?.across).toBeUndefined();
  });

  test('that can hardly be the same bore is kept when said twice', () => {
    const table = played('=42.30 keep again =40.30 keep');
    expect(table.job.bore?.across).toBeUndefined();
    expect(table.play('keep').job.bore?.across).toBe(40.3);
  });
});

describe('the shape of a spigot', () => {
  /** Kept also where it is off its target. */
  const turned = (table = bored(sure)) => {
    table.play('@spigot =43.40 keep');
    return table.asked ? table.play('keep') : table;
  };

  test('wider at its end it loses that at the tightest place', () => {
    const table = measured(turned(), 'end', '43.46');
    expect(table.job.spigot).toMatchObject({ diameter: 43.4, end: 43.46, fit: 'running' });
    const { tightest, loosest } = clearances(table);
    expect(tightest).toBeCloseTo(LIMIT - (43.4 - 42.3) - 0.06, 2);
    expect(loosest - tightest).toBeCloseTo(0.06, 9);
    const about = expect.stringMatching(/^0\.06 mm: running, clearance 0\.\d+ mm$/);
    story(table, ['', { word: 'TAPERED', about }]);
    expect(sceneOf(table.bench).facts).toContainEqual({ name: 'taper', value: '0.06 mm wider at the end' });
  });

  test('of the same taper as its bore it loses nothing', () => {
    const table = turned(played('@hollow =42.30 keep =42.20 keep @bore-size =42.30 keep', sure));
    const alone = clearances(table).tightest;
    const { tightest, loosest } = clearances(measured(table, 'end', '43.30'));
    expect([tightest, loosest]).toEqual([near(alone + 0.1), near(tightest)]);
  });

  test('oval in an oval bore: the worst turn, and the loosest square to it', () => {
    const table = measured(turned(measured(bored(sure), 'across', '42.18')), 'across', '43.34');
    const { tightest, loosest } = clearances(table);
    const [narrowest, widest] = [42.24 - HALF * 0.12, 43.37 + HALF * 0.06];
    expect(tightest).toBeCloseTo(LIMIT - (widest - narrowest), 2);
    expect(loosest - tightest).toBeCloseTo(2 * HALF * (0.12 + 0.06), 9);
    story(table, ['', { word: 'OVAL', about: expect.stringMatching(/^0\.06 mm: /) }]);
  });

  test('turned again it does not have the shape of the one before', () => {
    const table = measured(turned(), 'end', '43.60');
    expect(table.job.spigot?.fit).toBe('seized');
    story(table, ['', { next: expect.stringContaining('Turn its end down') }]);
    expect(aimOn(table).target).toBeCloseTo(aimOn(bored(sure)).target, 9);
    story(table, ['=43.38 keep', keeps('spigot-taken', { diameter: 43.38, fit: 'running' })]);
    expect(table.job.spigot?.end).toBeUndefined();
  });

  test('never sounds while its end is measured, and keeps nothing that moves', () => {
    const table = turned(bored(sure).play('board')).play('again again');
    const { length } = table.sounds;
    expect(table.play('43.2x4 43.5x1').sounds).toHaveLength(length);
    story(table, ['keep', no('moving')], ['43.46x4 keep', keeps('spigot-taken', { end: 43.46 })]);
  });
});

describe('a quarter turn is asked for', () => {
  const isAsked = (table: Table) => sceneOf(table.bench).next.includes('may be oval');

  test.each([
    // D |CT - CR|: oak 0.071 and walnut 0.032 mm a percent at 42.3 mm
    ['European oak', '42.30', true],
    ['European walnut', '42.30', false],
    ['European walnut', '80', true],
    ['green plum', '30', true],
    ['an old plank', '30', false],
    ['an old plank', '70', true],
    [undefined, '42.30', false],
    [undefined, '70', true],
  ])('of %s, %s mm: %s', (wood, bore, asked) => {
    const { wood: _, ...bare } = sure;
    expect(isAsked(played(`=${bore} keep keep`, wood ? { ...bare, wood } : bare))).toBe(asked);
  });

  test('no more once it was measured', () => {
    expect(isAsked(measured(bored({ ...sure, wood: 'European oak' }), 'across', '42.2'))).toBe(false);
  });
});
