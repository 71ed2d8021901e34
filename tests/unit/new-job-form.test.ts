// The new-job form: what it offers, what each field takes and refuses, how a wood is named, and what of it goes into the setup.
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
  pickedIn,
  setupFrom,
  typedInto,
} from '../../src/core/bench/new-job-form.ts';
import { seasonLoss } from '../../src/core/bench/seasons.ts';
import type { Kit, Setup } from '../../src/core/bench/setup.ts';
import { planDepth } from '../../src/core/bench/threads.ts';
import { spokenWood, woodHint, woodsFor } from '../../src/core/bench/wood-choice.ts';
import { planPasses, wantedDepth } from '../../src/core/thread/passes.ts';
import { degrees, humidityPercent, type LengthUnit, mm } from '../../src/core/units.ts';
import { formScene } from '../../src/screen/scenes/scene-of.ts';
import { kit, threaded } from '../support/bench.ts';
import { ofKind } from '../support/of-kind.ts';

type Values = Partial<NewJobForm['values']>;
const flat = { name: 'flat 55', angle: degrees(55), tip: { kind: 'flat', width: mm(0.2) } } as const;
const coarse = { name: 'coarse slide', perDetent: mm(0.25), lostDetents: 1, perDetentStandard: mm(0.002) };
const rich: Kit = { ...kit, cutters: [...kit.cutters, flat], feeds: [...kit.feeds, coarse] };
const [sharp] = kit.cutters as [Kit['cutters'][number]];
const { feed: _, ...unfed } = threaded;
const season = { from: humidityPercent(30), to: humidityPercent(65) };

const filled = (values: Values, of: Kit = rich): NewJobForm => {
  const form = openForm(of, null, 'a box');
  return { ...form, values: { ...form.values, ...values } };
};
const on = (form: NewJobForm, field: Field): NewJobForm => ({ ...form, at: fieldsOf(form).indexOf(field) });
const typed = (form: NewJobForm, text: string): NewJobForm => [...text].reduce(typedInto, form);
const made = (form: NewJobForm): Setup => {
  const setup = setupFrom(form);
  if (isForm(setup)) throw new Error(`refused: ${setup.error}`);
  return setup;
};
const refused = (form: NewJobForm): NewJobForm => {
  const setup = setupFrom(form);
  if (!isForm(setup)) throw new Error('not refused');
  return setup;
};
const setup = (values: Values, of: Kit = rich): Setup => made(filled(values, of));

describe('as it opens', () => {
  const hardened = { ...threaded, hardens: true, starts: 2 };
  const last: Setup = { ...hardened, cutter: flat, feed: coarse, plannedBore: mm(52), bored: 'body' };
  const plainly = { fit: 'threaded', 'bored part': 'lid', harden: 'no', depth: '', 'planned bore': '' };
  test.each<[string, Kit, Setup | null, Values]>([
    ['the kit', rich, null, { ...plainly, pitch: '1.5mm', starts: '1', clearance: '0.15mm' }],
    ['the kit', rich, null, { cutter: 'sharp 60', feed: 'cross slide' }],
    ['the kit in inches', { ...rich, unit: 'in' }, null, { pitch: '16tpi', clearance: '0.0059in' }],
    ['an empty kit', { ...kit, cutters: [], feeds: [] }, null, { cutter: '', feed: 'none' }],
    ['the last job', rich, last, { name: 'n', pitch: '16tpi', harden: 'yes', wood: 'pear', starts: '2' }],
    ['the last job', rich, last, { feed: 'coarse slide', cutter: 'flat 55', 'bored part': 'body' }],
    ['the last job', rich, last, { 'planned bore': '52mm' }],
    ['as far as the kit still has it', kit, last, { cutter: 'sharp 60', feed: 'cross slide' }],
    ['the last job without a feed', rich, unfed, { feed: 'cross slide', 'planned bore': '' }],
    ['the last job by hand', rich, { ...unfed, byHand: true }, { feed: 'hand' }],
    ['the last job’s season', rich, { ...threaded, season }, { clearance: '30%-65%' }],
  ])('it offers %s', (_, of, before, values) => {
    expect(openForm(of, before, 'n').values).toMatchObject(values);
  });
});

describe('its fields', () => {
  test('a plain lid is not asked about threads, threads by hand not about detents', () => {
    expect(fieldsOf(filled({}))).toEqual(FIELDS);
    const plain = filled({ fit: 'plain' });
    const asked = ['name', 'wood', 'lid wood', 'fit', 'bored part', 'clearance', 'planned bore'];
    expect(fieldsOf(plain)).toEqual(asked);
    expect([5, 6].map((at) => atLastField({ ...plain, at }))).toEqual([false, true]);
    expect(fieldsOf(filled({ feed: 'hand' }))).not.toContain('harden');
  });

  test.each<[Field, readonly string[]]>([
    ['bored part', ['lid', 'body']],
    ['harden', ['no', 'yes']],
    ['cutter', ['sharp 60', 'flat 55']],
    ['feed', ['cross slide', 'coarse slide', 'none', 'hand']],
  ])('%s is chosen from a list', (field, choices) => expect(choicesOf(filled({}), field)).toEqual(choices));

  test.each<[Field, string, string]>([
    // A space turns through all choices and comes round; a letter goes on to the next that it begins.
    ['feed', ' ', 'coarse slide'],
    ['feed', '   ', 'hand'],
    ['feed', '    ', 'cross slide'],
    ['feed', 'c', 'coarse slide'],
    ['fit', 'p', 'plain'],
    ['fit', 'z', 'threaded'],
    // Spelled letter by letter it is chosen, and a space turns on from it.
    ['feed', 'hand', 'hand'],
    ['feed', 'none', 'none'],
    ['feed', 'cross slide', 'cross slide'],
    ['feed', 'Coarse slide', 'coarse slide'],
    ['feed', 'Coarse slide ', 'none'],
  ])('%s: typing %j chooses %s', (field, text, choice) => {
    expect(typed(on(filled({}), field), text).values[field]).toBe(choice);
  });

  test.each<[Field, string, boolean]>([
    ['name', ' ', false],
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
    ['wood', ' ', true],
    ['wood', 'birch', false],
    ['clearance', '0.1mm', true],
    ['clearance', '40%', false],
    ['clearance', 'wide', false],
    ['pitch', '0mm', false],
  ])('%s %j: fine is %s', (field, text, fine) => {
    const form = filled({ [field]: text });
    expect(errorIn(form, field) === null).toBe(fine);
    expect(isForm(setupFrom(form))).toBe(!fine);
    expect(movedIn(on(form, field), 1).error === null).toBe(fine);
    expect(movedIn(on(form, field), -1).error).toBeNull();
  });

  const planned = { 'planned bore': '52mm', clearance: '30%-65%' };
  test.each<[string, Values, string]>([
    ['half a season', { clearance: '40%' }, 'two humidities'],
    ['a season without a planned bore', { wood: 'maple, sugar', clearance: '30%-65%' }, 'planned bore'],
    ['a season for a wood in no table', { ...planned, wood: 'moonwood' }, 'a wood that is in the table'],
    ['a season backwards', { ...planned, wood: 'maple, sugar', clearance: '65%-30%' }, 'the smaller first'],
  ])('%s is refused at the clearance, with what is wanted', (_, values, wanted) => {
    expect(errorIn(filled(values), 'clearance')).toContain(wanted);
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

describe('a wood', () => {
  const naming = (wood: string, unit: LengthUnit = 'mm') =>
    typedInto(movedIn(openForm({ ...kit, unit }, null, 'a box'), 1), wood);
  const picked = (form: NewJobForm | null, ...ways: readonly (1 | -1)[]): NewJobForm | null =>
    ways.reduce((at, by) => at && pickedIn(at, by), form);

  test.each([
    ['oak', 'oak-european', 'oak-white'],
    ['Ash', 'ash-european', 'ash-white'],
    ['cherry', 'cherry-european', 'cherry-black'],
    ['maple', 'maple-european', 'maple-sugar'],
    ['sycamore', 'sycamore-european', 'sycamore-american'],
    ['beech', 'beech-european', 'beech-american'],
    ['walnut', 'walnut-european', 'walnut-black'],
    ['elm', 'elm-european', 'elm-american'],
    ['english oak', 'oak-european', 'oak-european'],
    ['sug map', 'maple-sugar', 'maple-sugar'],
    // In no table it is kept as typed.
    ['moon wood', 'moon wood', 'moon wood'],
  ])('%s begins a job with %s, or %s in inches', (name, metric, inch) => {
    expect([made(naming(name)).wood, made(naming(name, 'in')).wood]).toEqual([metric, inch]);
    expect(movedIn(naming(name), 1).error).toBeNull();
  });

  test('is picked by arrow, back to the letters typed, which are what typing goes on from', () => {
    expect(picked(naming('oak'), 1)?.values.wood).toBe('Oak, European');
    const other = picked(naming('oak'), 1, 1);
    expect(other?.values.wood).toMatch(/oak/i);
    expect(other?.values.wood).not.toBe('Oak, European');
    expect(other && made(other).wood).toMatch(/^oak-/);
    expect(picked(naming('oak'), 1, -1)?.values.wood).toBe('oak');
    const oak = picked(naming('oak'), 1);
    expect(oak && typedInto(oak, ' wh').values.wood).toBe('oak wh');
    expect(picked(typedInto(movedIn(naming('pear'), 1), 'oak'), 1)?.values['lid wood']).toBe('Oak, European');
  });

  test('has nothing to pick past the last kind, of one kind, of an answer untouched or in another field', () => {
    const down = woodsFor('oak', 'mm').map(() => 1 as const);
    expect(picked(naming('oak'), ...down)?.pick?.at).toBe(down.length - 1);
    const oak = naming('oak');
    const name = { ...oak, at: 0, values: { ...oak.values, name: 'oak' } };
    for (const [form, ...ways] of [
      [oak, ...down, 1],
      [oak, -1],
      [naming('pear'), 1],
      [naming('  '), 1],
      [{ ...oak, untouched: true }, 1],
      [name, 1],
    ] as const)
      expect(picked(form, ...ways)).toBeNull();
  });

  test('of several kinds is refused with four of them at most, and can be typed on', () => {
    const error = (wood: string) => errorIn(filled({ wood }), 'wood') ?? '';
    expect(error('birch').split(';')).toHaveLength(5);
    expect(error('birch')).toMatch(/; …\? Press the down arrow to pick\.$/);
    expect(error('chestnut').split(';')).toHaveLength(4);
    expect(error('chestnut')).not.toContain('…');
    const atWood = typed({ ...filled({}), at: 1 }, 'map');
    expect(refused(atWood).error).toContain('which one');
    expect(typed(refused(atWood), ' sug').values.wood).toBe('map sug');
    // One that was wrong in another field than the turner stood on is typed over.
    expect(typed(refused({ ...atWood, at: 0 }), 'pear').values.wood).toBe('pear');
  });

  test.each([
    ['', null],
    ['  ', null],
    ['pear', 'this is Pear'],
    [' oak ', 'Oak, European; press down for another kind'],
    ['moon wood', 'saved as typed; no seasonal forecast for this wood'],
  ])('%j is met with %j', (text, hint) => expect(woodHint(text, null, 'mm')).toBe(hint));

  test('that could be many is met with five of them and how many more, a pick with its place', () => {
    const kinds = woodsFor('mapl', 'mm');
    const named = kinds.slice(0, 5).map(({ trade }) => trade);
    expect(kinds.length).toBeGreaterThan(5);
    expect(woodHint('mapl', null, 'mm')).toBe(
      `could be ${named.join('; ')}; ${kinds.length - 5} more. Press down to pick one`,
    );
    const hint = `2 of ${kinds.length} kinds: down for the next, Enter to use this one`;
    expect(woodHint(kinds[1]?.trade ?? '', { typed: 'mapl', at: 1 }, 'mm')).toBe(hint);
    expect(ofKind('form', formScene(naming('moon wood')).panel).hint).toMatch(/^saved as typed/);
  });

  test.each([
    ['oak-european', 'European oak'],
    ['pear', 'pear'],
    ['moon wood', 'moon wood'],
  ])('%s is said as a turner says it: %s', (id, said) => expect(spokenWood(id)).toBe(said));
});

describe('the setup it makes', () => {
  test.each<[Values, object]>([
    [
      { name: ' a box ', cutter: 'flat 55', feed: 'coarse slide' },
      { name: 'a box', cutter: flat, feed: coarse },
    ],
    [
      { 'bored part': 'body', starts: '2', harden: 'yes' },
      { bored: 'body', starts: 2, hardens: true },
    ],
    [
      { depth: ' 0.9mm ', clearance: '0.2mm' },
      { depth: { female: 0.9, male: 0.9 }, wanted: 0.2 },
    ],
    [
      { 'planned bore': ' 52mm ', 'lid wood': ' moonwood ' },
      { plannedBore: 52, lidWood: 'moonwood' },
    ],
    [{}, { fit: 'threaded', bored: 'lid', hardens: false, wanted: 0.15, unit: 'mm' }],
    [{ pitch: '16tpi' }, { pitch: { given: { kind: 'tpi', threads: 16 } } }],
    [
      { feed: 'hand', harden: 'yes' },
      { byHand: true, hardens: false },
    ],
    [{ fit: 'plain' }, { fit: 'plain' }],
  ])('of %j has %j', (values, expected) => expect(setup(values)).toMatchObject(expected));

  test.each<[Values, readonly string[]]>([
    [{ feed: 'none', depth: ' ', 'planned bore': ' ', wood: ' ' }, ['feed', 'plannedBore', 'wood', 'byHand']],
    [{ wood: '' }, ['wood', 'lidWood', 'season', 'measuring']],
    [{ feed: 'hand' }, ['feed']],
    [{ feed: 'hand', fit: 'plain' }, ['byHand']],
  ])('of %j leaves out %j', (values, left) => {
    for (const key of left) expect(setup(values)).not.toHaveProperty(key);
  });

  test('has what the kit says of measuring', () => {
    const measuring = { tolerance: mm(0.02), leastTops: 4, tilt: degrees(0) };
    expect(setup({}, { ...rich, measuring }).measuring).toBe(measuring);
  });

  test('of a plain lid does not depend on the fields of a thread', () => {
    const wrong = { pitch: 'x', starts: 'two', cutter: 'lost', depth: '-1' };
    for (const unit of ['mm', 'in'] as const) {
      const of = { ...rich, unit };
      expect(setup({ ...wrong, fit: 'plain' }, of)).toEqual(setup({ fit: 'plain' }, of));
    }
  });

  test('asks for the clearance that the woods need over the season, on the bored part', () => {
    const woods = { wood: 'boxwood', 'planned bore': '60mm', clearance: '30%-65%' };
    for (const bored of ['lid', 'body'] as const) {
      const of = { wood: 'boxwood', lidWood: 'maple, sugar', bored };
      const { wanted, season: over } = setup({ ...woods, 'lid wood': of.lidWood, 'bored part': bored });
      expect(wanted).toBe(mm(kit.wanted + (seasonLoss(of, mm(60), season) ?? Number.NaN)));
      expect(over?.remains).toBe(kit.wanted);
    }
    const alone = (lid: string) => setup({ ...woods, 'lid wood': lid, 'bored part': 'body' }).wanted;
    expect(alone('')).toBe(alone('boxwood'));
  });

  test.each<[Values, Kit]>([
    [{}, { ...rich, calipers: [] }],
    [{ fit: 'plain' }, { ...rich, cutters: [] }],
  ])('needs a cutter and a caliper', (values, of) => {
    expect(refused(filled(values, of)).error).toContain('a cutter and a caliper');
  });
});

describe('the depth it plans', () => {
  const metric = (pitch: number) => ({ length: mm(pitch), given: { kind: 'metric' } }) as const;
  const pitch = metric(1.5);
  const of = { pitch: pitch.length, angle: sharp.angle, tip: sharp.tip, profile: 'deepest' } as const;

  test('is in whole detents; without a feed, or with one too coarse, as wanted', () => {
    const passes = planPasses({ ...of, starts: 1, feedPerDetent: coarse.perDetent, harden: false });
    expect(planDepth(pitch, sharp, coarse)).toBe(ofKind('passes', passes).depth);
    for (const feed of [undefined, { ...coarse, perDetent: mm(9) }])
      expect(planDepth(pitch, sharp, feed)).toBe(wantedDepth(of));
    expect(setup({ pitch: '16tpi' }).depth.female / 0.2).toBeCloseTo(5, 9);
  });

  test('is that of detents which gave a pair that ran at that pitch, unless they leave this cutter no crest', () => {
    const feed = { ...coarse, perDetent: mm(0.1) };
    const proven = (detents: number) => ({ ...feed, proven: [{ pitch, detents }] });
    expect(planDepth(pitch, sharp, proven(8))).toBeCloseTo(0.8, 12);
    expect(planDepth(metric(2), sharp, proven(8))).toBe(planDepth(metric(2), sharp, feed));
    expect(planDepth(pitch, sharp, proven(14))).toBe(planDepth(pitch, sharp, feed));
    const planned = setup({ pitch: '1.5mm', feed: feed.name }, { ...rich, feeds: [proven(8)] });
    expect(planned).toMatchObject({ depth: { female: expect.closeTo(0.8, 12) }, feed });
    expect(planned.feed).not.toHaveProperty('proven');
  });
});
