// The job sheet: one printed page as HTML, with the drawings to scale, what was aimed at and what was reached.

import { CAUTIONS } from '../core/bench/cautions.ts';
import { shortId } from '../core/bench/entry.ts';
import type { Job } from '../core/bench/job.ts';
import { seasonsOf } from '../core/bench/seasons.ts';
import { type LengthUnit, mm } from '../core/units.ts';
import { clearanceHalf } from './doubts.ts';
import { drawingsOf } from './drawings.ts';
import { keyFigures } from './key-figures.ts';
import { learnedSection, notesSection } from './lists.ts';
import { element, endless, saying } from './markup.ts';
import { passesMarkup, passesTitle } from './passes.ts';
import { madeRows, setupRows } from './rows.ts';
import { scaleBar } from './scale.ts';
import { seasonDrawing } from './season-band.ts';
import { STYLE } from './style.ts';
import { subjectOf } from './subject.ts';
import { HATCHES, inPage, MARK } from './svg.ts';
import { section, table } from './table.ts';
import { linesOf, NAME, PAGE_WIDTH, USUAL, widthOf } from './type.ts';
import { stateWords, upTo, woodWords } from './words.ts';

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

/** The band of the pair as it is, or as it is aimed at; none for a lid that is meant to hold. */
function seasonSection(job: Job, whole: Job, unit: LengthUnit): string {
  const seasons = whole.setup.wanted < 0 ? null : seasonsOf(whole);
  if (!seasons) return '';
  const as = job.spigot ? '' : ', turned to its target';
  const band = seasonDrawing(seasons, clearanceHalf(whole)?.half ?? mm(0), unit);
  return section(`Room humidity in which the lid runs${as}, at 20 °C`, inPage(band));
}

const cautions = (): string =>
  element(
    'ul',
    {},
    Object.values(CAUTIONS)
      .map((caution) => saying('li', caution))
      .join(''),
  );

function footer(job: Job, unit: LengthUnit, made: string): string {
  const words = `lidwright job sheet of ${made}, job ${shortId(job.id)}; printed at 100 % this bar is true`;
  return element('footer', {}, saying('p', words) + inPage(scaleBar(unit)));
}

function body(job: Job, unit: LengthUnit, made: string): string {
  const subject = subjectOf(job);
  const whole = 'job' in subject ? subject.job : job;
  const passes = passesMarkup(whole, unit);
  return [
    header(job),
    keyFigures(job, whole, unit),
    drawings(job, unit),
    div('two', table('Set-up', setupRows(job, unit)) + table('As made', madeRows(job, unit))),
    section(passesTitle(job.setup, unit), passes),
    seasonSection(job, whole, unit),
    learnedSection(job, unit),
    notesSection(job),
    section('Cautions', cautions(), 'cautions'),
    footer(job, unit, made),
  ].join('\n');
}

/** Much to say is said in smaller type. */
function isLong(job: Job): boolean {
  const texts = [woodWords(job.setup), ...job.notes, ...(job.setup.learned?.reasons ?? [])];
  return texts.reduce((sum, text) => sum + linesOf(text, PAGE_WIDTH, USUAL), 0) > 3;
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
