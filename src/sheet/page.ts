// The job sheet: one printed page as HTML, with the drawings to scale, what was aimed at and what was reached.

import { CAUTIONS } from '../core/bench/cautions.ts';
import type { Job } from '../core/bench/job.ts';
import { seasonsOf } from '../core/bench/seasons.ts';
import type { LengthUnit } from '../core/units.ts';
import { drawingsOf } from './drawings.ts';
import { keyFigures } from './key-figures.ts';
import { learnedMarkup, notesMarkup, trialsMarkup } from './lists.ts';
import { element, empty, saying } from './markup.ts';
import { passesMarkup } from './passes.ts';
import { madeRows, setupRows } from './rows.ts';
import { scaleBar } from './scale.ts';
import { seasonDrawing } from './season-band.ts';
import { STYLE } from './style.ts';
import { subjectOf } from './subject.ts';
import { HATCHES, inPage } from './svg.ts';
import { section, table } from './table.ts';
import { widthOf } from './type.ts';
import { stateWords, upTo, woodWords } from './words.ts';

/** By this a sheet knows a sheet. */
export const GENERATOR = 'lidwright job sheet';

/** The widest name that stands on one line in large type: 15 pt, in millimetres. */
const [PAGE_WIDTH, NAME_SIZE] = [186, 5.3];

const div = (name: string, content: string): string => element('div', { class: name }, content);

function header(job: Job): string {
  const name = upTo(job.name);
  const long = widthOf(name, NAME_SIZE) > 0.85 * PAGE_WIDTH;
  const heading = saying('h1', name, { dir: 'auto', ...(long ? { class: 'long' } : {}) });
  const state = saying('p', stateWords(job), { class: 'state' });
  return element('header', {}, heading + state + saying('p', woodWords(job.setup)));
}

function drawings(job: Job, unit: LengthUnit): string {
  const found = drawingsOf(job, unit);
  const notDrawn = found.missing.map(({ what, why }) => saying('p', `No ${what}: ${why}.`));
  return div('drawings', found.drawings.map(inPage).join('') + notDrawn.join(''));
}

/** The band of the pair as it is, or as it is aimed at. */
function seasonSection(job: Job, whole: Job, unit: LengthUnit): string {
  const seasons = seasonsOf(whole);
  if (!seasons) return '';
  const as = job.spigot ? '' : ', turned to its target';
  return section(`Room humidity in which the lid runs${as}, at 20 °C`, inPage(seasonDrawing(seasons, unit)));
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
  const words = `lidwright job sheet of ${made}, job ${job.id.slice(0, 8)}; print at full size (100 %), then this bar is to scale`;
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
    section(`Passes: detents from touch-off, depth in ${unit}`, passes),
    seasonSection(job, whole, unit),
    listsOf(job, unit),
    section('Notes', notesMarkup(job), 'notes'),
    section('Cautions', cautions(), 'cautions'),
    footer(job, unit, made),
  ].join('\n');
}

function listsOf(job: Job, unit: LengthUnit): string {
  const lists = section('Trials', trialsMarkup(job)) + section('Learned', learnedMarkup(job, unit));
  return lists === '' ? '' : div('two', lists);
}

/** The whole page. `made` is the day it was made on, for people. Every text from a person is escaped. */
export function sheetPage(job: Job, unit: LengthUnit, made: string): string {
  const head =
    empty('meta', { charset: 'utf-8' }) +
    empty('meta', { name: 'viewport', content: 'width=device-width' }) +
    empty('meta', { name: 'generator', content: GENERATOR }) +
    saying('title', `${upTo(job.name)}: job sheet`) +
    element('style', {}, STYLE);
  const defs = element('svg', { class: 'hatches', width: 0, height: 0, 'aria-hidden': 'true' }, HATCHES);
  const content = element('body', {}, `${defs}\n${element('main', {}, body(job, unit, made))}`);
  return `<!DOCTYPE html>\n<html lang="en">${element('head', {}, head)}\n${content}</html>\n`;
}
