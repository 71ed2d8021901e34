// The kit: files that can be copied, checked value by value, with what is chosen first.
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, dirname, join } from 'node:path';
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { capitalised } from '../../src/core/safe-text.ts';
import { degrees, inches, mm, tpi } from '../../src/core/units.ts';
import { type FactTexts, factsOf, KIND_WORDS, KINDS, type KindWord } from '../../src/kit/equipment.ts';
import { addedItem, freeFileName, kitFolder } from '../../src/kit/item-files.ts';
import { itemsOf, type KitRead, readKit } from '../../src/kit/kit.ts';
import { kitTroubleText } from '../../src/kit/trouble.ts';

let config = '';
beforeEach(() => {
  config = mkdtempSync(join(tmpdir(), 'lidwright-kit-'));
});
afterEach(() => rmSync(config, { recursive: true, force: true }));

const read = (env: Record<string, string> = {}): KitRead => readKit({ config }, { env });
const put = (folder: string, file: string, text: string): string => {
  const path = join(kitFolder({ config }), folder, file);
  mkdirSync(dirname(path), { recursive: true });
  writeFileSync(path, text);
  return path;
};
const add = (kind: KindWord, name: string, typed: FactTexts): string => {
  const made = addedItem({ config }, kind, name, typed);
  if (!made.ok) throw new Error(made.troubles.map(kitTroubleText).join('\n'));
  return put(KINDS[kind].folder, basename(made.path), made.text);
};
const itemNamed = (name: string) => {
  const item = itemsOf(read()).find(({ facts }) => facts.name === name);
  if (!item?.file) throw new Error(`${name} is not in the kit`);
  return { ...item, file: item.file };
};

describe('reading', () => {
  test('without any file there are a plain caliper and a plain cutter, and no feed', () => {
    const { kit, calipers, cutters, troubles } = read();
    expect(kit).toMatchObject({
      calipers: [{ step: 0.01, limitOfError: 0.03 }],
      cutters: [{ angle: degrees(60), tip: { kind: 'sharp' } }],
      feeds: [],
      unit: 'mm',
    });
    expect([...calipers, ...cutters].map(({ file }) => file)).toEqual([null, null]);
    expect(troubles).toEqual([]);
  });

  test('facts in millimetres and inches, each with its unit', () => {
    put(
      'calipers',
      'a.toml',
      'name = "inch"\nstep = "0.0005in"\nlimit-of-error = "0.001in"\nunit = "in"\njaw-land = "0.3mm"',
    );
    put(
      'cutters',
      'a.toml',
      'name = "vee"\nangle = 55\ntip = "radius 0.1mm"\ndiameter = "3/4in"\ntop-speed = 8000',
    );
    put(
      'feeds',
      'a.toml',
      'name = "cross slide"\nper-detent = "0.001in"\nper-detent-standard = "0mm"\nper-detent-freedom = 1\nlost-detents = 2\ndeeper = "down"\nproven = ["14 at 16tpi", "12 at 1.5mm"]',
    );
    const { kit, calipers, feeds, troubles } = read();
    expect(troubles).toEqual([]);
    expect(calipers[0]?.facts).toEqual({
      name: 'inch',
      step: inches(0.0005),
      limitOfError: inches(0.001),
      unit: 'in',
      jawLand: mm(0.3),
    });
    expect(kit.cutters).toEqual([
      {
        name: 'vee',
        angle: degrees(55),
        tip: { kind: 'radius', radius: 0.1 },
        diameter: inches(0.75),
        topSpeed: 8000,
      },
    ]);
    expect(feeds[0]?.facts).toMatchObject({ deeper: 'down', proven: [{ detents: 14 }, { detents: 12 }] });
    expect(feeds[0]?.facts.proven[0]?.pitch).toEqual({
      length: tpi(16),
      given: { kind: 'tpi', threads: 16 },
    });
    expect(kit.feeds).toEqual([
      {
        name: 'cross slide',
        perDetent: inches(0.001),
        lostDetents: 2,
        perDetentStandard: 0,
        perDetentFreedom: 1,
        proven: feeds[0]?.facts.proven,
      },
    ]);
    expect(kit.calipers[0]).not.toHaveProperty('unit');
  });

  test('a wrong value leaves that item out, and says file, key, found, accepted and kept', () => {
    const path = put(
      'cutters',
      'a.toml',
      'name = "vee"\nangle = "600deg"\ntip = { kind = "sharp" }\ndiameter = 20',
    );
    put('cutters', 'b.toml', 'name = "good"\nangle = "60deg"\ntip = "sharp"');
    const { kit, troubles } = read();
    expect(kit.cutters.map(({ name }) => name)).toEqual(['good']);
    expect(troubles.map(kitTroubleText)).toEqual([
      `${path}: angle: "600deg" isn't accepted. Give an included angle from 20deg to 90deg, such as 60deg. Until then, this cutter is left out of the kit.`,
      `${path}: tip: {"kind":"sharp"} isn't accepted. Give sharp, or flat or radius with its size, such as "flat 0.2mm". Until then, this cutter is left out of the kit.`,
      expect.stringContaining("diameter: 20 isn't accepted. Give a number with mm or in"),
    ]);
    put('feeds', 'a.toml', 'name = "slide"\nper-detent-standard = "0.001mm"');
    expect(read().troubles.at(-1)).toMatchObject({ key: 'per-detent', found: 'nothing' });
  });

  test('a feed without its uncertainty is as much in doubt as one whose worth is only given at the bench: within 2 %', () => {
    put('feeds', 'a.toml', 'name = "slide"\nper-detent = "0.05mm"');
    expect(read().kit.feeds).toMatchObject([
      { perDetent: 0.05, perDetentStandard: (0.02 * 0.05) / Math.sqrt(3) },
    ]);
  });

  test('an unknown key is reported, and the item kept', () => {
    put('cutters', 'a.toml', 'name = "vee"\nangle = "60deg"\ntip = "sharp"\ntopspeed = 8000');
    const { kit, troubles } = read();
    expect(kit.cutters).toHaveLength(1);
    expect(troubles).toMatchObject([{ kind: 'unknown-key', key: 'topspeed' }]);
  });

  test('the same name twice: the first file counts, and the other is reported', () => {
    const text = (angle: number) => `name = "Vee"\nangle = ${angle}\ntip = "sharp"`;
    const first = put('cutters', 'a.toml', text(60));
    const second = put('cutters', 'b.toml', text(55).replace('Vee', 'vee'));
    const { kit, troubles } = read();
    expect(kit.cutters.map(({ angle }) => angle)).toEqual([degrees(60)]);
    expect(troubles).toEqual([{ kind: 'same-name', where: second, other: first, name: 'vee' }]);
  });
});

describe('adding and choosing', () => {
  const VEE = { angle: '60deg', tip: 'sharp' };

  test('the chosen item comes first; a choice that is not in the kit is reported', () => {
    add('cutter', 'alder', VEE);
    add('cutter', 'birch', VEE);
    const names = (env: Record<string, string>) => read(env).kit.cutters.map(({ name }) => name);
    expect(names({})).toEqual(['alder', 'birch']);
    expect(names({ LIDWRIGHT_CUTTER: 'Birch' })).toEqual(['birch', 'alder']);
    expect(names({ LIDWRIGHT_CUTTER: 'cherry' })).toEqual(['alder', 'birch']);
    expect(read({ LIDWRIGHT_CUTTER: 'cherry' }).troubles).toMatchObject([
      { kind: 'not-in-kit', name: 'cherry' },
    ]);
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
    expect(itemNamed('as shown').kind).toBe(word);
  });
});

describe('file names', () => {
  const anyText = fc.array(fc.nat({ max: 0xffff })).map((codes) => String.fromCharCode(...codes));

  test('under any name the file stays in its folder and can be typed', () => {
    fc.assert(
      fc.property(anyText, (name) => {
        expect(freeFileName(name, [])).toMatch(/^[a-z0-9]+(-[a-z0-9]+)*\.toml$/);
      }),
      { numRuns: 300 },
    );
    expect(['60° vee, large', '../../etc', '鉋', 'Crème'].map((name) => freeFileName(name, []))).toEqual([
      '60-vee-large.toml',
      'etc.toml',
      'item.toml',
      'creme.toml',
    ]);
  });

  test('a name taken by another item gets a number', () => {
    expect(freeFileName('Vee', ['vee.toml', 'vee-2.toml'])).toBe('vee-3.toml');
  });

  test('names with control characters, no letters, or the word none are refused', () => {
    const typed = { angle: '60deg', tip: 'sharp' };
    for (const name of ['', ' ', 'none', 'a\u001b[2J', '-x', 'x'.repeat(41), 'a\u202eb'])
      expect(addedItem({ config }, 'cutter', name, typed)).toMatchObject({
        ok: false,
        troubles: [{ key: 'name' }],
      });
  });
});
