// What each moment says agrees with itself: number, label, word and instruction.
import { expect, test } from 'vitest';
import { factWords } from '../../src/commands/jobs/words.ts';
import { CAUTIONS } from '../../src/core/bench/cautions.ts';
import type { Bench } from '../../src/core/bench/state.ts';
import { millis } from '../../src/core/units.ts';
import { sceneOf } from '../../src/screen/scenes/scene-of.ts';
import { keyRows } from '../../src/sheet/rows.ts';
import { GALLERY } from '../support/gallery.tsx';
import { shownText } from '../support/shown.tsx';

const MOMENTS = Object.keys(GALLERY);
const SIZES = [
  [60, 16],
  [80, 24],
  [120, 40],
] as const;

function bench(moment: string): Bench {
  const made = GALLERY[moment]?.();
  if (!made) throw new Error(`the gallery has no ${moment}`);
  return made;
}
const words = (shown: Bench, columns = 80, rows = 24): string =>
  shownText(shown, { columns, rows })
    .join(' ')
    .replace(/[▀-▟\s]+/g, ' ');

/** A moment's scene without its drawing; its figures by name. */
function said(moment: string): Readonly<Record<string, unknown>> {
  const { big, standing, next, facts, panel } = sceneOf(bench(moment));
  const zone = panel?.kind === 'bar' ? panel.zone : undefined;
  const { text: number, label, style } = big ?? {};
  const { mark, word, about } = standing ?? {};
  return {
    number,
    label,
    style,
    mark,
    word,
    about,
    next,
    zone,
    ...Object.fromEntries(facts.map((of) => [of.name, of.value])),
  };
}
const begins = (text: string) => expect.stringMatching(new RegExp(`^${text}`));
const has = (text: string) => expect.stringContaining(text);

const AT = { label: 'from target, on the diameter' };
/** A clearance is shown only where you may stop; until then the one wanted. */
const GOING = { wanted: '0.15 mm', clearance: undefined };
const MAY_STOP = { wanted: undefined, clearance: expect.any(String) };
const CLOSE = 'Close the empty jaws and leave them closed.';

test.each<[moment: string, says: Readonly<Record<string, unknown>>]>([
  // Open jaws are not to be kept as a zero error, and one from before the board restarted asks to be checked.
  ['zero-open', { word: 'OPEN', next: CLOSE }],
  ['zero-kept', { word: 'KEPT' }],
  ['zero-doubted', { word: 'CHECK AGAIN', next: CLOSE }],
  // A bore wider than planned has a plus, and nothing to come.
  ['hollow-wider', { number: '+0.22', label: 'over the planned bore, on the diameter' }],
  ['hollow-going', { number: '2.44' }],
  // An unreadable or silent board looks different from no board, and an unplugged one from a caliper that is off.
  ['bore-size-nothing', { about: 'no board is plugged in' }],
  ['line-refused', { about: 'port not open: run lidwright doctor' }],
  ['line-version', { about: "can't read this board's messages", next: has('type the largest reading') }],
  ['line-unplugged', { next: 'Plug the board in again. The peaks so far are kept.' }],
  ['line-silent', { next: begins('Switch the caliper on') }],
  // At size nothing is under the target, nor still to be cut.
  ['spigot-at', { ...AT, ...MAY_STOP, about: 'stop here: running, clearance 0.1 mm' }],
  ['spigot-at-sharp', { ...AT, number: '0.00' }],
  ['spigot-at-below', AT],
  ['spigot-target', GOING],
  ['spigot-far', GOING],
  ['spigot-moving', GOING],
  ['spigot-near', { ...GOING, label: 'left to turn off, on the diameter' }],
  ['spigot-under', { ...MAY_STOP, label: 'below target, on the diameter' }],
  ['spigot-past', MAY_STOP],
  // As kept it is shown itself, with the fit it gives.
  ['spigot-taken', { ...MAY_STOP, number: '43.41', label: 'spigot, as kept', style: 'good', zone: 'at' }],
  ['spigot-taken-loose', { number: '43.10', style: 'past', mark: '▲' }],
  // A plain lid has a hold, and is as wanted.
  [
    'plain-at',
    { ...AT, about: 'stop here: as wanted, hold 0.05 mm', hold: '0.05 ± 0.11 mm', 'will run': undefined },
  ],
  ['trial-plain', { 'computed fit': 'as wanted' }],
  // In inches it is as fine as its target is known.
  ['spigot-inches', { number: '0.007', target: '1.708 in', diameter: '1.7150 in' }],
  ['season-stage', { 'made for': '30%-65% humidity' }],
  // A void depth tells the plan, not a count of nothing.
  ['bore-thread-void', { word: 'DEPTH VOID', done: undefined, planned: '5 detents' }],
  ['bore-thread-start', { word: 'NOT TOUCHED OFF' }],
  ['bore-thread-touched', { word: 'TOUCHED OFF' }],
  ['bore-thread-cutting', { word: 'CUTTING' }],
  ['bore-thread-last', { word: 'LAST DETENT' }],
  ['bore-thread-full', { word: 'FULL DEPTH' }],
  ['bore-thread-taken', { word: 'KEPT' }],
  ['bore-thread-over', { word: 'TOO DEEP' }],
  // Turned back it asks for a deeper feed before it cuts; at full depth it asks to be kept.
  ['bore-thread-reversed', { next: has('feed 1 detent deeper') }],
  ['bore-thread-withdrawn', { next: has('Enter to keep the depth') }],
  // Too deep has the clearance of that depth, or none where the crest is gone.
  ['spigot-thread-full', { clearance: '0.1 ± 0.7 mm' }],
  ['spigot-thread-over', { clearance: undefined }],
  // A trial that is best left says where to go, and crests that were relieved ask for a trial.
  ['trial-loose', { next: begins('Press n for the record') }],
  ['trial-relieving', { next: begins('Sand the crests') }],
  ['trial-relieved', { next: begins('Crests relieved: screw the pair together again') }],
  // Figures that don't go together are not offered to be kept.
  ['calibrate-pair', { next: has('Press Enter to keep it') }],
  ['calibrate-pair-wrong', { next: expect.not.stringContaining('keep') }],
])('%s says %j', (moment, says) => {
  const all = said(moment);
  expect(Object.fromEntries(Object.keys(says).map((what) => [what, all[what]]))).toEqual(says);
});

test.each<[moment: string, shows: RegExp, not?: RegExp]>([
  ['bore-thread-void', /dots: as planned/, /The depth of the thread is void/],
  ['void-elsewhere', /× The depth of the bore's thread is lost. Touch off again./],
  ['bore-thread-last', /dots: uncut/],
  ['bore-thread-full', /FULL DEPTH/, /dots:/],
  // A notice is gone once the number says more.
  ['bore-thread-touched', /● Touched off/],
  ['bore-thread-cutting', /CUTTING/, /Touched off/],
  ['bore-size-waiting', /● Job begun\./],
  ['bore-size-ready', /READY/, /Job begun/],
  ['form-wood', /could be Maple, .*; .*Press down to pick one/],
  ['form-as-last', /this is Boxwood/],
  ['form-wood-xyz', /saved as typed/],
  ['record-runs-closed', /RUNS|CLOSED/, /and \d more/],
  ['bore-size-inches', /1\.66\d\d? ± 0\.00\d\d? in/, / mm[^/]/],
  // A target moved by earlier trials says so, and the help says why.
  ['spigot-learned', /trials moved it by -0\.06 mm: \? says why/],
  ['spigot-learned', /learned -0\.06, from 1 trial/],
  ['help-learned', /came out 0\.06 mm tighter than computed.*- Quince box: computed 0\.15 mm, tight/],
])('%s shows %s', (moment, shows, not) => {
  expect(words(bench(moment))).toMatch(shows);
  if (not) expect(words(bench(moment))).not.toMatch(not);
});

test('at 60x16 a table says how many rows are left off, and a thread keeps its number in sight', () => {
  expect(words(bench('record-runs-closed'), 60, 16)).toContain('and 2 more');
  // the foot of the 5, with the unit beside it
  expect(shownText(bench('bore-thread-unseen'), { columns: 60, rows: 16 }).join('\n')).toContain(
    '▀██████▀ detents',
  );
});

test.each<[keyof typeof CAUTIONS, ...moments: string[]]>([
  ['stopped', 'zero-steady', 'hollow-going', 'bore-size-agreed', 'spigot-no-bore', 'spigot-end'],
  ['cutter', 'bore-thread-full', 'spigot-thread-full'],
  ['glue', 'bore-thread-harden', 'spigot-thread-harden'],
  ['chasing', 'chased-start', 'chased-spigot-thread'],
  ['byHand', 'trial-first', 'calibrate-pair'],
  ['dust', 'trial-relieving'],
])('the caution %s is on the screen at %s', (caution, ...moments) => {
  for (const moment of moments) expect(sceneOf(bench(moment)).caution).toBe(CAUTIONS[caution]);
});

test.each<[moment: string, ...cautions: (keyof typeof CAUTIONS)[]]>([
  ['bore-thread-full', 'cutter', 'glue', 'speed', 'manuals'],
  ['chased-start', 'chasing', 'glue', 'speed', 'manuals'],
  ['record', 'stopped', 'manuals'],
])('the help at %s repeats the cautions %s', (moment, ...cautions) => {
  const help = words({ ...bench(moment), help: true }, 120, 40);
  for (const caution of cautions) expect(help).toContain(CAUTIONS[caution]);
});

test('no moment asks to keep a stale reading', () => {
  const stale = MOMENTS.map(said).filter(({ word }) => word === 'STALE');
  expect(stale.length).toBeGreaterThan(3);
  for (const { next } of stale) expect(next).toMatch(/^(Switch the caliper on|Plug the board in)/);
});

test.each(MOMENTS.filter((moment) => /^help-|chased/.test(moment)))('%s is whole at every size', (moment) => {
  for (const [columns, rows] of SIZES) {
    const text = words(bench(moment), columns, rows);
    if (moment.startsWith('help-')) expect(text).toContain(CAUTIONS.manuals);
    // By hand nothing is said of detents, nor of a touch-off.
    if (moment.includes('chased')) expect(text).not.toMatch(/detent|touch(ed)?[ -]off/i);
  }
});

test.each(['spigot-near', 'spigot-inches'])('%s has the limits of the sheet and of the log', (moment) => {
  const { job, log, unit } = bench(moment);
  if (!job) throw new Error('no job');
  const shown = said(moment);
  const [, [target, limits]] = keyRows(job, job, unit)[1] ?? ['', ['', '']];
  expect(limits).toBe(`runs from ${shown['runs from']}`);
  expect(target).toBe(shown.target);
  const kept = log.find((one) => one.fact.kind === 'target-set')?.fact;
  expect(kept && factWords(kept, unit)).toBe(`target ${target}, ${limits}`);
});

test('a caliper that lies idle at a thread is not called silent, unless the board says nothing', () => {
  const idle = { ...bench('bore-thread-cutting'), now: millis(90_000) };
  expect(words(idle)).not.toContain('silent');
  expect(words({ ...idle, line: { ...idle.line, silent: true } })).toContain('▲ silent');
});

test.each([
  ['hollow-typed', 'at the mouth'],
  ['spigot-across-typed', 'a quarter turn round'],
])('%s says that the size was typed, and nothing of jaws held still', (moment, where) => {
  const next = `Press Enter to keep this size ${where}, or type it again. Press n to go on.`;
  expect(said(moment)).toMatchObject({ word: 'TYPED', about: 'press Enter to keep it', next });
  expect(words(bench(moment))).not.toMatch(/held still|hold the jaws/i);
});
