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
  type Question,
  questionIn,
} from '../../core/bench/calibration/model.ts';
import { CAUTIONS } from '../../core/bench/cautions.ts';
import type { Bench } from '../../core/bench/state.ts';
import { counted, fineFigure, fineWithDoubt, lengthFigure, percent } from '../../core/figures.ts';
import { type Calibration, calibrationRefusalText } from '../../core/thread/calibrate.ts';
import { type Length, mm } from '../../core/units.ts';
import { calibrateKeys, namingKeys } from '../key-table.ts';
import { type Big, type Figure, MARKS, type Scene, type Standing } from '../scene.ts';
import { safe } from '../text.ts';
import { LACKS } from '../words.ts';
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
    facts: factsOf(bench, answers),
    panel: null,
    next: naming
      ? 'Give it a name and press Enter. A name that is already in your kit updates that feed.'
      : nextOf(bench, answers),
    caution: answers.way === 'pair' ? CAUTIONS.byHand : null,
    keys: naming ? namingKeys : calibrateKeys(question === 'mark' ? 'gauge at zero' : 'keep', 'keep it'),
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
            value: 'feed some detents against a dial gauge or feeler and type the travel',
            strong: way === 'travel',
          },
          { name: '2 pair', value: lack ? `${LACKS[lack]}` : pair, strong: way === 'pair' },
          { name: '3 known', value: 'type how far one detent moves the cutter', strong: way === 'known' },
        ],
      },
    },
    next: 'How will you find what one detent feeds? Press 1, 2 or 3, then Enter to begin.',
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
      label: 'fed since the gauge was zeroed',
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
  if (found === null) return standingLine(MARKS.open, 'NOT KNOWN YET', 'answer the question below', 'quiet');
  if (found.kind !== 'calibration')
    return standingLine(MARKS.cross, 'NOT POSSIBLE', calibrationRefusalText(found), 'bad');
  const about = doubtWords(bench, found);
  if (answers.way === 'pair') return standingLine(MARKS.full, 'WORKED OUT', about, 'at');
  if (answers.way === 'known') return standingLine(MARKS.half, 'AS GIVEN', about, 'near');
  const { length } = answers.travels;
  return length === 1
    ? standingLine(MARKS.half, 'ONE TRAVEL', about, 'near')
    : standingLine(MARKS.full, `${length} TRAVELS`, about, 'at');
}

function doubtWords({ unit }: Bench, { perDetent, doubt }: Calibration): string {
  const { half } = fineWithDoubt(perDetent, mm(doubt.expanded95), unit);
  return `± ${half} ${unit} at 95 %`;
}

function factsOf(bench: Bench, answers: Answers): readonly Figure[] {
  if (answers.way === 'known') return [];
  const given = answers.way === 'travel' ? travelFacts(bench, answers) : pairFacts(bench, answers);
  const most = made(bench, answers)?.doubt.shares[0];
  return most
    ? [{ name: 'biggest unknown', value: `${most.name}, ${percent(most.share)}` }, ...given]
    : given;
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
    return "These figures don't fit together. Press b to go back or a to start over.";
  const offered = isOffered(question) ? fineFigure(offeredFor(question, bench.job), bench.unit) : '';
  const travels = answers.way === 'travel' ? answers.travels.length : 0;
  return asking(question, { offered, counts: bench.feed !== null, travels });
}

/** What to do for each question; `offered` is what Enter alone gives, `counts` that a board counts the feed. */
function asking(
  question: Question,
  {
    offered,
    counts,
    travels,
  }: { readonly offered: string; readonly counts: boolean; readonly travels: number },
): string {
  switch (question) {
    case 'gauge within':
      return `How accurate is the gauge (plus or minus)? Type it, or press Enter for ${offered}.`;
    case 'detents':
      return counts
        ? 'Stop the lathe. Turn the feed deeper until the gauge moves, zero the gauge and press Enter. The board counts from there.'
        : 'Stop the lathe and set a gauge on the slide. How many detents will you feed each time? Type it.';
    case 'mark':
      return 'To measure again, back off well past zero, come deeper until the gauge moves, zero it and press Enter. Or press n to keep it.';
    case 'travel':
      return travels === 0
        ? counts
          ? 'Feed some detents deeper, then read the gauge and type the travel.'
          : 'Take up the slack and zero the gauge. Feed that many detents deeper, then type the travel.'
        : travels === 1
          ? "One measurement isn't enough. Repeat from zero and type that travel, or press n to keep it."
          : 'Measure once more from zero and type that travel, or press n to keep it.';
    case 'bore detents':
      return 'How many detents deep was the bore cut, from touch-off? Type it.';
    case 'spigot detents':
      return 'How many detents deep was the spigot cut, from touch-off? Type it.';
    case 'play':
      return 'Close the lid and back it off a little: how far does it shake along its axis? Type it.';
    case 'play within':
      return `How accurate is that (plus or minus)? Type it, or press Enter for ${offered}.`;
    case 'touch-off within':
      return `How accurate was each touch-off (plus or minus)? Type it, or press Enter for ${offered}.`;
    case 'per detent':
      return 'How far does one detent move the cutter into the wood? Type it and press Enter.';
    case 'nothing':
      return 'Press Enter to keep it, b to change an answer.';
    default:
      return question satisfies never;
  }
}
