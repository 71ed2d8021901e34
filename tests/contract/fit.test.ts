// `lidwright fit`: its JSON, its sentences, its exit codes, and that nothing typed makes it print NaN.
import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { objectIn, runLine } from '../support/command-run.ts';
import { freshFolder } from '../support/fresh-folder.ts';

type Options = Readonly<Record<string, string | true>>;
const home = freshFolder();

/** Runs the command on options by their typed names; on a terminal where its columns are given. */
async function told(options: Options, columns?: number) {
  const words = Object.entries(options).map(
    ([name, value]) => `--${name}${value === true ? '' : `=${value}`}`,
  );
  const { code, data, said } = await runLine(home, ['fit', ...words], {}, columns);
  return { code, data, text: data.join('\n'), messages: said.join('\n') };
}
const json = async (options: Options) => objectIn(await told({ ...options, json: true }));

const plain = { bore: '50mm', pitch: '16tpi', depth: '1mm' };

test('the contract: lengths in mm, engagement a share, warnings text', async () => {
  const answer = await json({ ...plain, clearance: '0.15mm' });
  const about = (value: number) => expect.closeTo(value, 4);
  expect(answer).toMatchObject({
    limitMm: about(1.25037),
    flankLimitMm: about(1.25037),
    rootLimitMm: about(2),
    allowanceMm: about(1.10037),
    clearanceMm: about(0.15),
    playMm: about(0.0866),
    targetSpigotMm: about(51.10037),
    bandMm: [about(50.95037), about(51.17037)],
    engagement: about(0.6403),
    fit: 'running',
    standardUncertaintyMm: about(0.08534),
    // two rectangles and the caliper, propagated (JCGM 101:2008); a normal distribution would give 0.1673
    expandedUncertaintyMm: expect.closeTo(0.166, 2),
    degreesOfFreedom: null,
    allowanceExpandedUncertaintyMm: about(0.04867),
    largestContributor: 'touch-off in the bore',
    warnings: [],
  });
  const shares: readonly number[] = Object.values(answer.chances);
  expect(shares.reduce((so, share) => so + share, 0)).toBeCloseTo(1, 12);
  // a setup without trials may be out by 0.15 mm (standard) as a whole: its chances say so
  expect(answer.newSetupChances.running).toBeLessThan(answer.chances.running - 0.1);
  expect(await json({ ...plain, clearance: '0.15mm', 'bias-doubt': '0.15mm' })).toMatchObject({
    chances: answer.newSetupChances,
    newSetupChances: null,
  });
});

test.each(['tip-flat', 'tip-radius'])('--%s 0mm is a sharp cutter, on the spigot too', async (tip) => {
  expect(await json({ ...plain, [tip]: '0mm' })).toEqual(await json(plain));
  // only the bore's flat counts: flank limit 1.25037 + 2 x 0.2 / (2 tan 30) mm, derived; both flats would give 1.94319
  expect(await json({ ...plain, 'tip-flat': '0.2mm', [`spigot-${tip}`]: '0mm' })).toMatchObject({
    flankLimitMm: expect.closeTo(1.59678, 4),
  });
});

test('another spigot, in inches, mixed with millimetres', async () => {
  const answer = await json({ ...plain, spigot: '2.04in' });
  expect(answer).toMatchObject({
    allowanceMm: expect.closeTo(1.816, 9),
    clearanceMm: expect.closeTo(1.25037 - 1.816, 4),
    fit: 'seized',
    spigotMm: expect.closeTo(51.816, 9),
  });
  expect(String(answer.warnings)).toContain('would seize');
});

test('the depth applies to both parts unless the spigot has its own; tips, angle and starts count', async () => {
  expect((await json({ ...plain, 'spigot-depth': '0.9mm' })).limitMm).toBeCloseTo(1.05037, 4);
  const p = 1.5;
  const iso = await json({
    bore: '40mm',
    pitch: '1.5mm',
    depth: `${(5 / 8) * p * Math.cos(Math.PI / 6)}mm`,
    'tip-flat': `${p / 8}mm`,
    'spigot-tip-flat': `${p / 4}mm`,
  });
  expect(iso.flankLimitMm).toBeCloseTo(1.0825318 * p, 6);
  const whitworth = await json({
    bore: '40mm',
    pitch: '2mm',
    angle: '55',
    depth: `${2 * 0.640327}mm`,
    'tip-radius': `${2 * 0.137329}mm`,
    starts: '2',
  });
  expect(whitworth.limitMm).toBeCloseTo(2 * 1.280654, 5);
  expect(String(whitworth.warnings)).toContain('Break the corners of both crests');
});

test('a disc cutter widens the groove, and is warned of over two thirds of the bore', async () => {
  const small = await json({ ...plain, cutter: '20mm' });
  expect(small.limitMm).toBeGreaterThan((await json(plain)).limitMm);
  expect(small.warnings).toEqual([]);
  expect(String((await json({ ...plain, cutter: '40mm' })).warnings)).toContain(
    'over two thirds of the bore',
  );
});

test('a feed sets how well touch-off is known, and depths between detents get a warning', async () => {
  const counted = await json({ ...plain, feed: '0.2mm' });
  expect(counted.standardUncertaintyMm).toBeGreaterThan(0.3);
  expect(String(counted.warnings)).not.toContain('not a whole number');
  const between = await json({ ...plain, feed: '0.3mm' });
  expect(String(between.warnings)).toContain('3 cut 0.90 mm, 4 cut 1.20 mm');
  const known = await json({ ...plain, feed: '0.2mm', 'touch-off': '0.01mm' });
  expect(known.standardUncertaintyMm).toBeLessThan(0.05);
});

test('a given spigot gets its own answer, even where no spigot gives the clearance wanted', async () => {
  // 0.7 mm deep: limit 2.8 - 2 x 1.37484 = 0.05 mm, less than the 0.15 mm wanted and the 0.08 mm of running
  const shallow = { ...plain, depth: '0.7mm', spigot: '50.02mm' };
  expect(await json(shallow)).toMatchObject({
    targetSpigotMm: null,
    bandMm: null,
    clearanceMm: expect.closeTo(0.0304, 3),
    fit: 'tight',
  });
  expect((await told(shallow)).text).toMatch(/target spigot +none gives[\s\S]*runs from +none/);
});

test.each([
  [{ depth: '2mm' }, 'crest-eaten', 'Cut less than 1.375 mm deep'],
  [{ depth: '0.1mm', 'tip-radius': '0.5mm' }, 'no-flank', 'Cut deeper than 0.250 mm'],
  [{ depth: '0.3mm' }, 'no-engagement', 'would not engage'],
  [
    { depth: '0.7mm', clearance: '0.2mm' },
    'no-engagement',
    'with 0.200 mm of clearance the threads would not engage: the spigot would be 0.150 mm smaller than the bore. These depths allow up to 0.050 mm',
  ],
])('a fit that is not possible: %o, %s', async (change, refused, sentence) => {
  const answer = await json({ ...plain, ...change });
  expect(answer).toMatchObject({ refused, targetSpigotMm: null });
  expect(String(answer.warnings)).toContain(sentence);
  const { code, data, messages } = await told({ ...plain, ...change });
  expect({ code, data }).toEqual({ code: 1, data: [] });
  expect(messages).toContain(sentence);
  expect((await told({ ...plain, ...change, json: true })).code).toBe(1);
});

test.each<[Options, RegExp]>([
  [{ bore: '-50mm' }, /--bore: "-50mm".*above zero/],
  [{ bore: '2ft' }, /--bore: "2ft".*mm or in/],
  [{ bore: '50' }, /--bore: "50".*mm or in/],
  [{ bore: '50,5mm' }, /--bore: "50,5mm".*a point, not a comma/],
  [{ pitch: '0tpi' }, /--pitch: "0tpi".*above zero/],
  [{ depth: 'deep' }, /--depth: "deep"/],
  [{ angle: '200' }, /--angle: "200".*from 20deg to 90deg/],
  [{ starts: '0' }, /--starts: "0".*whole number from 1/],
  [{ clearance: '-0.1mm' }, /--clearance: "-0.1mm".*only a plain lid/],
  [{ 'tip-flat': '-0.1mm' }, /--tip-flat: "-0.1mm".*zero/],
  [{ 'tip-flat': '0.1mm', 'tip-radius': '0.1mm' }, /--tip-flat or --tip-radius, not both/],
  [{ 'running-from': '0.4mm' }, /--running-from has to be smaller than --loose-from/],
  [{ plain: true }, /Leave out --pitch: a plain lid has no thread/],
])('wrong use names the option and what is accepted: %o', async (change, sentence) => {
  const { code, data, messages } = await told({ ...plain, ...change });
  expect({ code, data }).toEqual({ code: 2, data: [] });
  expect(messages).toMatch(sentence);
});

test('every missing option is asked for at once', async () => {
  expect((await told({})).messages).toMatch(/--bore is missing[\s\S]*--pitch is missing/);
});

test('for people: no finer than it is known, and drawn where it can be', async () => {
  const { text, code } = await told(plain);
  expect(code).toBe(0);
  expect(text).toContain('51.10 ± 0.17 mm, for 0.15 mm of clearance');
  expect(text).toContain('50.96 to 51.17 mm');
  expect(text).toContain('1.10 ± 0.05 mm (flanks touch at 1.25 mm)');
  expect(text).not.toMatch(/\d\.\d{4}/);
  expect((await told({ ...plain, feed: '0.25mm' })).text).toContain('51.1 ± 0.8 mm');
  expect((await told({ ...plain, depth: '1.3mm' })).text).toMatch(/1\d\d % of the basic height/);
  const drawn = await told(plain, 90);
  expect(drawn.data.length).toBeGreaterThan(text.split('\n').length + 8);
  for (const line of drawn.data) expect(line.length).toBeLessThanOrEqual(90);
});

test('in inches for a bore in inches, with the decimals that the doubt warrants', async () => {
  const { text } = await told({ ...plain, bore: '2in' });
  expect(text).toContain('2.043 ± 0.007 in, for 0.006 in of clearance');
  expect(text).toContain('2.038 to 2.046 in');
});

test('without a depth it takes the one that the bench plans, and says so', async () => {
  const { depth: _, ...planned } = plain;
  // 17/24 H of a sharp 60 degree form (ISO 68-1, h3): 17/24 x 0.866025 x 25.4/16 mm
  expect((await json(planned)).boreDepthMm).toBeCloseTo((17 / 24) * (Math.sqrt(3) / 2) * (25.4 / 16), 9);
  expect((await json({ ...planned, feed: '0.05mm' })).boreDepthMm).toBeCloseTo(0.95, 9);
  expect((await told(planned)).text).toMatch(/0\.97 mm deep as planned for this\s+pitch/);
  const blunt = await told({ ...planned, 'tip-flat': '1.5mm' });
  expect(blunt).toMatchObject({ code: 2, data: [] });
  expect(blunt.messages).toContain("The cutter's tip is too wide for this pitch");
});

test('a plain lid: bore less clearance, or a hold', async () => {
  expect(await json({ bore: '50mm', plain: true, clearance: '-0.05mm' })).toMatchObject({
    targetSpigotMm: 50.05,
    clearanceMm: expect.closeTo(-0.05, 9),
    warnings: [],
  });
  expect((await told({ bore: '50mm', plain: true, clearance: '0.1mm' })).text).toContain('49.90 ± 0.05 mm');
});

test('nothing typed makes it throw, or print a figure that is not a number', async () => {
  const texts = '50mm 1mm 16tpi 0mm -1mm 1e9mm 0.000001mm 99999999in 60 NaN 1/3in'.split(' ');
  const piece = fc.oneof(fc.constantFrom('', ...texts), fc.string({ maxLength: 8 }));
  const lengths = [
    'bore',
    'depth',
    'spigot-depth',
    'clearance',
    'spigot',
    'tip-flat',
    'tip-radius',
    'cutter',
  ];
  const names = [...lengths, 'pitch', 'angle', 'starts', 'feed', 'touch-off'];
  const options = fc.record(Object.fromEntries(names.map((name) => [name, piece])), { requiredKeys: [] });
  await fc.assert(
    fc.asyncProperty(options, fc.boolean(), async (wild, sensible) => {
      const typed = { ...(sensible ? plain : {}), ...wild } as Options;
      const { code, text } = await told({ ...typed, json: true });
      expect([0, 1, 2]).toContain(code);
      if (code === 0) expect(text.replaceAll('"degreesOfFreedom":null', '')).not.toMatch(/null|NaN/);
      expect((await told(typed, 90)).text).not.toMatch(/NaN|undefined|Infinity/);
    }),
    { numRuns: 150 },
  );
});
