// The kit: files that can be copied, checked value by value, with what is chosen first.
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import fc from 'fast-check';
import { beforeEach, describe, expect, test } from 'vitest';
import { capitalised } from '../../src/core/safe-text.ts';
import { degrees, inches, mm, tpi } from '../../src/core/units.ts';
import { type FactTexts, factsOf, KIND_WORDS, KINDS, type KindWord } from '../../src/kit/equipment.ts';
import { addedItem, freeFileName, itemsOf, type KitRead, kitFolder, readKit } from '../../src/kit/kit.ts';
import { kitTroubleText } from '../../src/kit/trouble.ts';
import { freshFolder } from '../support/fresh-folder.ts';

let config = '';
beforeEach(() => {
  config = freshFolder();
});

const read = (env: Record<string, string> = {}): KitRead => readKit({ config }, { env });
const put = (kind: KindWord, text: string, file = 'a.toml'): string => {
  const path = join(kitFolder({ config }, kind), file);
  mkdirSync(dirname(path), { recursive: true });
  writeFileSync(path, text);
  return path;
};
const add = (kind: KindWord, name: string, typed: FactTexts): string => {
  const made = addedItem({ config }, kind, name, typed);
  if (!made.ok) throw new Error(made.troubles.map(kitTroubleText).join('\n'));
  return put(kind, made.text, basename(made.path));
};

describe('reading', () => {
  test('without any file there are a plain caliper and a plain cutter, and no feed', () => {
    const caliper = { step: 0.01, limitOfError: 0.03 };
    const cutter = { angle: degrees(60), tip: { kind: 'sharp' } };
    expect(read().kit).toMatchObject({ calipers: [caliper], cutters: [cutter], feeds: [], unit: 'mm' });
    expect(itemsOf(read()).map(({ file }) => file)).toEqual([null, null]);
    expect(read().troubles).toEqual([]);
  });

  test('facts in millimetres and inches, each with its unit; of a caliper and a feed a job keeps no unit and no way', () => {
    put(
      'caliper',
      'name = "inch"\nstep = "0.0005in"\nlimit-of-error = "0.001in"\nunit = "in"\njaw-land = "0.3mm"',
    );
    put('cutter', 'name = "vee"\nangle = 55\ntip = "radius 0.1mm"\ndiameter = "3/4in"\ntop-speed = 8000');
    put(
      'feed',
      'name = "cross slide"\nper-detent = "0.001in"\nper-detent-standard = "0mm"\nper-detent-freedom = 1\nlost-detents = 2\ndeeper = "down"\nproven = ["14 at 16tpi", "12 at 1.5mm"]',
    );
    const { kit, calipers, feeds, troubles } = read();
    const caliper = { name: 'inch', step: inches(0.0005), limitOfError: inches(0.001), jawLand: mm(0.3) };
    const slide = { perDetent: inches(0.001), perDetentStandard: 0, perDetentFreedom: 1, lostDetents: 2 };
    const proven = [
      { detents: 14, pitch: { length: tpi(16), given: { kind: 'tpi', threads: 16 } } },
      { detents: 12, pitch: { length: 1.5, given: { kind: 'metric' } } },
    ];
    const tip = { kind: 'radius', radius: 0.1 };
    expect(troubles).toEqual([]);
    expect([calipers[0]?.facts.unit, feeds[0]?.facts.deeper]).toEqual(['in', 'down']);
    expect(kit).toMatchObject({
      calipers: [caliper],
      cutters: [{ name: 'vee', angle: degrees(55), tip, diameter: inches(0.75), topSpeed: 8000 }],
      feeds: [{ name: 'cross slide', ...slide, proven }],
    });
    expect(kit.calipers[0]).not.toHaveProperty('unit');
    expect(kit.feeds[0]).not.toHaveProperty('deeper');
  });

  test('a wrong value leaves that item out, and says file, key, found, accepted and kept', () => {
    const path = put('cutter', 'name = "vee"\nangle = "600deg"\ntip = { kind = "sharp" }\ndiameter = 20');
    put('cutter', 'name = "good"\nangle = "60deg"\ntip = "sharp"', 'b.toml');
    const { kit, troubles } = read();
    expect(kit.cutters.map(({ name }) => name)).toEqual(['good']);
    expect(troubles.map(kitTroubleText)).toEqual([
      `${path}: angle: "600deg" isn't accepted. Give an included angle from 20deg to 90deg, such as 60deg. Until then, this cutter is left out of the kit.`,
      `${path}: tip: {"kind":"sharp"} isn't accepted. Give sharp, or flat or radius with its size, such as "flat 0.2mm". Until then, this cutter is left out of the kit.`,
      expect.stringContaining("diameter: 20 isn't accepted. Give a number with mm or in"),
    ]);
    put('feed', 'name = "slide"\nper-detent-standard = "0.001mm"');
    expect(read().troubles.at(-1)).toMatchObject({ key: 'per-detent', found: 'nothing' });
  });

  test('an unknown key is reported, and the item kept', () => {
    put('cutter', 'name = "vee"\nangle = "60deg"\ntip = "sharp"\ntopspeed = 8000');
    const { kit, troubles } = read();
    expect(kit.cutters).toHaveLength(1);
    expect(troubles).toMatchObject([{ kind: 'unknown-key', key: 'topspeed' }]);
  });

  test('the same name twice: the first file counts, and the other is reported', () => {
    const text = (angle: number) => `name = "Vee"\nangle = ${angle}\ntip = "sharp"`;
    const first = put('cutter', text(60));
    const second = put('cutter', text(55).replace('Vee', 'vee'), 'b.toml');
    const { kit, troubles } = read();
    expect(kit.cutters.map(({ angle }) => angle)).toEqual([degrees(60)]);
    expect(troubles).toEqual([{ kind: 'same-name', where: second, other: first, name: 'vee' }]);
  });
});

const VEE = { angle: '60deg', tip: 'sharp' };

describe('adding and choosing', () => {
  test.each([
    ['', ['alder', 'birch']],
    ['Birch', ['birch', 'alder']],
    ['cherry', ['alder', 'birch'], { kind: 'not-in-kit', name: 'cherry' }],
  ])('with %j chosen the order is %j', (chosen, names, ...troubles) => {
    add('cutter', 'alder', VEE);
    add('cutter', 'birch', VEE);
    const found = read({ LIDWRIGHT_CUTTER: chosen });
    expect(found.kit.cutters.map(({ name }) => name)).toEqual(names);
    expect(found.troubles).toMatchObject(troubles);
  });

  test('a new file explains every fact, given or not, and reads back as given', () => {
    const path = add('cutter', 'vee 60', { ...VEE, 'top-speed': '8000' });
    expect(basename(path)).toBe('vee-60.toml');
    const text = readFileSync(path, 'utf8');
    for (const { about } of factsOf(KINDS.cutter)) expect(text).toContain(`# ${capitalised(about)}.`);
    expect(text).toContain('# diameter = "20mm"');
    expect(read().kit.cutters).toEqual([
      { name: 'vee 60', angle: degrees(60), tip: { kind: 'sharp' }, topSpeed: 8000 },
    ]);
  });

  test.each(KIND_WORDS)('the examples in a new %s file are accepted as they stand', (word) => {
    const examples = factsOf(KINDS[word]).map(({ key, example }) => [key, example] as const);
    add(word, 'as shown', Object.fromEntries(examples));
    expect(read().troubles).toEqual([]);
    const shown = itemsOf(read()).find(({ facts }) => facts.name === 'as shown');
    expect(shown?.kind).toBe(word);
  });
});

describe('file names', () => {
  test('under any name the file stays in its folder and can be typed', () => {
    const anyText = fc.array(fc.nat({ max: 0xffff })).map((codes) => String.fromCharCode(...codes));
    fc.assert(
      fc.property(anyText, (name) => {
        expect(freeFileName(name, [])).toMatch(/^[a-z0-9]+(-[a-z0-9]+)*\.toml$/);
      }),
      { numRuns: 300 },
    );
    expect(freeFileName('鉋', [])).toBe('item.toml');
  });

  test('a name taken by another item gets a number', () => {
    expect(freeFileName('Vee', ['vee.toml', 'vee-2.toml'])).toBe('vee-3.toml');
  });

  test('names with control characters, no letters, or the word none are refused', () => {
    for (const name of ['', ' ', 'none', 'a\u001b[2J', '-x', 'x'.repeat(41), 'a\u202eb']) {
      const made = addedItem({ config }, 'cutter', name, VEE);
      expect(made).toMatchObject({ ok: false, troubles: [{ key: 'name' }] });
    }
  });
});
