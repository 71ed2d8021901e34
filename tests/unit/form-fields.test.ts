// The new-job form: what it offers, what each field takes, what it refuses, and what of it goes into the setup.
import { describe, expect, test } from 'vitest';
import {
  atLastField,
  choicesOf,
  errorIn,
  FIELDS,
  type Field,
  fieldsOf,
  hintOf,
  isForm,
  movedIn,
  type NewJobForm,
  openForm,
  setupFrom,
  typedInto,
} from '../../src/core/bench/new-job-form.ts';
import { seasonLoss } from '../../src/core/bench/seasons.ts';
import type { Kit, Setup } from '../../src/core/bench/setup.ts';
import { planDepth } from '../../src/core/bench/threads.ts';
import { lengthText, pitchText, seasonIn, typedReading } from '../../src/core/bench/typed-quantity.ts';
import { planPasses, wantedDepth } from '../../src/core/thread/passes.ts';
import { degrees, humidityPercent, inches, mm, tpi } from '../../src/core/units.ts';
import { kit, Table, threaded } from '../support/bench.ts';
import { ofKind } from '../support/of-kind.ts';

const flat = { name: 'flat 55', angle: degrees(55), tip: { kind: 'flat', width: mm(0.2) } } as const;
const coarse = { name: 'coarse slide', perDetent: mm(0.25), lostDetents: 1, perDetentStandard: mm(0.002) };
const rich: Kit = { ...kit, cutters: [...kit.cutters, flat], feeds: [...kit.feeds, coarse] };
const filled = (values: Partial<NewJobForm['values']>, of: Kit = rich): NewJobForm => {
  const form = openForm(of, null, 'a box');
  return { ...form, values: { ...form.values, ...values } };
};
const typed = (form: NewJobForm, text: string): NewJobForm => [...text].reduce(typedInto, form);
const setup = (values: Partial<NewJobForm['values']>, of: Kit = rich): Setup => {
  const made = setupFrom(filled(values, of));
  if (isForm(made)) throw new Error(`refused: ${made.error}`);
  return made;
};
const on = (form: NewJobForm, field: Field): NewJobForm => ({ ...form, at: fieldsOf(form).indexOf(field) });

describe('as it opens', () => {
  test('without a last job it offers the kit, in its unit', () => {
    expect(openForm(rich, null, 'n').values).toMatchObject({
      pitch: '1.5mm',
      starts: '1',
      cutter: 'sharp 60',
      feed: 'cross slide',
      fit: 'threaded',
      'bored part': 'lid',
      harden: 'no',
      clearance: '0.15mm',
      depth: '',
      'planned bore': '',
    });
    expect(openForm({ ...rich, unit: 'in' }, null, 'n').values).toMatchObject({
      pitch: '16tpi',
      clearance: '0.0059in',
    });
    expect(openForm({ ...kit, cutters: [], feeds: [] }, null, 'n').values).toMatchObject({
      cutter: '',
      feed: 'none',
    });
  });

  test('with one it offers that again, as far as the kit still has it', () => {
    const last: Setup = {
      ...threaded,
      cutter: flat,
      feed: coarse,
      plannedBore: mm(52),
      bored: 'body',
      starts: 2,
      hardens: true,
    };
    expect(openForm(rich, last, 'n').values).toMatchObject({
      name: 'n',
      pitch: '16tpi',
      harden: 'yes',
      wood: 'pear',
      cutter: 'flat 55',
      feed: 'coarse slide',
      'planned bore': '52mm',
      'bored part': 'body',
      starts: '2',
    });
    expect(openForm(kit, last, 'n').values).toMatchObject({ cutter: 'sharp 60', feed: 'cross slide' });
    const { feed: _, ...unfed } = threaded;
    expect(openForm(rich, unfed, 'n').values).toMatchObject({ feed: 'cross slide', 'planned bore': '' });
    const season = { from: humidityPercent(30), to: humidityPercent(65) };
    expect(openForm(rich, { ...threaded, season }, 'n').values.clearance).toBe('30%-65%');
  });
});

describe('its fields', () => {
  test('a plain lid is not asked about threads', () => {
    expect(fieldsOf(filled({}))).toEqual(FIELDS);
    const plain = filled({ fit: 'plain' });
    const asked = ['name', 'wood', 'lid wood', 'fit', 'bored part', 'clearance', 'planned bore'];
    expect(fieldsOf(plain)).toEqual(asked);
    expect([atLastField({ ...plain, at: 6 }), atLastField({ ...plain, at: 5 })]).toEqual([true, false]);
  });

  test.each<[Field, readonly string[]]>([
    ['bored part', ['lid', 'body']],
    ['harden', ['no', 'yes']],
    ['cutter', ['sharp 60', 'flat 55']],
    ['feed', ['cross slide', 'coarse slide', 'none', 'hand']],
  ])('%s is chosen from a list', (field, choices) => {
    expect(choicesOf(filled({}), field)).toEqual(choices);
  });

  test('a space turns through all choices and comes round', () => {
    let form = on(filled({}), 'feed');
    const met = Array.from({ length: 4 }, () => {
      form = typedInto(form, ' ');
      return form.values.feed;
    });
    expect(met).toEqual(['coarse slide', 'none', 'hand', 'cross slide']);
    expect(typedInto(on(filled({}), 'feed'), 'c').values.feed).toBe('coarse slide');
    expect(typedInto(on(filled({}), 'fit'), 'p').values.fit).toBe('plain');
    expect(typedInto(on(filled({}), 'fit'), 'z').values.fit).toBe('threaded');
  });

  test.each(['hand', 'none', 'cross slide', 'Coarse slide'])(
    '%j spelled letter by letter is chosen',
    (name) => {
      const form = [...name].reduce(typedInto, on(filled({}), 'feed'));
      expect(form.values.feed).toBe(name.toLowerCase());
      expect(typedInto(form, ' ').values.feed).not.toBe(name.toLowerCase());
    },
  );

  test.each<[Field, string, boolean]>([
    ['starts', '8', true],
    ['starts', '9', false],
    ['starts', 'two', false],
    ['cutter', 'flat 55', true],
    ['cutter', 'lost', false],
    ['depth', '', true],
    ['depth', '0.9mm', true],
    ['depth', '0', false],
    ['planned bore', '', true],
    ['planned bore', '-52mm', false],
    ['wood', '', true],
    ['wood', ' ', true],
    ['clearance', '40%', false],
    ['clearance', '0.1mm', true],
    ['clearance', 'wide', false],
    ['pitch', '0mm', false],
    ['wood', 'birch', false],
    ['name', ' ', false],
  ])('%s %j: fine is %s', (field, text, fine) => {
    const form = filled({ [field]: text });
    expect(errorIn(form, field) === null).toBe(fine);
    expect(isForm(setupFrom(form))).toBe(!fine);
    const moved = movedIn(on(form, field), 1);
    expect(moved.error === null).toBe(fine);
    expect(movedIn(on(form, field), -1).error).toBeNull();
  });

  test.each([
    ['half a season', { clearance: '40%' }, 'two humidities'],
    ['a season without a planned bore', { clearance: '30%-65%' }, 'planned bore'],
    [
      'a season for a wood in no table',
      { wood: 'moonwood', 'planned bore': '52mm', clearance: '30%-65%' },
      '',
    ],
    ['a season backwards', { wood: 'maple, sugar', 'planned bore': '52mm', clearance: '65%-30%' }, ''],
  ])('%s is refused at the clearance, with what is wanted', (_, values, wanted) => {
    expect(errorIn(filled(values), 'clearance')).toContain(wanted);
    expect(isForm(setupFrom(filled(values)))).toBe(true);
  });

  test('several woods are named, four at most', () => {
    const error = (wood: string) => errorIn(filled({ wood }), 'wood') ?? '';
    expect(error('birch').split(';').length).toBe(5);
    expect(error('birch')).toMatch(/; …\? Press the down arrow to pick\.$/);
    expect(error('chestnut').split(';').length).toBe(4);
    expect(error('chestnut')).not.toContain('…');
  });

  test('a part-word that was just refused can be typed on, and one in another field is typed over', () => {
    const atWood = typed({ ...filled({}), at: 1 }, 'map');
    const refused = setupFrom(atWood);
    if (!isForm(refused)) throw new Error('several maples should not make a setup');
    expect(refused.error).toContain('which one');
    expect(typed(refused, ' sug').values.wood).toBe('map sug');
    const met = setupFrom({ ...atWood, at: 0 });
    expect(isForm(met) && typed(met, 'pear').values.wood).toBe('pear');
  });

  test('each say what they want', () => {
    const hints = FIELDS.map((field) => hintOf(on(filled({}), field)));
    expect(new Set(hints).size).toBe(FIELDS.length);
    for (const hint of hints) expect(hint).toMatch(/\w{3}/);
  });

  test('no text grows without end', () => {
    expect(typedInto(on(filled({}), 'name'), 'x'.repeat(200)).values.name).toHaveLength(80);
  });
});

describe('the setup it makes', () => {
  test('has each answer in its place', () => {
    const made = setup({
      name: ' a box ',
      cutter: 'flat 55',
      feed: 'coarse slide',
      'bored part': 'body',
      starts: '2',
      harden: 'yes',
      depth: ' 0.9mm ',
      'planned bore': ' 52mm ',
      wood: 'sug map',
      'lid wood': ' moonwood ',
      clearance: '0.2mm',
    });
    expect(made).toMatchObject({
      name: 'a box',
      cutter: flat,
      feed: coarse,
      bored: 'body',
      starts: 2,
      hardens: true,
      depth: { female: 0.9, male: 0.9 },
      plannedBore: 52,
      lidWood: 'moonwood',
      wanted: 0.2,
      fit: 'threaded',
      unit: 'mm',
    });
    expect(made.wood).toMatch(/^maple-sugar/);
  });

  test('as offered is threaded, its depth planned in whole detents', () => {
    const made = setup({ pitch: '16tpi' });
    expect(made).toMatchObject({
      name: 'a box',
      fit: 'threaded',
      bored: 'lid',
      hardens: false,
      wanted: 0.15,
    });
    expect(made.depth.female / 0.2).toBeCloseTo(Math.round(made.depth.female / 0.2), 9);
    expect(made.pitch.given).toEqual({ kind: 'tpi', threads: 16 });
  });

  test('leaves out empty fields', () => {
    const made = setup({ feed: 'none', depth: ' ', 'planned bore': ' ', wood: ' ' });
    for (const left of ['feed', 'plannedBore', 'wood', 'lidWood', 'season', 'measuring'])
      expect(made).not.toHaveProperty(left);
    expect(setup({ fit: 'plain' }).fit).toBe('plain');
    const measuring = { tolerance: mm(0.02), leastTops: 4, tilt: degrees(0) };
    expect(setup({}, { ...rich, measuring }).measuring).toBe(measuring);
  });

  test('of a plain lid does not depend on the fields of a thread', () => {
    const wrong = { pitch: 'x', starts: 'two', cutter: 'lost', depth: '-1' };
    for (const unit of ['mm', 'in'] as const)
      expect(setup({ ...wrong, fit: 'plain' }, { ...rich, unit })).toEqual(
        setup({ fit: 'plain' }, { ...rich, unit }),
      );
  });

  test('asks for the clearance that the woods need over the season, on the bored part', () => {
    const woods = {
      wood: 'boxwood',
      'lid wood': 'maple, sugar',
      'planned bore': '60mm',
      clearance: '30%-65%',
    };
    const range = { from: humidityPercent(30), to: humidityPercent(65) };
    for (const bored of ['lid', 'body'] as const) {
      const of = { wood: 'boxwood', lidWood: 'maple, sugar', bored };
      const made = setup({ ...woods, 'bored part': bored });
      expect(made.wanted).toBe(mm(kit.wanted + (seasonLoss(of, mm(60), range) ?? Number.NaN)));
      expect(made.season?.remains).toBe(kit.wanted);
    }
    const alone = setup({ ...woods, 'lid wood': '', 'bored part': 'body' });
    expect(alone.wanted).toBe(setup({ ...woods, 'lid wood': 'boxwood', 'bored part': 'body' }).wanted);
  });

  test('needs a cutter and a caliper', () => {
    const noCaliper = setupFrom(filled({}, { ...rich, calipers: [] }));
    expect(isForm(noCaliper) && noCaliper.error).toContain('a cutter and a caliper');
    const noCutter = setupFrom(filled({ fit: 'plain' }, { ...rich, cutters: [] }));
    expect(isForm(noCutter) && noCutter.error).toContain('a cutter and a caliper');
  });
});

test('threads chased by hand need no feed, ask for no hardening by detents, and are offered again', () => {
  const form = filled({ feed: 'hand', harden: 'yes', pitch: '1.5mm' });
  expect(fieldsOf(form)).not.toContain('harden');
  const made = setup(form.values);
  expect(made).toMatchObject({ byHand: true, hardens: false });
  expect(made).not.toHaveProperty('feed');
  expect(openForm(rich, made, 'n').values.feed).toBe('hand');
  expect(setup({ feed: 'hand', fit: 'plain' })).not.toHaveProperty('byHand');
  expect(setup({ feed: 'none' })).not.toHaveProperty('byHand');
});

test('a depth is planned in whole detents; without a feed, or with one too coarse, as wanted', () => {
  const pitch = { length: mm(1.5), given: { kind: 'metric' } } as const;
  const [cutter] = kit.cutters;
  if (!cutter) throw new Error('no cutter');
  const of = { pitch: pitch.length, angle: cutter.angle, tip: cutter.tip, profile: 'deepest' } as const;
  expect(planDepth(pitch, cutter, undefined)).toBe(wantedDepth(of));
  const passes = planPasses({ ...of, starts: 1, feedPerDetent: coarse.perDetent, harden: false });
  expect(planDepth(pitch, cutter, coarse)).toBe(ofKind('passes', passes).depth);
  expect(planDepth(pitch, cutter, { ...coarse, perDetent: mm(9) })).toBe(wantedDepth(of));
});

test('detents that gave a pair which ran are planned again at that pitch, unless they leave this cutter no crest', () => {
  const pitch = { length: mm(1.5), given: { kind: 'metric' } } as const;
  const other = { length: mm(2), given: { kind: 'metric' } } as const;
  const [cutter] = kit.cutters;
  if (!cutter) throw new Error('no cutter');
  const feed = { ...coarse, perDetent: mm(0.1), proven: [{ pitch, detents: 8 }] };
  expect(planDepth(pitch, cutter, feed)).toBeCloseTo(0.8, 12);
  expect(planDepth(other, cutter, feed)).toBe(planDepth(other, cutter, { ...feed, proven: [] }));
  const tooDeep = { ...feed, proven: [{ pitch, detents: 14 }] };
  expect(planDepth(pitch, cutter, tooDeep)).toBe(planDepth(pitch, cutter, { ...feed, proven: [] }));
  const setup = setupFrom(filled({ pitch: '1.5mm', feed: feed.name }, { ...rich, feeds: [feed] }));
  if (isForm(setup)) throw new Error(String(setup.error));
  expect(setup.depth.female).toBeCloseTo(0.8, 12);
  expect(setup.feed).toEqual({ ...coarse, perDetent: 0.1 });
});

describe('quantities as text', () => {
  test('lengths in their unit, pitches as they were given', () => {
    expect([lengthText(mm(0.15), 'mm'), lengthText(inches(0.1235), 'in')]).toEqual(['0.15mm', '0.1235in']);
    expect(pitchText({ length: tpi(16), given: { kind: 'tpi', threads: 16 } })).toBe('16tpi');
    expect(pitchText({ length: mm(1.5), given: { kind: 'metric' } })).toBe('1.5mm');
  });

  test('a season is two humidities, the drier first', () => {
    expect(seasonIn('30%-65%')).toEqual({ from: 0.3, to: 0.65 });
    for (const none of ['30%', '30%-', '-65%', '30-65%', '30%-65', '65%-30%', '50%-50%', '30%-40%-65%', ''])
      expect([none, seasonIn(none)]).toEqual([none, null]);
  });

  test.each([
    [' 42.30 mm ', '42.30', 42.3],
    ['42.3MM', '42.3', 42.3],
    ['2.05 inches', '2.05', 2.05 * 25.4],
    ['2.0500"', '2.0500', 2.05 * 25.4],
    ['1.7in', '1.7', 1.7 * 25.4],
  ])('a typed %j is known by its digits, and is as fine as the caliper', (text, digits, value) => {
    const { bench } = new Table();
    if (!bench.job) throw new Error('no job');
    const read = typedReading({ ...bench, job: bench.job }, text);
    expect(read).toMatchObject({ ok: true, value: { text: digits, raw: '' } });
    if (!read.ok) return;
    expect(read.value.value).toBeCloseTo(value, 9);
    expect(read.value.step).toBe(0.01);
  });
});
