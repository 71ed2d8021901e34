// Calibrating the feed: the two ways to choose from, the question on the screen, and what a detent feeds with its doubt.
import { type Calibrating, calibrationOf, missingFor } from '../../core/bench/calibration/model.ts';
import {
  type Asking,
  answersShown,
  markIn,
  questionIn,
  rowOf,
  travelsIn,
} from '../../core/bench/calibration/questions.ts';
import { CAUTIONS } from '../../core/bench/cautions.ts';
import type { Bench } from '../../core/bench/state.ts';
import { fineWithDoubt, lengthFigure, percent } from '../../core/figures.ts';
import { type Calibration, calibrationRefusalText } from '../../core/thread/calibrate.ts';
import { mm } from '../../core/units.ts';
import { calibrateKeys, namingKeys } from '../keymap.ts';
import { type Big, type Figure, MARKS, type Standing } from '../scene.ts';
import { safe } from '../text.ts';
import { LACKS } from '../words.ts';
import { type OwnScene, standingLine } from './scene-parts.ts';

export function calibrateScene({ job, unit, feed }: Bench, { step, name, answers }: Calibrating): OwnScene {
  const on = { answers, job, unit, feed };
  if (step === 'way') return wayScene(on);
  const naming = step === 'naming';
  return {
    title: 'calibrate the feed',
    big: bigOf(on, feed?.total),
    standing: standingOf(on),
    facts: factsOf(on),
    next: naming
      ? 'Give it a name and press Enter. A name that is already in your kit updates that feed.'
      : nextOf(on),
    ...(answers.way === 'pair' && { caution: CAUTIONS.byHand }),
    keys: naming
      ? namingKeys
      : calibrateKeys(questionIn(on) === 'mark' ? 'gauge at zero' : 'keep', 'keep it'),
    ...(naming && { typing: { asks: 'name', text: safe(name, 40) } }),
  };
}

function wayScene({ job, answers: { way } }: Asking): OwnScene {
  const lack = missingFor(job);
  const pair = 'the pair on the bench: its bore, spigot, detents and shake';
  return {
    title: 'calibrate the feed',
    panel: {
      kind: 'table',
      rows: [
        {
          name: '1 gauge',
          value: 'feed some detents against a dial gauge or feeler and type the travel',
          strong: way === 'travel',
        },
        { name: '2 pair', value: lack ? LACKS[lack] : pair, strong: way === 'pair' },
        { name: '3 known', value: 'type how far one detent moves the cutter', strong: way === 'known' },
      ],
    },
    next: 'How will you find what one detent feeds? Press 1, 2 or 3, then Enter to begin.',
    keys: calibrateKeys('begin', 'begin', 'other way'),
  };
}

const made = (on: Asking): Calibration | null => {
  const found = calibrationOf(on);
  return found?.kind === 'calibration' ? found : null;
};

/** While a board counts, its count; else what a detent feeds. */
function bigOf(on: Asking, total: number | undefined): Big {
  const mark = markIn(on.answers);
  if (mark !== null) {
    const detents = (total ?? mark) - mark;
    return {
      text: String(detents),
      unit: Math.abs(detents) === 1 ? 'detent' : 'detents',
      label: 'fed since the gauge was zeroed',
      style: detents > 0 ? 'value' : 'quiet',
    };
  }
  const { unit } = on;
  const found = made(on);
  if (!found) return { text: '-.---', unit, label: 'one detent feeds', style: 'quiet' };
  const { value } = fineWithDoubt(found.perDetent, mm(found.doubt.expanded95), unit);
  return { text: value, unit, label: 'one detent feeds, radially', style: 'at' };
}

function standingOf(on: Asking): Standing {
  const found = calibrationOf(on);
  if (found === null) return standingLine(MARKS.open, 'NOT KNOWN YET', 'answer the question below', 'quiet');
  if (found.kind !== 'calibration')
    return standingLine(MARKS.cross, 'NOT POSSIBLE', calibrationRefusalText(found), 'bad');
  const { half } = fineWithDoubt(found.perDetent, mm(found.doubt.expanded95), on.unit);
  const about = `± ${half} ${on.unit} at 95 %`;
  const { way } = on.answers;
  if (way === 'pair') return standingLine(MARKS.full, 'WORKED OUT', about, 'at');
  if (way === 'known') return standingLine(MARKS.half, 'AS GIVEN', about, 'near');
  const { length } = travelsIn(on.answers);
  return length === 1
    ? standingLine(MARKS.half, 'ONE TRAVEL', about, 'near')
    : standingLine(MARKS.full, `${length} TRAVELS`, about, 'at');
}

function factsOf(on: Asking): readonly Figure[] {
  const { answers, job, unit } = on;
  if (answers.way === 'known') return [];
  const most = made(on)?.doubt.shares[0];
  const parts =
    answers.way === 'pair'
      ? ([
          ['bore', job?.bore],
          ['spigot', job?.spigot],
        ] as const)
      : [];
  return [
    ...(most ? [{ name: 'biggest unknown', value: `${most.name}, ${percent(most.share)}` }] : []),
    ...parts.flatMap(([name, part]) => (part ? [{ name, value: lengthFigure(part.diameter, unit) }] : [])),
    ...answersShown(on),
  ];
}

function nextOf(on: Asking): string {
  const row = rowOf(on);
  if (row) return row.asks(on);
  return made(on) === null
    ? "These figures don't fit together. Press b to go back or a to start over."
    : 'Press Enter to keep it, b to change an answer.';
}
