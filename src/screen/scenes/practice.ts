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
import { MARKS, type Panel, type Scene } from '../scene.ts';
import { peaksThatAgree, rockingSaying, tracePanel } from './bore-size.ts';
import {
  bigLength,
  bigRead,
  isReceiving,
  liveRead,
  notRead,
  type Saying,
  staleSaying,
  standingLine,
  whyNothing,
} from './scene-parts.ts';

const BETTER: { readonly [advice in PracticeAdvice]: string } = {
  'reads-small': 'Swing farther, past the widest place on both sides.',
  'reads-large': 'Hold the caliper square to the ring, and check its zero.',
  hasty: 'Rock more slowly, one jaw held still, so that the peaks lie closer.',
  'few-strokes': 'Keep rocking a little after STEADY: more strokes give a tighter figure.',
  good: 'Well rocked.',
};

const VERDICT: { readonly [advice in PracticeAdvice]: string } = {
  'reads-small': 'TOO SMALL',
  'reads-large': 'TOO LARGE',
  hasty: 'CLOSE',
  'few-strokes': 'CLOSE',
  good: 'GOOD',
};

const SCORED: { readonly [word in Score['word']]: string } = {
  sure: 'good enough for any lid',
  runs: 'a lid from any of these would still run',
  spoils: 'the worst of these would spoil the fit',
};

export function practiceScene(bench: Bench, practice: Practice): Scene {
  const result = bench.capture ? undefined : practice.results.at(-1);
  const isVirtual = bench.teaching !== null;
  const common = { title: 'practice', caution: null, typing: null };
  return result
    ? { ...common, keys: practiceKeys(isVirtual, 'go on'), ...told(bench, practice, result) }
    : {
        ...common,
        facts: [],
        keys: isReceiving(bench) ? practiceKeys(isVirtual, 'done') : noJawsKeys,
        panel: tracePanel(bench),
        ...measuring(bench, practice),
      };
}

function told(
  { unit, teaching }: Bench,
  { results }: Practice,
  result: PracticeResult,
): Saying & Pick<Scene, 'big' | 'facts' | 'panel'> {
  const advice = practiceAdvice(result);
  const isGood = advice !== 'reads-small' && advice !== 'reads-large';
  const again = teaching
    ? 'Press Enter for another ring.'
    : "Press Enter to measure it again, or type another ring's size.";
  return {
    big: bigLength(mm(Math.abs(missOf(result))), unit, 'the miss', isGood ? 'good' : 'past'),
    standing: standingLine(
      isGood ? MARKS.full : MARKS.alert,
      VERDICT[advice],
      `measured ${figure(result.measured, unit)}, truly ${lengthFigure(result.real, unit)}`,
      isGood ? 'good' : 'past',
    ),
    facts: [
      { name: 'strokes', value: String(result.strokes) },
      { name: 'peaks within', value: spanFigure(result.spread, unit) },
    ],
    panel: scoreTable(results, unit),
    next: `${BETTER[advice]} ${again}`,
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

function measuring(bench: Bench, practice: Practice): Saying & Pick<Scene, 'big'> {
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
