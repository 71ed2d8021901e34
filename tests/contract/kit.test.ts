// The kit's contract with the turner: every command as printed, files for their owner alone, and a folder that can be copied.
import { cpSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, describe, expect, test } from 'vitest';
import { objectIn, runLine, type Told } from '../support/command-run.ts';
import { freshFolder } from '../support/fresh-folder.ts';

let home = '';
beforeEach(() => {
  home = freshFolder();
});

const kit = (line: string, env: Record<string, string> = {}, at = home): Promise<Told> =>
  runLine(at, `kit ${line}`, env);

const VEE = 'add cutter "vee 60" --angle 60deg --tip sharp';
const SLIDE = 'add feed slide --per-detent 0.05mm --per-detent-standard 0.001mm';

describe('the commands for an item', () => {
  test('added, shown, changed, chosen and removed by name', async () => {
    const done = async (line: string) => expect(await kit(line)).toMatchObject({ code: 0, said: [] });
    await done(VEE);
    expect((await kit('show "VEE 60"')).data.join()).toMatch(/angle +60deg.*kit\/cutters\/vee-60\.toml/);
    await done('change "vee 60" --diameter 3/4in');
    await done('choose "vee 60"');
    expect((await kit('')).data).toContain('cutter "vee 60", in use: angle 60deg, tip sharp, diameter 3/4in');
    await done('change "vee 60" --diameter none');
    expect((await kit('')).data).toContain('cutter "vee 60", in use: angle 60deg, tip sharp');
    await done('remove "vee 60"');
    expect((await kit('')).data.join()).not.toContain('vee 60');
    await done(VEE);
    expect((await kit('remove "vee 60"')).data.join()).toContain('vee-60.toml.removed-2');
    expect(readdirSync(join(home, 'kit/cutters'))).toEqual(['vee-60.toml.removed', 'vee-60.toml.removed-2']);
  });

  test('a built-in item gets a file when it is changed', async () => {
    await kit('change "0.01 mm caliper" --limit-of-error 0.02mm --unit none');
    expect((await kit('')).data[0]).toBe(
      'caliper "0.01 mm caliper", in use: step 0.01mm, limit of error 0.02mm',
    );
  });

  test('a comment of the turner outlives every change', async () => {
    await kit(SLIDE);
    const path = join(home, 'kit/feeds/slide.toml');
    const mine = readFileSync(path, 'utf8').replace('"0.05mm"', '"0.05mm" # by the dial gauge, in May');
    writeFileSync(path, `# oiled in spring\n${mine}`);
    await kit('change slide --per-detent 0.0508mm --lost-detents 3');
    await kit('calibrate --detents 20 --travel 1.02mm 1.03mm --save slide');
    const text = readFileSync(path, 'utf8');
    expect(text).toContain('# oiled in spring\n');
    expect(text).toMatch(/^per-detent = "0.05125mm" # by the dial gauge, in May$/m);
    expect(text).toMatch(/^lost-detents = 3$/m);
    // gauge 0.01 / sqrt 3, two travels scattered by 0.0071 / sqrt 2 with one degree: Welch and Satterthwaite give 5.4
    expect(text).toMatch(/^per-detent-freedom = 5\.4$/m);
  });

  test('a feed needs no uncertainty to be added', async () => {
    expect(await kit('add feed slide --per-detent 0.05mm')).toMatchObject({ code: 0 });
    const { perDetentStandardMm } = objectIn(await kit('show slide --json'));
    expect(perDetentStandardMm).toBe((0.02 * 0.05) / Math.sqrt(3));
  });

  test.each([
    ['add lathe big', 'Allowed choices are caliper, cutter, feed'],
    ['add cutter "x"', 'A cutter needs --angle, such as --angle 60deg.'],
    ['add cutter "x" --angle 60deg', 'A cutter needs --tip, such as --tip "flat 0.2mm".'],
    ['add feed x', 'A feed needs --per-detent, such as --per-detent 0.05mm'],
    ['add cutter x --angle 60deg --tip blunt', 'tip: "blunt" isn\'t accepted'],
    ['add cutter x --angle 60deg --tip sharp --step 0.01mm', '--step belongs to a caliper'],
    ['add cutter ../x --angle 60deg --tip sharp', 'name: "../x" isn\'t accepted'],
    ['change "60 degree sharp"', 'Give what to change'],
    ['change "60 degree sharp" --angle wide', 'angle: "wide" isn\'t accepted'],
    ['change "60 degree sharp" --angle none', "angle: nothing isn't accepted"],
    ['set tilt steep', 'tilt: "steep" isn\'t accepted'],
    ['set colour red', '"colour" isn\'t a setting'],
    ['calibrate --detents 20', 'Give --detents and --travel'],
    ['calibrate --detents many --travel 1mm', '--detents: "many" isn\'t accepted'],
    ['calibrate --detents 9 --travel 1mm --bore 40mm', 'not both'],
  ])('%s is refused as wrong use, says why, and writes nothing', async (line, why) => {
    const { code, said, data } = await kit(line);
    expect({ code, data }).toEqual({ code: 2, data: [] });
    expect(said.join('\n')).toContain(why);
    expect(readdirSync(home)).toEqual([]);
  });

  test('the same name twice, and a name that is not there, are refused', async () => {
    await kit(VEE);
    expect(await kit(VEE.replace('vee', 'Vee'))).toMatchObject({ code: 2 });
    const { code, said } = await kit('show "vee 55"');
    expect(code).toBe(1);
    expect(said.join()).toContain('The kit has "0.01 mm caliper", "vee 60"');
    expect(await kit('remove "0.01 mm caliper"')).toMatchObject({ code: 1 });
  });
});

describe('the files', () => {
  test('are readable by their owner alone', async () => {
    await kit(VEE);
    await kit('set bell off');
    const mode = (path: string) => statSync(join(home, path)).mode & 0o777;
    expect(['kit/cutters/vee-60.toml', 'settings.toml', 'kit/cutters'].map(mode)).toEqual([
      0o600, 0o600, 0o700,
    ]);
  });

  test('copied to another bench make the same kit there', async () => {
    for (const line of [VEE, SLIDE, 'add caliper inch --step 0.0005in --limit-of-error 0.001in --unit in'])
      await kit(line);
    const other = freshFolder();
    cpSync(join(home, 'kit'), join(other, 'kit'), { recursive: true });
    const [here, there] = [await kit('--json'), await kit('--json', {}, other)];
    expect(there.data.map((line) => line.replaceAll(other, home))).toEqual(here.data);
    expect(here.data.map((line) => JSON.parse(line).kind)).toEqual(['caliper', 'cutter', 'feed']);
  });

  test('a broken file is reported, exits 3, and the rest is used', async () => {
    await kit(VEE);
    writeFileSync(join(home, 'kit/cutters/b.toml'), 'name = ');
    const { code, data, said } = await kit('');
    expect(code).toBe(3);
    expect(data.join('\n')).toContain('"vee 60"');
    expect(said.join('\n')).toMatch(/b\.toml: line 1, column \d+/);
  });
});

describe('settings', () => {
  test('where says which one won: flag, environment, file, default', async () => {
    const winner = async (line = '', env: Record<string, string> = {}) => {
      const { data } = await kit(`where --json ${line}`, env);
      return data.map((each) => JSON.parse(each)).find(({ key }) => key === 'tilt');
    };
    const env = { LIDWRIGHT_TILT: '3deg' };
    expect(await winner()).toMatchObject({ text: '1deg', from: 'default' });
    await kit('set tilt 2deg');
    expect(await winner()).toMatchObject({ text: '2deg', from: 'file' });
    expect(await winner('', env)).toMatchObject({ text: '3deg', from: 'environment' });
    expect(await winner('--tilt 4deg', env)).toMatchObject({
      text: '4deg',
      from: 'flag',
      where: 'flag --tilt',
    });
    await kit('set tilt');
    expect(await winner()).toMatchObject({ text: '1deg', from: 'default' });
  });

  test('--where says the same, and an unsound one makes it exit 2 or 3', async () => {
    expect((await kit('--where')).data).toEqual((await kit('where')).data);
    expect(await kit('where --tilt steep')).toMatchObject({ code: 2 });
    expect(await kit('where', { LIDWRIGHT_BAUD: 'fast' })).toMatchObject({ code: 2 });
    writeFileSync(join(home, 'settings.toml'), 'baud = "fast"\n');
    expect(await kit('where')).toMatchObject({ code: 3 });
  });

  test('a settings file is written once, and never over one that is there', async () => {
    expect(await kit('--write-settings')).toMatchObject({ code: 0 });
    writeFileSync(join(home, 'settings.toml'), '# mine\n');
    expect(await kit('--write-settings')).toMatchObject({ code: 1 });
    expect(readFileSync(join(home, 'settings.toml'), 'utf8')).toBe('# mine\n');
  });

  test('a choice that the environment overrides is reported', async () => {
    await kit(VEE);
    const { code, said } = await kit('choose "vee 60"', { LIDWRIGHT_CUTTER: '55 whit' });
    expect(code).toBe(0);
    expect(said.join()).toContain('overrides the file');
  });
});

describe('calibrating', () => {
  test('a pair that runs gives the feed, saves it, and proves its detents at that pitch', async () => {
    await kit(VEE);
    await kit('choose "vee 60"');
    const pair =
      'calibrate --detents 14 --pitch 16tpi --bore 42.10mm --spigot 43.2mm --play 0.1mm --json --save slide';
    const { code, data } = await kit(pair);
    expect(code).toBe(0);
    const found = JSON.parse(data[0] ?? '');
    // Derived: closed flanks touch at S - B = 2 (d_bore + d_spigot) - 2 H less play / t, both d 14 detents, H = P / 2t, t = tan 30.
    const [t, pitch] = [Math.tan(Math.PI / 6), 25.4 / 16];
    expect(found.perDetentMm).toBeCloseTo(((1.1 + 0.1 / t) / 2 + pitch / (2 * t)) / 28, 9);
    expect(found.standardMm).toBeGreaterThan(0);
    expect((await kit('')).data.join()).toContain('proven 14 at 16tpi');
    await kit(pair.replace('--detents 14', '--detents 15'));
    await kit(pair.replace('16tpi', '1.5mm').replace('43.2mm', '43.1mm'));
    expect((await kit('')).data.join()).toContain('proven 15 at 16tpi, 14 at 1.5mm');
  });

  test('the answer comes in the unit asked for, no finer than its doubt', async () => {
    // By hand (JCGM 100): s / sqrt 3 = 5.77e-5, gauge 4e-4 / sqrt 3 = 2.31e-4, together 2.38e-4 over 20, times 1.964 (577 degrees).
    const line = 'calibrate --detents 20 --travel 0.0401in 0.0399in 0.0400in --gauge-within 0.0004in';
    expect((await kit(`${line} --unit in`)).data[0]).toBe('One detent is 0.002000 ± 0.000024 in (95 %).');
    expect((await kit(line)).data[0]).toBe('One detent is 0.0508 ± 0.0006 mm (95 %).');
  });

  test('impossible figures of a pair are refused, and the refusal says what to check', async () => {
    const { code, said } = await kit(
      'calibrate --detents 14 --pitch 16tpi --bore 42mm --spigot 30mm --play 0.1mm',
    );
    expect(code).toBe(1);
    expect(said.join()).toMatch(/Check the travel|isn't possible/);
  });
});
