// The job sheet: one printed page as HTML, with the drawings to scale, what was aimed at and what was reached.
import { CAUTIONS } from '../core/bench/cautions.ts';
import { shortId } from '../core/bench/entry.ts';
import type { Job } from '../core/bench/job.ts';
import { seasonsOf } from '../core/bench/seasons.ts';
import { expectedOf } from '../core/bench/target.ts';
import { withDoubt } from '../core/figures.ts';
import { characters, forPaper } from '../core/safe-text.ts';
import { coverageFactor } from '../core/statistics.ts';
import { type LengthUnit, mm } from '../core/units.ts';
import { drawingsOf } from './drawings.ts';
import { subjectOf } from './outline.ts';
import { passesMarkup, passesTitle } from './passes.ts';
import { clearanceHalf, keyFigures, madeRows, section, setupRows, shapeRows, table } from './rows.ts';
import { seasonDrawing } from './season-band.ts';
import { DRAWING_STYLE, element, endless, HATCHES, inPage, MARK, saying, scaleBar } from './svg.ts';
import {
  cutTo,
  linesTaken,
  NAME,
  PAGE_WIDTH,
  SMALL,
  stateWords,
  USUAL,
  upTo,
  widthOf,
  woodWords,
} from './words.ts';

/** The page's size is the printer's; what is on it fits the width of A4 and the height of Letter, 10 mm inside their edges. */
const STYLE = `@page{margin:10mm}
*{box-sizing:border-box;margin:0;padding:0}
html{background:#fff}
body{font:8pt/1.28 'DejaVu Sans',Verdana,sans-serif;color:#111;width:186mm;max-width:100%;margin:0 auto}
main{display:flex;flex-direction:column;gap:2.4mm;min-height:254mm}
h1{font-size:15pt;line-height:1.15;overflow-wrap:anywhere}h1.long{font-size:10.5pt}
body.long{font-size:7pt}.long main{gap:1.5mm}
h2{font-size:1em;border-bottom:.25mm solid #111;margin-bottom:.7mm}
h3{font-size:1em;font-weight:normal}
header{display:grid;grid-template-columns:1fr auto;column-gap:6mm;align-items:baseline}
header p{overflow-wrap:anywhere}header p:last-child{grid-column:1/-1}header .state{text-align:right;white-space:nowrap}
dl{display:grid;grid-template-columns:repeat(4,1fr);border:.4mm solid #111}
dl div{padding:.7mm 1.6mm;border-left:.15mm solid #111}dl div:first-child{border-left:0}
dt{font-size:7.5pt}dd{font-size:10.5pt;font-weight:bold;line-height:1.3;white-space:nowrap}
dd.under{font-size:7pt;font-weight:normal;white-space:normal;line-height:1.25}
.drawings{display:flex;gap:2mm;align-items:flex-start}.drawings p{flex:1;padding:4mm}
svg{display:block;flex:none}.hatches{position:absolute}
.two{display:grid;grid-template-columns:1fr 1fr;gap:2.6mm 6mm}.two p{grid-column:1/-1}
table{width:100%;border-collapse:collapse}
th{text-align:left;font-weight:normal;width:37mm;padding-right:2mm}td{font-weight:bold;overflow-wrap:anywhere}
th,td{padding:.25mm 0;border-bottom:.1mm solid #bbb;vertical-align:top}
.blank{font-size:7pt;font-weight:normal;color:#666}
.passes{display:grid;grid-template-columns:14mm 1fr;row-gap:1mm}
.passes ol{list-style:none;display:flex;flex-wrap:wrap;gap:.6mm 4mm}
.passes li{white-space:nowrap}
.passes li:not(.gap)::before{content:"";display:inline-block;width:2.6mm;height:2.6mm;border:.2mm solid #111;margin-right:1mm;vertical-align:-.3mm}
ol{padding-left:5mm}.passes ol{padding-left:0}li,p{overflow-wrap:anywhere}
.small{font-size:7pt;color:#333}
.notes{flex:1;min-height:9mm}
.cautions ul{columns:2;column-gap:6mm;padding-left:4mm;font-size:7pt}.cautions li{break-inside:avoid}
footer{display:flex;justify-content:space-between;align-items:center;gap:4mm;font-size:7pt}
@media screen{body{padding:8mm 0}}
${DRAWING_STYLE}`;

/** Lines of small type that name, woods, reasons and notes share beyond the first of name and woods; found by printing the fullest pages. */
const LINES = 8;
/** The latest reasons are shown, at least the last one; the records keep all of them. */
const REASONS = 3;
/** Lines that notes have before reasons take any. */
const NOTES_FIRST = 5;
/** How many small lines a line of the name in large type takes. */
const NAME_LINES = 1.4;

const lines = (words: string): number => linesTaken(words, PAGE_WIDTH, SMALL);
const sumOfLines = (texts: readonly string[]): number => texts.reduce((sum, text) => sum + lines(text), 0);

const leftOut = (count: number, what: string): string =>
  count === 0 ? '' : ` (${count} earlier ${what}${count === 1 ? '' : 's'}: see lidwright jobs show)`;

/** The last texts that fit in a number of lines, in their order. */
function latest(texts: readonly string[], room: number): readonly string[] {
  let taken = 0;
  const over = texts.findLastIndex((words) => {
    taken += lines(words);
    return taken > room;
  });
  return texts.slice(over + 1);
}

/** A reason ends in what it did: a long one loses its middle. */
function reasonWords(reason: string): string {
  const all = [...characters(forPaper(reason))];
  const [head, tail] = [34, 76];
  if (all.length <= head + tail) return all.join('');
  return `${all.slice(0, head).join('')}…${all.slice(-tail).join('')}`;
}

/** Lines that are left once name, woods and shape have theirs, with the gap over the last. */
function roomOf(job: Job): number {
  const name = (linesTaken(upTo(job.name), PAGE_WIDTH, NAME.small) - 1) * NAME_LINES;
  const shape = shapeWords(job, job.setup.unit);
  return LINES - name - (lines(woodWords(job.setup)) - 1) - (shape === '' ? 0 : lines(shape) + 1);
}

/** The latest reasons that fit, at least one, and the lines that are left for notes once reasons have theirs. */
function reasonsAndRoom(job: Job): { readonly reasons: readonly string[]; readonly room: number } {
  const { learned } = job.setup;
  const room = roomOf(job);
  const all = (learned?.reasons ?? []).slice(-REASONS).map(reasonWords);
  const fitting = latest(all, room - 1 - Math.min(sumOfLines(job.notes), NOTES_FIRST));
  const reasons = fitting.length > 0 ? fitting : all.slice(-1);
  return { reasons, room: room - (learned ? 1 : 0) - sumOfLines(reasons) };
}

/** What earlier trials moved, and why; empty where nothing was learned. */
function learnedSection({ setup: { learned } }: Job, reasons: readonly string[], unit: LengthUnit): string {
  if (!learned) return '';
  const half = mm(coverageFactor(0.95, Number.POSITIVE_INFINITY) * learned.spread);
  const moved = `Expected clearance less the computed one: ${withDoubt(learned.shift, half, unit)}.`;
  const over = learned.reasons.length - reasons.length;
  const because = reasons.length === 0 ? '' : element('ol', { start: over + 1 }, listed(reasons));
  return section(`Learned from earlier trials${leftOut(over, 'reason')}`, saying('p', moved) + because);
}

/** The latest notes that fit; of one that is too long for itself, its beginning. */
function notesSection({ notes }: Job, room: number): string {
  const whole = latest(notes, room);
  const last = notes.at(-1);
  const cut = whole.length === 0 && last !== undefined;
  const shown = cut ? [cutTo(forPaper(last), 0.9 * PAGE_WIDTH * Math.floor(room), SMALL)] : whole;
  const content = shown.map((note) => saying('p', note, { dir: 'auto' })).join('');
  const rest = cut ? ' (cut: see lidwright jobs show)' : leftOut(notes.length - whole.length, 'note');
  return section(`Notes${rest}`, content || saying('p', 'none yet', { class: 'blank' }), 'notes');
}

/** Of a name in the title of a window. */
const TITLE = 56;

const div = (name: string, content: string): string => element('div', { class: name }, content);

function header(job: Job): string {
  const name = upTo(job.name);
  const long = widthOf(name, NAME.large) > 0.85 * PAGE_WIDTH;
  const heading = saying('h1', name, { dir: 'auto', ...(long ? { class: 'long' } : {}) });
  const state = saying('p', stateWords(job), { class: 'state' });
  return element('header', {}, heading + state + saying('p', woodWords(job.setup)));
}

function drawings(job: Job, unit: LengthUnit): string {
  const found = drawingsOf(job, unit);
  const notDrawn = found.missing.map(({ what, why }) => saying('p', `No ${what}: ${why}.`));
  return div('drawings', found.drawings.map(inPage).join('') + notDrawn.join(''));
}

function seasonsIn(job: Job): ReturnType<typeof seasonsOf> {
  const { setup, bore, spigot } = job;
  const expected = bore && spigot ? expectedOf(job, spigot) : null;
  if (!bore || expected?.kind !== 'expected') return null;
  return seasonsOf(setup, bore.diameter, expected.clearance, setup.bounds.runningFrom);
}

/** The band of the pair as it is, or as it is aimed at; none for a lid that is meant to hold. */
function seasonSection(job: Job, whole: Job, unit: LengthUnit): string {
  const seasons = whole.setup.wanted < 0 ? null : seasonsIn(whole);
  if (!seasons) return '';
  const as = job.spigot ? '' : ', if turned to its target';
  const band = seasonDrawing(seasons, clearanceHalf(whole) ?? mm(0), unit);
  return section(`Room humidity in which the lid runs at 20 °C${as}`, inPage(band));
}

const listed = (texts: readonly string[]): string => texts.map((words) => saying('li', words)).join('');

/** What is out of true is one text under both tables: it is long for the column of a table. */
function shapeWords(job: Job, unit: LengthUnit): string {
  const said = shapeRows(job, unit).map(([what, figure]) => `${what}: ${figure}`);
  return said.length === 0
    ? ''
    : `${said.join('. ')}.`.replace(/(^|\. )[a-z]/g, (first) => first.toUpperCase());
}

function tables(job: Job, unit: LengthUnit): string {
  const shape = shapeWords(job, unit);
  const under = shape === '' ? '' : saying('p', shape, { class: 'small' });
  return div('two', table('Set-up', setupRows(job, unit)) + table('As made', madeRows(job, unit)) + under);
}

function footer(job: Job, unit: LengthUnit, made: string): string {
  const words = `lidwright job sheet of ${made}, job ${shortId(job.id)}; printed at 100 %, this bar is true`;
  return element('footer', {}, saying('p', words) + inPage(scaleBar(unit)));
}

function body(job: Job, unit: LengthUnit, made: string): string {
  const subject = subjectOf(job);
  const whole = typeof subject === 'string' ? job : subject.job;
  const passes = passesMarkup(whole, unit);
  const { reasons, room } = reasonsAndRoom(job);
  return [
    header(job),
    keyFigures(job, whole, unit),
    drawings(job, unit),
    tables(job, unit),
    section(passesTitle(job.setup, unit), passes),
    seasonSection(job, whole, unit),
    learnedSection(job, reasons, unit),
    notesSection(job, room),
    section('Cautions', element('ul', {}, listed(Object.values(CAUTIONS))), 'cautions'),
    footer(job, unit, made),
  ].join('\n');
}

/** A job with much text gets smaller type. */
function isLong(job: Job): boolean {
  const texts = [woodWords(job.setup), ...job.notes, ...(job.setup.learned?.reasons ?? [])];
  return texts.reduce((sum, text) => sum + linesTaken(text, PAGE_WIDTH, USUAL), 0) > 3;
}

/** The whole page. `made` is the day it was made on, for people. Every text from a person is escaped. */
export function sheetPage(job: Job, unit: LengthUnit, made: string): string {
  const head =
    endless('meta', { charset: 'utf-8' }) +
    endless('meta', { name: 'viewport', content: 'width=device-width' }) +
    endless('meta', { name: 'generator', content: MARK }) +
    saying('title', `${upTo(job.name, TITLE)}: job sheet`) +
    element('style', {}, STYLE);
  const defs = element('svg', { class: 'hatches', width: 0, height: 0, 'aria-hidden': 'true' }, HATCHES);
  const content = element(
    'body',
    isLong(job) ? { class: 'long' } : {},
    `${defs}\n${element('main', {}, body(job, unit, made))}`,
  );
  return `<!DOCTYPE html>\n<html lang="en">${element('head', {}, head)}\n${content}</html>\n`;
}
