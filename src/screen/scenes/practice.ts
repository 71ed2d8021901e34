// Practice in rocking: the jaws live, then what was measured beside what it really is, and what to do better.
import {
  missOf,
  type PracticeAdvice,
  practiceAdvice,
  realSize,
  type Score,
  scoreOf,
} from '../../core/bench/practice.ts';
import type { Bench, Practice, PracticeResult } from '../../core/bench/state.ts';
import { figure, lengthFigure, spanFigure } from '../../core/figures.ts';
import { verdictOf } from '../../core/measure/verdict.ts';
import { mm } from '../../core/units.ts';
import { noJawsKeys, practiceKeys } from '../keymap.ts';
import { MARKS, type Panel } from '../scene.ts';
import { peaksThatAgree, rockingSaying, tracePanel } from './bore-size.ts';
import {
  bigLength,
  bigRead,
  isReceiving,
  liveRead,
  notRead,
  type OwnScene,
  type StageScene,
  staleSaying,
  standingLine,
  whyNothing,
} from './scene-parts.ts';

/** The verdict on a measurement, and how to do better. */
const ADVICE: { readonly [advice in PracticeAdvice]: readonly [verdict: string, better: string] } = {
  'reads-small': ['TOO SMALL', 'Swing farther, past the widest place on both sides.'],
  'reads-large': ['TOO LARGE', 'Hold the caliper square to the ring, and check its zero.'],
  hasty: ['CLOSE', 'Rock more slowly, one jaw held still, so that the peaks lie closer.'],
  'few-strokes': ['CLOSE', 'Keep rocking a little after STEADY: more strokes give a tighter figure.'],
  good: ['GOOD', 'Well rocked.'],
};

const SCORED: { readonly [word in Score['word']]: string } = {
  sure: 'good enough for any lid',
  runs: 'a lid from any of these would still run',
  spoils: 'the worst of these would spoil the fit',
};

export function practiceScene(bench: Bench, practice: Practice): OwnScene {
  const result = bench.capture ? undefined : practice.results.at(-1);
  const isVirtual = bench.teaching !== null;
  const title = 'practice';
  return result
    ? { title, keys: practiceKeys(isVirtual, 'go on'), ...told(bench, practice, result) }
    : {
        title,
        keys: isReceiving(bench) ? practiceKeys(isVirtual, 'done') : noJawsKeys,
        panel: tracePanel(bench),
        ...measuring(bench, practice),
      };
}

function told({ unit, teaching }: Bench, { results }: Practice, result: PracticeResult): StageScene {
  const advice = practiceAdvice(result);
  const [verdict, better] = ADVICE[advice];
  const isGood = advice !== 'reads-small' && advice !== 'reads-large';
  const again = teaching
    ? 'Press Enter for another ring.'
    : "Press Enter to measure it again, or type another ring's size.";
  return {
    big: bigLength(mm(Math.abs(missOf(result))), unit, 'the miss', isGood ? 'good' : 'past'),
    standing: standingLine(
      isGood ? MARKS.full : MARKS.alert,
      verdict,
      `measured ${figure(result.measured, unit)}, truly ${lengthFigure(result.real, unit)}`,
      isGood ? 'good' : 'past',
    ),
    facts: [
      { name: 'strokes', value: String(result.strokes) },
      { name: 'peaks within', value: spanFigure(result.spread, unit) },
    ],
    panel: scoreTable(results, unit),
    next: `${better} ${again}`,
  };
}

/** The score once there is one, then every measurement, the newest first. */
function scoreTable(results: readonly PracticeResult[], unit: Bench['unit']): Panel {
  const score = scoreOf(results);
  const scored = score
    ? `mean miss ${lengthFigure(score.mean, unit)}, worst ${lengthFigure(score.worst, unit)}: ${SCORED[score.word]}`
    : 'comes after three measurements';
  const rows = results.map((result, at) => ({
    name: `ring ${at + 1}`,
    value: `measured ${figure(result.measured, unit)}, truly ${lengthFigure(result.real, unit)}, miss ${lengthFigure(missOf(result), unit)}`,
  }));
  return {
    kind: 'table',
    rows: [{ name: 'score', value: scored, strong: score !== null }, ...rows.toReversed()],
  };
}

function measuring(bench: Bench, practice: Practice): StageScene {
  const { capture, unit } = bench;
  const last = liveRead(bench);
  const big = bigRead(bench, last, 'jaws now');
  if (!isReceiving(bench))
    return {
      big,
      standing: notRead(whyNothing(bench)),
      next: 'Plug the board in to measure a ring of your own, or press v to rock virtual jaws.',
    };
  if (realSize(bench, practice) === null)
    return {
      big,
      standing: standingLine(MARKS.open, 'WHICH RING?', 'you are scored against its true size', 'quiet'),
      next: "Check the caliper's zero. Type the size marked on a ring you trust, then press Enter.",
    };
  const stale = staleSaying(bench, last, '');
  if (stale) return { big, ...stale };
  const verdict = capture ? verdictOf(capture) : ({ state: 'waiting' } as const);
  if (verdict.state !== 'steady') {
    const how = howTo(bench);
    return { big, ...rockingSaying(verdict, unit, { ready: how, going: how }) };
  }
  return {
    big: bigLength(verdict.diameter, unit, 'the ring, as you rocked it', 'at'),
    standing: standingLine(MARKS.full, 'STEADY', peaksThatAgree(verdict, unit), 'at'),
    next: 'Press Enter to see what it really is. Keep rocking for a tighter figure.',
  };
}

const howTo = ({ teaching }: Bench): string =>
  teaching
    ? 'Rock with the left and right arrow keys: slowly past the widest place and back, until STEADY.'
    : 'Hold one jaw still and rock the other back and forth past the widest place, until STEADY.';
