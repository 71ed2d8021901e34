// Calibrating the feed: the two ways to choose from, the question that is asked, and what a detent comes to with its doubt.
import {
  type Answers,
  type ByPair,
  type ByTravel,
  type Calibrating,
  calibrationOf,
  isOffered,
  missingFor,
  offeredFor,
  questionIn,
} from '../../core/bench/calibration/model.ts';
import { CAUTIONS } from '../../core/bench/cautions.ts';
import type { Bench } from '../../core/bench/state.ts';
import { counted, fineFigure, fineWithDoubt, lengthFigure, percent } from '../../core/figures.ts';
import { type Calibration, calibrationRefusalText } from '../../core/thread/calibrate.ts';
import { type Length, mm } from '../../core/units.ts';
import { asking, LACKS } from '../calibration-words.ts';
import { calibrateKeys, namingKeys } from '../key-hints.ts';
import { type Big, type Figure, MARKS, type Scene, type Standing } from '../scene.ts';
import { safe } from '../text.ts';
import { standingLine } from './scene-parts.ts';

export function calibrateScene(bench: Bench, calibrating: Calibrating): Scene {
  if (calibrating.step === 'way') return wayScene(bench, calibrating.answers);
  const naming = calibrating.step === 'naming';
  const { answers } = calibrating;
  const question = questionIn(answers);
  return {
    title: 'calibrate the feed',
    big: bigOf(bench, answers),
    standing: standingOf(bench, answers),
    facts: answers.way === 'travel' ? travelFacts(bench, answers) : pairFacts(bench, answers),
    panel: null,
    next: naming
      ? 'Under which name? Enter keeps it; a name of your kit is brought up to date.'
      : nextOf(bench, answers),
    caution: answers.way === 'travel' ? null : CAUTIONS.byHand,
    keys: naming ? namingKeys : calibrateKeys(question === 'mark' ? 'gauge at zero' : 'take', 'keep it'),
    typing: naming ? { asks: 'name', text: safe(calibrating.name, 40) } : null,
  };
}

function wayScene({ job }: Bench, { way }: Answers): Scene {
  const lack = missingFor(job);
  const pair = 'the pair on the bench: its bore, spigot, detents and shake';
  return {
    title: 'calibrate the feed',
    big: null,
    standing: null,
    facts: [],
    panel: {
      kind: 'table',
      table: {
        rows: [
          {
            name: '1 gauge',
            value: 'feed some detents against a dial gauge or feeler, type the travel',
            strong: way === 'travel',
          },
          { name: '2 pair', value: lack ? `${LACKS[lack]}` : pair, strong: way === 'pair' },
        ],
      },
    },
    next: 'What is one detent worth? Type 1 or 2, or a for the other; Enter begins.',
    caution: null,
    keys: calibrateKeys('begin', 'begin', 'other way'),
    typing: null,
  };
}

const made = (bench: Bench, answers: Answers): Calibration | null => {
  const found = calibrationOf(answers, bench.job);
  return found?.kind === 'calibration' ? found : null;
};

/** While a board counts, its count; else what a detent comes to. */
function bigOf(bench: Bench, answers: Answers): Big {
  if (answers.way === 'travel' && answers.mark !== null) {
    const detents = (bench.feed?.total ?? answers.mark) - answers.mark;
    return {
      text: String(detents),
      unit: Math.abs(detents) === 1 ? 'detent' : 'detents',
      label: 'fed since the gauge stood at zero',
      style: detents > 0 ? 'value' : 'quiet',
    };
  }
  const { unit } = bench;
  const found = made(bench, answers);
  if (!found) return { text: '-.---', unit, label: 'one detent feeds', style: 'quiet' };
  const { value } = fineWithDoubt(found.perDetent, mm(found.doubt.expanded95), unit);
  return { text: value, unit, label: 'one detent feeds, radially', style: 'at' };
}

function standingOf(bench: Bench, answers: Answers): Standing {
  const found = calibrationOf(answers, bench.job);
  if (found === null) return standingLine(MARKS.open, 'NOT KNOWN YET', 'answer what is asked below', 'quiet');
  if (found.kind !== 'calibration')
    return standingLine(MARKS.cross, 'DOES NOT ADD UP', calibrationRefusalText(found), 'bad');
  const about = doubtWords(bench, found);
  if (answers.way === 'pair') return standingLine(MARKS.full, 'RECKONED', about, 'at');
  const { length } = answers.travels;
  return length === 1
    ? standingLine(MARKS.half, 'ONE TRAVEL', about, 'near')
    : standingLine(MARKS.full, `${length} TRAVELS`, about, 'at');
}

/** The interval, and what most of it comes from. */
function doubtWords({ unit }: Bench, { perDetent, doubt }: Calibration): string {
  const { half } = fineWithDoubt(perDetent, mm(doubt.expanded95), unit);
  const [most] = doubt.shares;
  return `± ${half} ${unit} at 95 %${most ? `, ${percent(most.share)} of it ${most.name}` : ''}`;
}

function travelFacts({ unit }: Bench, { gaugeWithin, detents, travels }: ByTravel): readonly Figure[] {
  return [
    ...(gaugeWithin === null ? [] : [within('gauge', gaugeWithin, unit)]),
    ...(detents === null ? [] : [{ name: 'over', value: counted(detents, 'detent') }]),
    ...(travels.length === 0
      ? []
      : [
          {
            name: 'travels',
            value: travels
              .slice(-4)
              .map((travel) => fineFigure(travel, unit))
              .join(', '),
          },
        ]),
  ];
}

const within = (name: string, length: Length, unit: Bench['unit']): Figure => ({
  name,
  value: `± ${fineFigure(length, unit)}`,
});

function pairFacts({ job, unit }: Bench, of: ByPair): readonly Figure[] {
  const { female, male } = of.detents;
  const known = (name: string, length: Length | undefined): readonly Figure[] =>
    length === undefined ? [] : [{ name, value: lengthFigure(length, unit) }];
  return [
    ...known('bore', job?.bore?.diameter),
    ...known('spigot', job?.spigot?.diameter),
    ...(female === null ? [] : [{ name: 'bore cut', value: counted(female, 'detent') }]),
    ...(male === null ? [] : [{ name: 'spigot cut', value: counted(male, 'detent') }]),
    ...known('shake', of.play ?? undefined),
    ...(of.playWithin === null ? [] : [within('known', of.playWithin, unit)]),
    ...(of.touchOffWithin === null ? [] : [within('touch-off', of.touchOffWithin, unit)]),
  ];
}

function nextOf(bench: Bench, answers: Answers): string {
  const question = questionIn(answers);
  if (question === 'nothing' && made(bench, answers) === null)
    return 'These figures do not go together: b takes an answer back, a begins anew.';
  const offered = isOffered(question) ? fineFigure(offeredFor(question, bench.job), bench.unit) : '';
  const travels = answers.way === 'travel' ? answers.travels.length : 0;
  return asking(question, { offered, counts: bench.feed !== null, travels });
}
