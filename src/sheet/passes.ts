// The passes of both threads as boxes to tick beside the lathe: roughed, hardened where the wood asks, finished by the last detent.
import type { Job } from '../core/bench/job.ts';
import type { Part, Setup } from '../core/bench/setup.ts';
import { pairOf } from '../core/bench/threads.ts';
import { asKnown, figure, lengthFigure, UNIT_WORDS } from '../core/figures.ts';
import { FLAT_BY_EYE } from '../core/thread/depth.ts';
import { limitsOf, partsThatAdd } from '../core/thread/fit.ts';
import { crestLeft } from '../core/thread/form.ts';
import { PARTS, partWord } from '../core/thread/pair.ts';
import { type Pass, type Passes, passesRefusalText, planPasses } from '../core/thread/passes.ts';
import { type LengthUnit, mm } from '../core/units.ts';
import { element, saying } from './svg.ts';

/** Up to this many roughing passes are shown one by one; of more, the first and the last ones. */
const SHOWN = 8;
const [FIRST, LAST] = [5, 2];

function planned(setup: Setup, part: Part): ReturnType<typeof planPasses> | null {
  const { feed, pitch, starts, cutter, hardens } = setup;
  if (!feed) return null;
  return planPasses({
    ...{ pitch: pitch.length, starts, angle: cutter.angle, tip: cutter.tip },
    ...{ feedPerDetent: feed.perDetent, profile: setup.depth[part], harden: hardens },
  });
}

const cell = (words: string, { detents, depth }: Pass, unit: LengthUnit): string =>
  element('li', {}, `${words}${saying('b', String(detents))} ${figure(depth, unit)}`);

function cells(passes: Passes, unit: LengthUnit): string {
  const { rough, hardenAt, finish } = passes;
  const many = rough.length > SHOWN;
  const shown = many ? [...rough.slice(0, FIRST), null, ...rough.slice(-LAST)] : rough;
  const roughed = shown.map((pass) =>
    pass === null ? saying('li', 'and so on', { class: 'gap' }) : cell('', pass, unit),
  );
  const hardened = hardenAt === null ? '' : saying('li', 'harden');
  return roughed.join('') + hardened + cell('finish ', finish, unit);
}

function byHandWords({ depth, pitch, cutter }: Setup, part: Part, unit: LengthUnit): string {
  const flat = mm(Math.max(0, crestLeft(pitch.length, depth[part], cutter.tip, cutter.angle)));
  return `${lengthFigure(depth[part], unit)} deep: chase until a flat of ${asKnown(flat, FLAT_BY_EYE, unit)} is left on the crest`;
}

function row(setup: Setup, part: Part, unit: LengthUnit): string {
  const passes = planned(setup, part);
  const label = saying('h3', partWord(part));
  if (setup.byHand) return label + saying('p', byHandWords(setup, part, unit));
  if (passes === null)
    return (
      label + saying('p', `${lengthFigure(setup.depth[part], unit)} from touch-off; the feed isn't counted`)
    );
  if (passes.kind !== 'passes') return label + saying('p', `no passes: ${passesRefusalText(passes)}`);
  return label + element('ol', {}, cells(passes, unit));
}

/** What another detent on a part adds: twice its depth (derived), or nothing where the other root limits (see partsThatAdd). */
function moreWords(job: Job, unit: LengthUnit): string {
  const { feed } = job.setup;
  const pair = job.bore && pairOf(job, job.bore.diameter);
  const limits = pair && limitsOf(pair);
  if (!feed || !pair || limits?.kind !== 'limits') return '';
  const parts = partsThatAdd(pair, limits);
  const where =
    parts.length === 1
      ? `the ${partWord(parts[0] ?? 'male')}`
      : parts.length === 2
        ? 'either part'
        : 'both parts';
  const more = lengthFigure(mm(2 * feed.perDetent), unit);
  return saying('p', `One more detent on ${where} adds ${more} of clearance.`, { class: 'small' });
}

export const passesTitle = ({ feed }: Setup, unit: LengthUnit): string =>
  feed ? `Passes: detents from touch-off, depth in ${UNIT_WORDS[unit]}` : 'Passes';

/** The section's content: a row for each part; empty for a plain lid. */
export function passesMarkup(job: Job, unit: LengthUnit): string {
  const { setup } = job;
  if (setup.fit === 'plain') return '';
  const rows = PARTS.map((part) => row(setup, part, unit));
  return element('div', { class: 'passes' }, rows.join('')) + moreWords(job, unit);
}
