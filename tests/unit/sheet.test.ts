// The job sheet: valid HTML, drawings that say what they show and stay clear of themselves, figures no finer than known, nothing unsafe.
import { Resvg } from '@resvg/resvg-js';
import fc from 'fast-check';
import { HtmlValidate } from 'html-validate';
import { describe, expect, test } from 'vitest';
import { CAUTIONS } from '../../src/core/bench/cautions.ts';
import { expectedOf } from '../../src/core/bench/target.ts';
import { degrees, inches, type LengthUnit, length, mm, tpi } from '../../src/core/units.ts';
import { sheetDrawing } from '../../src/sheet/drawings.ts';
import { sheetPage } from '../../src/sheet/page.ts';
import { threaded } from '../support/bench.ts';
import { jobWith } from '../support/job.ts';
import { ofKind } from '../support/of-kind.ts';
import { boreTaken, CASES, longest, pitched, plain, usual, whole } from '../support/sheet-jobs.ts';
import { clashesIn, marksOf, outlineOf, svgsIn, unescaped } from '../support/sheet-marks.ts';

const DAY = '2026-11-25';
const validator = new HtmlValidate({ extends: ['html-validate:recommended', 'html-validate:a11y'] });
const page = (name: string): string => {
  const found = CASES.find((one) => one.name === name);
  if (!found) throw new Error(name);
  return sheetPage(found.job, found.unit, DAY);
};

describe.each(CASES)('$name', ({ job, unit }) => {
  const markup = sheetPage(job, unit, DAY);
  const drawings = svgsIn(markup);

  test('is valid HTML', async () => {
    const { results, valid } = await validator.validateString(markup);
    const faults = results.flatMap(({ messages }) =>
      messages.map(({ ruleId, message }) => [ruleId, message]),
    );
    expect({ faults, valid }).toEqual({ faults: [], valid: true });
  });

  test('has drawings that say what they show, clear of themselves', () => {
    expect(drawings.length).toBeGreaterThan(0);
    for (const svg of drawings) {
      expect(svg).toMatch(/^<svg [^>]*role="img" aria-label="[^"]{20,}"/);
      expect(clashesIn(marksOf(svg))).toEqual([]);
    }
  });

  test('draws to scale', () => {
    const scaled = drawings.filter((svg) => svg.includes('figures in'));
    expect(scaled.length > 0).toBe(sheetDrawing(job, unit) !== null);
    for (const svg of scaled) {
      const [, drawn, real] = /<text[^>]*>[^<]*?(\d+):(\d+), figures/.exec(svg) ?? [];
      const enlarged = Number(drawn) / Number(real);
      const { dimensions } = marksOf(svg);
      expect(dimensions.length).toBeGreaterThan(0);
      const off = dimensions.filter(({ words, long }) => {
        const [figure = '', decimals = ''] = /\d+(?:\.(\d+))?/.exec(words) ?? [];
        const allowed = length(0.5 * 10 ** -decimals.length, unit) + 0.002 / enlarged;
        return !(Math.abs(long / enlarged - length(Number(figure), unit)) <= allowed);
      });
      expect(off).toEqual([]);
    }
  });

  test('is a separate drawing that a renderer accepts', () => {
    const svg = sheetDrawing(job, unit);
    expect(svg === null).toBe(drawings.every((one) => !one.includes('figures in')));
    if (svg === null) return;
    const shown = new Resvg(svg, { font: { loadSystemFonts: false } });
    expect(shown.width).toBeGreaterThan(200);
    expect(marksOf(svg).width).toBeLessThanOrEqual(108);
  });
});

test('any job that can be set up gives a sheet without overlaps or figures that are not numbers', () => {
  const setups = fc.record({
    bore: fc.double({ min: 4, max: 320, noNaN: true }),
    pitch: fc.double({ min: 0.5, max: 8, noNaN: true }),
    starts: fc.integer({ min: 1, max: 8 }),
    wanted: fc.double({ min: -0.1, max: 0.6, noNaN: true }),
    over: fc.double({ min: -0.8, max: 0.8, noNaN: true }),
    angle: fc.constantFrom(55, 60, 90),
    fit: fc.constantFrom('threaded' as const, 'plain' as const),
    bored: fc.constantFrom('lid' as const, 'body' as const),
    unit: fc.constantFrom<LengthUnit>('mm', 'in'),
    name: fc.string({ unit: 'binary', maxLength: 90 }),
  });
  const running = { kind: 'spigot-taken', how: 'typed', fit: 'running', clearance: mm(0.1) } as const;
  let drawn = 0;
  fc.assert(
    fc.property(setups, ({ bore, pitch, angle, over, unit, ...rest }) => {
      const setup = pitched({
        ...{ ...threaded, ...rest, wanted: mm(rest.wanted) },
        pitch: { length: mm(pitch), given: { kind: 'metric' } },
        cutter: { name: 'any', angle: degrees(angle), tip: { kind: 'flat', width: mm(pitch / 16) } },
      });
      const measured = jobWith(setup, [boreTaken(mm(bore))]);
      const diameter = mm(bore + 0.5 + over);
      const fits = expectedOf(measured, { diameter }).kind === 'expected';
      const taken = { ...running, diameter };
      const markup = sheetPage(fits ? { ...measured, spigot: taken } : measured, unit, DAY);
      expect(markup).not.toMatch(/NaN|Infinity|undefined|null/);
      expect(svgsIn(markup).flatMap((svg) => clashesIn(marksOf(svg)))).toEqual([]);
      drawn += svgsIn(markup).length - 1;
    }),
    { numRuns: 60 },
  );
  expect(drawn).toBeGreaterThan(40);
});

test('the gap at the dot of the profile is half the clearance, to scale', () => {
  const job = whole(usual, mm(48.03));
  const svg = svgsIn(sheetPage(job, 'mm', DAY))[1] ?? '';
  const scale = Number(/profile (\d+):1/.exec(svg)?.[1]);
  const [female, male] = [...svg.matchAll(/<polygon points="([^"]*)"/g)].map(([, points = '']) =>
    outlineOf(points),
  );
  const x = Number(/<circle cx="([\d.]+)"/.exec(svg)?.[1]);
  const level = (outline: readonly (readonly [number, number])[] = []): number => {
    const after = outline.findIndex(([at], index) => at >= x && index > 0);
    const [[x1, y1], [x2, y2]] = [outline[after - 1] ?? [0, 0], outline[after] ?? [0, 0]];
    return y1 + ((y2 - y1) * (x - x1)) / (x2 - x1);
  };
  const { computed } = ofKind('expected', expectedOf(job, job.spigot ?? { diameter: mm(0) }));
  expect((level(male) - level(female)) / scale).toBeCloseTo(computed / 2, 3);
});

describe('the sentences', () => {
  test('no text from a person is markup', () => {
    const nasty = `</title><script>alert("1")</script>&'\u202e\u0007\ud800`;
    const job = jobWith({ ...usual, name: nasty, wood: nasty, cutter: { ...usual.cutter, name: nasty } }, [
      { kind: 'note-added', text: nasty },
    ]);
    for (const markup of [sheetPage(job, 'mm', DAY), sheetDrawing(job, 'mm') ?? '']) {
      expect(markup).not.toContain('<script');
      // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what must not be there
      expect(markup).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u202e]|\p{Cs}/u);
      expect(unescaped(markup)).toContain(`<script>alert("1")</script>&'`);
    }
  });

  test('a clearance is shown with its doubt, and no finer', () => {
    expect(page('no feed')).toContain('clearance 0.1 ± 0.4 mm expected');
    expect(page('usual')).toContain('clearance 0.1 ± 0.7 mm expected');
  });

  test('unmeasured parts are marked as such, and drawn as planned', () => {
    expect(page('only a name').match(/not yet/g)?.length).toBe(6);
    expect(page('only a name')).toContain('No drawing: no bore is measured or planned yet.');
    expect(page('planned')).toContain('>planned bore 48.00</text>');
    expect(page('bore taken')).toContain('>spigot target 49.13</text>');
  });

  test('the passes are those of the plan, with the hardening and the finish', () => {
    expect(page('smallest')).toContain(
      '<h3>spigot</h3><ol><li><b>2</b> 0.20</li><li><b>4</b> 0.40</li><li><b>5</b> 0.50</li><li>finish <b>6</b> 0.60</li></ol>',
    );
    expect(page('usual')).toContain('<li>harden</li><li>finish <b>5</b> 1.00</li>');
  });

  test('a plain lid has no thread, and one that holds no season', () => {
    expect(page('plain')).not.toMatch(/detent|thread profile|pitch/);
    expect(page('plain')).toContain('Room humidity');
    expect(page('plain held tight')).toContain('hold wanted');
    expect(page('plain held tight')).not.toContain('Room humidity');
  });

  test('an inch job is in inches throughout, but for reasons as they were learned', () => {
    const job = whole({ ...pitched({ ...threaded, unit: 'in' }), plannedBore: inches(2) }, inches(2));
    const markup = sheetPage(job, 'in', DAY)
      .replace(/<style>.*?<\/style>/s, '')
      .replace(/(width|height)="[\d.]+mm"/g, '');
    expect(markup).not.toMatch(/\d ?mm/);
    expect(markup).toContain('16 TPI (0.0625 in)');
  });

  test('several starts give their lead', () => {
    const pitch = { length: tpi(8), given: { kind: 'tpi', threads: 8 } } as const;
    const markup = sheetPage(jobWith(pitched({ ...usual, starts: 4, pitch })), 'mm', DAY);
    expect(markup).toContain('8 TPI (3.175 mm), 4 starts, lead 12.7 mm');
  });

  test('rows that do not fit the page are left out, and the page says so', () => {
    const job = longest('long enough ', 'sugar maple');
    const markup = sheetPage(job, 'mm', DAY);
    const left = Number(/\((\d) earlier reasons: see lidwright jobs show\)/.exec(markup)?.[1]);
    expect(left + (markup.match(/moved the bias/g)?.length ?? 0)).toBe(7);
    expect(markup).toContain('(4 earlier notes: see lidwright jobs show)');
    expect(markup).toContain('latest: 3 tight');
    expect(sheetPage({ ...job, notes: ['W'.repeat(4000)] }, 'mm', DAY)).toContain(
      'Notes (cut: see lidwright jobs show)',
    );
  });

  test('a pair out of true says so in one text, which notes make room for, and is drawn where it is tightest', () => {
    const words = unescaped(page('oval and tapered'));
    expect(words).toContain(
      '<p class="small">Shape of the bore: oval 0.12 mm (2 % of the doubt); 0.08 mm wider at',
    );
    expect(words).toContain('clearance -0.1 ± 0.8 mm expected');
    expect(words).toContain('>overlap 0.1 ± 0.8 mm at its tightest</text>');
    const [round, oval] = [page('wide letters, known wood'), page('wide letters, oval')].map(
      (markup) => /<section class="notes">.*?<\/section>/s.exec(markup)?.[0].length ?? 0,
    );
    expect(oval).toBeLessThan(round ?? 0);
  });

  test('where sources differ about a wood the bars say so', () => {
    const [handbook, newer, other] = [
      'Wood Handbook equation',
      'newer handbook equation',
      'with other wood figures',
    ];
    const rows = [...page('usual').matchAll(/>((?:Wood H|newer h|with other wood )[^<]*)<\/text>/g)];
    expect(rows.map(([, row]) => row)).toEqual([handbook, other, newer, other]);
  });

  test('threads chased by hand say how deep they are known to be, and claim no fit of a depth that is not', () => {
    const words = unescaped(page('chased by hand')).replace(/<[^>]+>/g, ' ');
    expect(words).toMatch(/chased by hand/);
    expect(words).toMatch(/1\.00 ± 0\.09 mm deep, by a flat of 0\.40 mm, 14 strokes/);
    expect(words).toMatch(/by trial, depth not measured, 9 strokes/);
    expect(words).not.toMatch(/detent|touch-off|chances|clearance [\d.]+ ±|runs from/);
  });

  test('every caution is on it', () => {
    const words = unescaped(sheetPage(jobWith(plain), 'mm', DAY));
    const cautions = Object.values(CAUTIONS);
    expect(cautions.filter((caution) => !words.includes(`<li>${caution}</li>`))).toEqual([]);
    expect(cautions.length).toBeGreaterThan(5);
  });
});
