// Naming a wood in the new-job form: common names offer their usual kind, the arrows pick another, and unknown ones are kept.
import { describe, expect, test } from 'vitest';
import { movedIn, openForm, pickedIn, setupFrom, typedInto } from '../../src/core/bench/new-job-form.ts';
import { spokenWood, woodHint, woodsFor } from '../../src/core/bench/wood-choice.ts';
import type { LengthUnit } from '../../src/core/units.ts';
import { formScene } from '../../src/screen/scenes/scene-of.ts';
import { kit } from '../support/bench.ts';

const naming = (wood: string, unit: LengthUnit = 'mm') =>
  typedInto(movedIn(openForm({ ...kit, unit }, null, 'a box'), 1), wood);
const woodOf = (form: ReturnType<typeof naming>) => {
  const setup = setupFrom(form);
  return 'wood' in setup ? setup.wood : setup;
};

describe('a wood', () => {
  test.each([
    ['oak', 'oak-european', 'oak-white'],
    ['Ash', 'ash-european', 'ash-white'],
    ['cherry', 'cherry-european', 'cherry-black'],
    ['maple', 'maple-european', 'maple-sugar'],
    ['sycamore', 'sycamore-european', 'sycamore-american'],
    ['beech', 'beech-european', 'beech-american'],
    ['walnut', 'walnut-european', 'walnut-black'],
    ['elm', 'elm-european', 'elm-american'],
  ])('%s begins a job with its usual kind', (typed, metric, inch) => {
    expect(woodOf(naming(typed))).toBe(metric);
    expect(woodOf(naming(typed, 'in'))).toBe(inch);
    expect(movedIn(naming(typed), 1).error).toBeNull();
  });

  test('the down arrow picks another kind, the up arrow goes back to the typed letters', () => {
    const picked = pickedIn(naming('oak'), 1);
    expect(picked?.values.wood).toBe('Oak, European');
    const other = picked && pickedIn(picked, 1);
    expect(other?.values.wood).not.toBe('Oak, European');
    expect(other?.values.wood).toMatch(/oak/i);
    expect(picked && pickedIn(picked, -1)?.values.wood).toBe('oak');
    expect(other && woodOf(other)).toMatch(/oak/);
  });

  test('typing after a pick narrows the typed letters, not the pick', () => {
    const picked = pickedIn(naming('oak'), 1);
    expect(picked && typedInto(picked, ' wh').values.wood).toBe('oak wh');
  });

  test.each([
    ['', null],
    ['  ', null],
    ['pear', 'this is Pear'],
    [' oak ', 'Oak, European; press down for another kind'],
    ['moon wood', 'saved as typed; no seasonal forecast for this wood'],
  ])('%j is met with %j', (typed, hint) => {
    expect(woodHint(typed, null, 'mm')).toBe(hint);
  });

  test('letters that fit many are met with five of them and how many more, a pick with its place', () => {
    const kinds = woodsFor('mapl', 'mm');
    const named = kinds.slice(0, 5).map(({ trade }) => trade);
    expect(kinds.length).toBeGreaterThan(5);
    expect(woodHint('mapl', null, 'mm')).toBe(
      `could be ${named.join('; ')}; ${kinds.length - 5} more. Press down to pick one`,
    );
    const picked = woodHint(kinds[1]?.trade ?? '', { typed: 'mapl', at: 1 }, 'mm');
    expect(picked).toBe(`2 of ${kinds.length} kinds: down for the next, Enter to use this one`);
  });

  test('there is nothing to pick past the last kind, of one kind, of an answer untouched or in another field', () => {
    const kinds = woodsFor('oak', 'mm').length;
    let form: ReturnType<typeof naming> | null = naming('oak');
    for (let at = 0; at < kinds; at++) form = form && pickedIn(form, 1);
    expect(form?.pick?.at).toBe(kinds - 1);
    expect(form && pickedIn(form, 1)).toBeNull();
    expect(pickedIn(naming('oak'), -1)).toBeNull();
    expect(pickedIn(naming('pear'), 1)).toBeNull();
    expect(pickedIn(naming('  '), 1)).toBeNull();
    expect(pickedIn({ ...naming('oak'), untouched: true }, 1)).toBeNull();
    expect(
      pickedIn({ ...naming('oak'), at: 0, values: { ...naming('oak').values, name: 'oak' } }, 1),
    ).toBeNull();
    const lid = typedInto(movedIn(naming('pear'), 1), 'oak');
    expect(pickedIn(lid, 1)?.values['lid wood']).toBe('Oak, European');
  });

  test('that is in no table is kept as typed, and the form says so', () => {
    expect(woodOf(naming('moon wood'))).toBe('moon wood');
    const { panel } = formScene(naming('moon wood'));
    expect(panel?.kind === 'form' && panel.hint).toMatch(/^saved as typed/);
  });

  test('English oak is European oak, and is said as a turner says it', () => {
    expect(woodOf(naming('english oak'))).toBe('oak-european');
    expect(spokenWood('oak-european')).toBe('European oak');
    expect(spokenWood('pear')).toBe('pear');
    expect(spokenWood('moon wood')).toBe('moon wood');
  });
});
