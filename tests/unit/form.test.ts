// The new-job form: its answers, what it refuses, and the setups it makes.
import { expect, test } from 'vitest';
import {
  errorIn,
  isForm,
  type NewJobForm,
  openForm,
  setupFrom,
  typedInto,
} from '../../src/core/bench/new-job-form.ts';
import type { Setup } from '../../src/core/bench/setup.ts';
import { kit, threaded } from '../support/bench.ts';

const filled = (values: Partial<NewJobForm['values']>, last: Setup | null = null): NewJobForm => {
  const form = openForm(kit, last, 'a box');
  return { ...form, values: { ...form.values, ...values } };
};

function setup(values: Partial<NewJobForm['values']>, last: Setup | null = null): Setup {
  const made = setupFrom(filled(values, last));
  if (isForm(made)) throw new Error(`refused: ${made.error}`);
  return made;
}

test('as it stands it makes a threaded job with a planned depth in whole detents', () => {
  const made = setup({ pitch: '16tpi' });
  expect(made).toMatchObject({ name: 'a box', fit: 'threaded', bored: 'lid', hardens: false, wanted: 0.15 });
  expect(made.depth.female / 0.2).toBeCloseTo(Math.round(made.depth.female / 0.2), 9);
  expect(made.pitch.given).toEqual({ kind: 'tpi', threads: 16 });
});

test('a season to run through adds what it takes to the clearance that is to remain, and is kept with the job', () => {
  const narrow = setup({ wood: 'maple, sugar', 'planned bore': '52mm', clearance: '40%-50%' });
  const wide = setup({ wood: 'maple, sugar', 'planned bore': '52mm', clearance: '25%-75%' });
  expect(wide.wanted).toBeGreaterThan(narrow.wanted + 0.1);
  expect(wide.season).toEqual({ from: 0.25, to: 0.75, remains: 0.15 });
});

test.each([
  ['a season without a planned bore', { wood: 'maple, sugar', clearance: '30%-65%' }, 'clearance'],
  [
    'a season for a wood in no table',
    { wood: 'moonwood', 'planned bore': '52mm', clearance: '30%-65%' },
    'clearance',
  ],
  ['a season backwards', { wood: 'maple, sugar', 'planned bore': '52mm', clearance: '65%-30%' }, 'clearance'],
  ['a pitch of nothing', { pitch: '0mm' }, 'pitch'],
  ['part-words that fit several woods', { wood: 'birch' }, 'wood'],
  ['no name', { name: ' ' }, 'name'],
] as const)('%s is refused where it stands', (_, values, field) => {
  const made = setupFrom(filled(values));
  expect(isForm(made) && made.error).toBeTruthy();
  expect(errorIn(filled(values), field)).not.toBeNull();
});

test('as last time: the next form holds what the last job had', () => {
  const form = openForm(kit, { ...threaded, hardens: true }, 'next');
  expect(form.values).toMatchObject({
    name: 'next',
    pitch: '16tpi',
    harden: 'yes',
    wood: 'pear',
    feed: 'cross slide',
  });
});

test('choices turn by space and by first letter, and nothing else can be typed there', () => {
  const at = { ...filled({}), at: 3 };
  expect(typedInto(at, 'p').values.fit).toBe('plain');
  expect(typedInto(at, ' ').values.fit).toBe('plain');
  expect(typedInto(at, 'z').values.fit).toBe('threaded');
});

test('a part-word that was just refused is gone on with, and one met elsewhere is typed anew', () => {
  const typed = (form: NewJobForm, text: string): NewJobForm => [...text].reduce(typedInto, form);
  const atWood = typed({ ...filled({}), at: 1 }, 'map');
  const refused = setupFrom(atWood);
  if (!isForm(refused)) throw new Error('several maples should not make a setup');
  expect(refused.error).toContain('which one');
  expect(typed(refused, ' sug').values.wood).toBe('map sug');
  const met = setupFrom({ ...atWood, at: 0 });
  expect(isForm(met) && typed(met, 'pear').values.wood).toBe('pear');
});
