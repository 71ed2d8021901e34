// `lidwright fit`: its JSON, its sentences, its exit codes, and that nothing typed makes it print NaN.
import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Output } from '../../src/commands/command.ts';
import { fitCommand } from '../../src/commands/fit.ts';

/** Runs the command on options by their typed names. */
async function told(options: Readonly<Record<string, string | boolean>>, terminal = false) {
  const said = { data: [] as string[], messages: [] as string[] };
  const output: Output = {
    data: (line) => said.data.push(line),
    message: (line) => said.messages.push(line),
    drained: async () => undefined,
    colour: false,
    terminal,
    columns: 90,
  };
  const camel = (name: string) => name.replace(/-(.)/g, (_, letter: string) => letter.toUpperCase());
  const typed = Object.fromEntries(Object.entries(options).map(([name, value]) => [camel(name), value]));
  const code = await fitCommand.run({ args: [], options: typed }, output);
  return { code, ...said, text: said.data.join('\n') };
}
async function json(options: Readonly<Record<string, string | boolean>>) {
  const { code, data, messages } = await told({ ...options, json: true });
  expect(data).toHaveLength(1);
  return { code, messages, answer: JSON.parse(data[0] ?? '') as Record<string, unknown> };
}

const plain = { bore: '50mm', pitch: '16tpi', depth: '1mm' };

test('the contract: lengths in mm, engagement a share, warnings text', async () => {
  const { code, answer } = await json({ ...plain, clearance: '0.15mm' });
  expect(code).toBe(0);
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
  const chances = answer.chances as Record<string, number>;
  expect(Object.values(chances).reduce((so, share) => so + share, 0)).toBeCloseTo(1, 12);
  // a setup without trials may be out by 0.15 mm (standard) as a whole: its chances say so
  const fresh = answer.newSetupChances as Record<string, number>;
  expect(fresh.running).toBeLessThan((chances.running ?? 0) - 0.1);
  const { answer: stated } = await json({ ...plain, clearance: '0.15mm', 'bias-doubt': '0.15mm' });
  expect(stated.chances).toEqual(fresh);
  expect(stated.newSetupChances).toBeNull();
});

test.each(['spigot-tip-flat', 'spigot-tip-radius'])(
  '--%s 0mm is a sharp cutter on the spigot, not the one of the bore',
  async (option) => {
    const blunt = { ...plain, 'tip-flat': '0.2mm', clearance: '0.15mm' };
    const { answer } = await json({ ...blunt, [option]: '0mm' });
    // only the bore's flat counts: flank limit 1.25037 + 2 x 0.2 / (2 tan 30) mm, derived; both flats would give 1.94319
    expect(answer).toMatchObject({ flankLimitMm: expect.closeTo(1.59678, 4) });
  },
);

test('another spigot, in inches, mixed with millimetres', async () => {
  const { answer } = await json({ ...plain, spigot: '2.04in' });
  expect(answer).toMatchObject({
    allowanceMm: expect.closeTo(1.816, 9),
    fit: 'seized',
    spigotMm: expect.closeTo(51.816, 9),
  });
  expect(answer.clearanceMm).toBeCloseTo(1.25037 - 1.816, 4);
  expect(String(answer.warnings)).toContain('would seize');
});

test('the depth applies to both parts unless the spigot has its own; tips, angle and starts count', async () => {
  const { answer: own } = await json({ ...plain, 'spigot-depth': '0.9mm' });
  expect(own.limitMm).toBeCloseTo(1.05037, 4);
  const p = 1.5;
  const basic = (5 / 8) * p * Math.cos(Math.PI / 6);
  const { answer: iso } = await json({
    bore: '40mm',
    pitch: '1.5mm',
    depth: `${basic}mm`,
    'tip-flat': `${p / 8}mm`,
    'spigot-tip-flat': `${p / 4}mm`,
  });
  expect(iso.flankLimitMm).toBeCloseTo(1.0825318 * p, 6);
  const { answer: whitworth } = await json({
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

test('a tip of nothing is a sharp one', async () => {
  const { answer: sharp } = await json(plain);
  for (const tip of ['tip-flat', 'tip-radius'])
    expect((await json({ ...plain, [tip]: '0mm' })).answer).toEqual(sharp);
});

test('a disc cutter widens the groove, and is warned of over two thirds of the bore', async () => {
  const { answer: none } = await json(plain);
  const { answer: small } = await json({ ...plain, cutter: '20mm' });
  const { answer: large } = await json({ ...plain, cutter: '40mm' });
  expect(Number(small.limitMm)).toBeGreaterThan(Number(none.limitMm));
  expect(small.warnings).toEqual([]);
  expect(String(large.warnings)).toContain('over two thirds of the bore');
});

test('a feed sets how well touch-off is known, and depths between detents get a warning', async () => {
  const { answer: counted } = await json({ ...plain, feed: '0.2mm' });
  expect(counted.standardUncertaintyMm).toBeGreaterThan(0.3);
  expect(String(counted.warnings)).not.toContain('not a whole number');
  const { answer: between } = await json({ ...plain, feed: '0.3mm' });
  expect(String(between.warnings)).toContain('3 cut 0.90 mm, 4 cut 1.20 mm');
  const { answer: known } = await json({ ...plain, feed: '0.2mm', 'touch-off': '0.01mm' });
  expect(Number(known.standardUncertaintyMm)).toBeLessThan(0.05);
});

test('a given spigot gets its own answer, even where no spigot gives the clearance wanted', async () => {
  // 0.7 mm deep: limit 2.8 - 2 x 1.37484 = 0.05 mm, less than the 0.15 mm wanted and the 0.08 mm of running
  const { code, answer } = await json({ ...plain, depth: '0.7mm', spigot: '50.02mm' });
  expect(code).toBe(0);
  expect(answer).toMatchObject({
    targetSpigotMm: null,
    bandMm: null,
    clearanceMm: expect.closeTo(0.0304, 3),
    fit: 'tight',
  });
  const { text } = await told({ ...plain, depth: '0.7mm', spigot: '50.02mm' });
  expect(text).toMatch(/target spigot +none gives/);
  expect(text).toMatch(/runs from +none/);
});

test('a refusal names the clearance that was asked for', async () => {
  const { messages } = await told({ ...plain, depth: '0.7mm', clearance: '0.2mm' });
  expect(messages.join()).toContain(
    'with 0.200 mm of clearance the threads would not engage: the spigot would be 0.150 mm smaller than the bore. These depths allow up to 0.050 mm',
  );
});

describe('a fit that is not possible', () => {
  test.each([
    [{ depth: '2mm' }, 'crest-eaten', 'Cut less than 1.375 mm deep'],
    [{ depth: '0.3mm' }, 'no-engagement', 'would not engage'],
    [{ depth: '0.1mm', 'tip-radius': '0.5mm' }, 'no-flank', 'Cut deeper than 0.250 mm'],
  ])('%o: %s', async (change, kind, sentence) => {
    const { code, answer } = await json({ ...plain, ...change });
    expect(code).toBe(1);
    expect(answer).toMatchObject({ refused: kind, targetSpigotMm: null });
    expect(String(answer.warnings)).toContain(sentence);
    const inWords = await told({ ...plain, ...change });
    expect(inWords.code).toBe(1);
    expect(inWords.messages.join()).toContain(sentence);
    expect(inWords.data).toEqual([]);
  });
});

describe('wrong use names the option and what is accepted', () => {
  test.each([
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
  ])('%o', async (change, sentence) => {
    const { code, messages, data } = await told({ ...plain, ...change });
    expect(code).toBe(2);
    expect(messages.join('\n')).toMatch(sentence);
    expect(data).toEqual([]);
  });

  test('every missing option is asked for at once', async () => {
    const { code, messages } = await told({});
    expect(code).toBe(2);
    expect(messages.join('\n')).toMatch(/--bore is missing[\s\S]*--pitch is missing/);
  });
});

test('for people: no finer than it is known, and drawn where it can be', async () => {
  const { text, code } = await told(plain);
  expect(code).toBe(0);
  expect(text).toContain('51.10 ± 0.17 mm, for 0.15 mm of clearance');
  expect(text).toContain('50.96 to 51.17 mm');
  expect(text).toContain('1.10 ± 0.05 mm (flanks touch at 1.25 mm)');
  expect(text).not.toMatch(/\d\.\d{4}/);
  const coarse = await told({ ...plain, feed: '0.25mm' });
  expect(coarse.text).toContain('51.1 ± 0.8 mm');
  const drawn = await told(plain, true);
  expect(drawn.data.length).toBeGreaterThan(text.split('\n').length + 8);
  for (const line of drawn.data) expect(line.length).toBeLessThanOrEqual(90);
});

test('in inches for a bore in inches, with the decimals that the doubt warrants', async () => {
  const { text } = await told({ ...plain, bore: '2in' });
  expect(text).toContain('2.043 ± 0.007 in, for 0.006 in of clearance');
  expect(text).toContain('2.038 to 2.046 in');
});

test('without a depth it takes the one that the bench plans, and says so', async () => {
  // 17/24 H of a sharp 60 degree form (ISO 68-1, h3): 17/24 x 0.866025 x 25.4/16 mm
  const { answer } = await json({ bore: '50mm', pitch: '16tpi' });
  expect(answer.boreDepthMm).toBeCloseTo((17 / 24) * (Math.sqrt(3) / 2) * (25.4 / 16), 9);
  const { answer: whole } = await json({ bore: '50mm', pitch: '16tpi', feed: '0.05mm' });
  expect(whole.boreDepthMm).toBeCloseTo(0.95, 9);
  expect((await told({ bore: '50mm', pitch: '16tpi' })).text).toMatch(
    /0\.97 mm deep as planned for this\s+pitch/,
  );
  const blunt = await told({ bore: '50mm', pitch: '16tpi', 'tip-flat': '1.5mm' });
  expect(blunt).toMatchObject({ code: 2, data: [] });
  expect(blunt.messages.join()).toContain("The cutter's tip is too wide for this pitch");
});

test('an engagement beyond the basic height is shown as it is', async () => {
  const { text } = await told({ ...plain, depth: '1.3mm' });
  expect(text).toMatch(/1\d\d % of the basic height/);
});

test('a plain lid: bore less clearance, or a hold', async () => {
  const { code, answer } = await json({ bore: '50mm', plain: true, clearance: '-0.05mm' });
  expect(code).toBe(0);
  expect(answer).toMatchObject({
    targetSpigotMm: 50.05,
    clearanceMm: expect.closeTo(-0.05, 9),
    warnings: [],
  });
  const { text } = await told({ bore: '50mm', plain: true, clearance: '0.1mm' });
  expect(text).toContain('49.90 ± 0.05 mm');
});

test('nothing typed makes it throw, or print a figure that is not a number', async () => {
  const piece = fc.oneof(
    fc.constantFrom(
      '50mm',
      '1mm',
      '16tpi',
      '0mm',
      '-1mm',
      '1e9mm',
      '0.000001mm',
      '99999999in',
      '60',
      '',
      'NaN',
      '1/3in',
    ),
    fc.string({ maxLength: 8 }),
  );
  const names = [
    'bore',
    'pitch',
    'depth',
    'spigot-depth',
    'clearance',
    'spigot',
    'angle',
    'tip-flat',
    'tip-radius',
    'starts',
    'cutter',
    'feed',
    'touch-off',
  ];
  const options = fc.record(Object.fromEntries(names.map((name) => [name, piece])), { requiredKeys: [] });
  await fc.assert(
    fc.asyncProperty(options, fc.boolean(), async (wild, sensible) => {
      const typed = Object.fromEntries(
        Object.entries({ ...(sensible ? plain : {}), ...wild }).filter(([, value]) => value !== undefined),
      ) as Record<string, string>;
      const { code, text } = await told({ ...typed, json: true });
      expect([0, 1, 2]).toContain(code);
      if (code === 0) {
        const numbers = text.replaceAll(/"degreesOfFreedom":null/g, '');
        expect(numbers).not.toMatch(/null|NaN/);
      }
      expect((await told(typed, true)).text).not.toMatch(/NaN|undefined|Infinity/);
    }),
    { numRuns: 150 },
  );
});
