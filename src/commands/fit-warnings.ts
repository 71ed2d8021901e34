// What a turner should know of a pair beside its figures: each warning says what is so and what to do about it.

import { lengthFigure } from '../core/figures.ts';
import { mostOfBore } from '../core/thread/milling.ts';
import type { Part } from '../core/thread/pair.ts';
import { type LengthUnit, mm } from '../core/units.ts';
import type { ThreadAnswer } from './fit-answer.ts';
import type { ThreadAsked } from './fit-asked.ts';

type Figures = Omit<ThreadAnswer, 'warnings'>;

const shownIn =
  (unit: LengthUnit) =>
  (length: number): string =>
    lengthFigure(mm(length), unit);

const PARTS: Readonly<Record<Part, string>> = { female: 'bore', male: 'spigot' };

/** Less of the basic height than this holds little; our own figure. */
const SHALLOW = 0.5;

export const threadWarnings = (asked: ThreadAsked, answer: Figures): readonly string[] => [
  ...corners(asked, answer),
  ...crests(asked, answer),
  ...engagement(answer),
  ...cutter(asked),
  ...detents(asked),
  ...chance(answer),
];

function corners({ unit }: ThreadAsked, { limits, fit }: Figures): readonly string[] {
  const shown = shownIn(unit);
  if (limits.corner >= limits.limit) return [];
  const spoilt = Math.max(fit.allowance - limits.corner, 0);
  const now = spoilt > 0 ? `here they would bind by ${shown(spoilt)}` : 'this spigot stays clear of it';
  return [
    `The crests are narrow for the cutter's nose: square as turned, their corners meet the round root at ${shown(limits.corner)} over the bore, before the limit of ${shown(limits.limit)}; ${now}. Break the corners of both crests with abrasive.`,
  ];
}

/** The least crest of the basic profile is P/8 wide (ISO 68-1 clause 5). */
const crests = (asked: ThreadAsked, { limits }: Figures): readonly string[] =>
  (['female', 'male'] as const)
    .filter((part) => limits.crest[part] < asked.pitch.length / 8)
    .map(
      (part) =>
        `The crest left on the ${PARTS[part]} is ${shownIn(asked.unit)(limits.crest[part])} wide, under an eighth of the pitch: it may crumble. Cut less deep, or harden it.`,
    );

function engagement({ fit, band }: Figures): readonly string[] {
  if (fit.engagement <= 0)
    return ['This spigot is no larger than the bore: the threads do not reach each other.'];
  const shallow = `The threads engage ${Math.round(fit.engagement * 100)} % of the basic height only: the lid may jump. Cut deeper.`;
  const cutOff = 'The loosest spigot that runs would no longer engage: the band ends at the bore.';
  return [...(fit.engagement < SHALLOW ? [shallow] : []), ...(band.endsAtBore ? [cutOff] : [])];
}

function cutter({ cutter: diameter, bore, unit }: ThreadAsked): readonly string[] {
  const shown = shownIn(unit);
  if (!diameter || diameter <= mostOfBore * bore) return [];
  const take = `take one up to ${shown(mostOfBore * bore)}`;
  if (diameter >= bore) return [`A cutter of ${shown(diameter)} does not enter this bore: ${take}.`];
  return [`A cutter of ${shown(diameter)} is beyond two thirds of the bore and widens the groove: ${take}.`];
}

function detents({ feed, pair, unit }: ThreadAsked): readonly string[] {
  const shown = shownIn(unit);
  if (!feed) return [];
  return (['female', 'male'] as const).flatMap((part) => {
    const count = pair[part].depth / feed;
    if (Math.abs(count - Math.round(count)) < 1e-6) return [];
    const [under, over] = [Math.floor(count), Math.ceil(count)];
    return [
      `The ${PARTS[part]}'s depth of ${shown(pair[part].depth)} is no whole number of detents: ${under} cut ${shown(under * feed)}, ${over} cut ${shown(over * feed)}.`,
    ];
  });
}

function chance({ chances, doubt, fit }: Figures): readonly string[] {
  if (fit.word === 'seized')
    return ['This spigot would seize: take more off it, or cut either thread deeper.'];
  if (chances.running >= 0.5) return [];
  return [
    `It runs at the first trial less often than not; most of the doubt comes from the ${doubt.largest.name}.`,
  ];
}
