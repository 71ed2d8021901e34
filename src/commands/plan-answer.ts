// The plan's figures from what was asked: what is not given is suggested, then every part is worked out or refused.
import { type BoxPlan, planBox } from '../core/plan/box.ts';
import { type PlanRefusal, planRefusalText } from '../core/plan/refusal.ts';
import {
  cutterTooLarge,
  overTopSpeed,
  type Rod,
  rodWhirls,
  type SurfaceSpeed,
  surfaceSpeed,
  type TurnsPerMinute,
  type Whirl,
  whirlOf,
} from '../core/plan/speeds.ts';
import { type Suggestion, suggestedPitch, suggestPlan } from '../core/plan/suggestion.ts';
import type { Pitch } from '../core/quantity.ts';
import { type Target, targetSpigot } from '../core/thread/fit.ts';
import { grooveWidth, type Tip, tipLoss } from '../core/thread/form.ts';
import { fitRefusalText } from '../core/thread/pair.ts';
import { type Passes, passesRefusalText, planPasses, wantedDepth } from '../core/thread/passes.ts';
import { type Angle, type Length, type LengthUnit, mm } from '../core/units.ts';

export interface PlanAsked {
  /** What the outside was typed in: answers for people come in it. */
  readonly unit: LengthUnit;
  readonly outside: Length;
  readonly bore: Length | undefined;
  readonly pitch: Pitch | undefined;
  readonly starts: number;
  readonly angle: Angle;
  readonly tip: Tip;
  readonly engaged: Length | undefined;
  readonly turns: number | undefined;
  readonly leastWall: Length | undefined;
  readonly hollow: Length | undefined;
  readonly boreDepth: Length | undefined;
  readonly clearance: Length;
  readonly feed: Length | undefined;
  readonly harden: boolean;
  readonly cutter: Length | undefined;
  readonly speed: TurnsPerMinute | undefined;
  readonly topSpeed: TurnsPerMinute | undefined;
  readonly rod: Rod | undefined;
}

export interface PlanAnswer {
  readonly kind: 'answer';
  /** Everything that was given or suggested. */
  readonly suggestion: Suggestion;
  readonly target: Target;
  readonly box: BoxPlan;
  readonly passes: Passes | undefined;
  readonly edge: SurfaceSpeed | undefined;
  readonly whirl: Whirl | undefined;
  /** What is possible but not wise, in words. */
  readonly warnings: readonly string[];
}

/** The plan is impossible: the reason, with the nearest that is possible, in words. */
export interface Impossible {
  readonly kind: 'impossible';
  readonly why: string;
}

const impossible = (why: string): Impossible => ({ kind: 'impossible', why });
const refused = (why: PlanRefusal, unit: LengthUnit): Impossible => impossible(planRefusalText(why, unit));

const pitchOf = (asked: PlanAsked): Pitch => asked.pitch ?? suggestedPitch(asked.outside, asked.bore);

/** A tip so large that nothing of the profile is left to cut. */
function tipTooLarge(asked: PlanAsked): Impossible | undefined {
  const { angle, tip } = asked;
  const depth = wantedDepth({ pitch: pitchOf(asked).length, angle, tip, profile: 'deepest' });
  const loss = tipLoss(tip, angle);
  return depth > 0
    ? undefined
    : impossible(passesRefusalText({ kind: 'tip-too-large', loss, most: mm(loss + depth) }));
}

function passesFor(asked: PlanAsked): Passes | Impossible | undefined {
  const { feed, starts, angle, tip, harden } = asked;
  if (feed === undefined) return undefined;
  const pitch = pitchOf(asked).length;
  const passes = planPasses({ pitch, starts, angle, tip, harden, feedPerDetent: feed, profile: 'deepest' });
  return passes.kind === 'passes' ? passes : impossible(passesRefusalText(passes));
}

/** Given things stay as given; only what is left open is suggested. */
function suggestionFor(asked: PlanAsked, passes: Passes | undefined): Suggestion | PlanRefusal {
  const { outside, bore, leastWall, starts, angle, tip, turns } = asked;
  const pitch = pitchOf(asked).length;
  const engaged = asked.engaged ?? (turns === undefined ? undefined : mm(turns * starts * pitch));
  return suggestPlan(outside, {
    starts,
    angle,
    tip,
    ...(asked.pitch && { pitch: asked.pitch }),
    ...(leastWall !== undefined && { leastWall }),
    ...(bore !== undefined && { bore }),
    ...(engaged !== undefined && { engaged }),
    ...(passes && { depth: passes.depth }),
  });
}

function speedsOf(asked: PlanAsked, bore: Length): PlanRefusal | undefined {
  const { cutter, speed, topSpeed, rod } = asked;
  if (cutter !== undefined && cutter >= bore) return cutterTooLarge(cutter, bore);
  const over = speed && topSpeed && overTopSpeed(speed, topSpeed);
  if (over) return over;
  const whirls = speed && rod && rodWhirls(rod, speed);
  return whirls && (whirls.kind !== 'rod-whirls' || whirls.asked >= whirls.whirl) ? whirls : undefined;
}

function warningsOf(asked: PlanAsked, bore: Length): readonly string[] {
  const { cutter, speed, topSpeed, rod } = asked;
  const large = cutter === undefined ? undefined : cutterTooLarge(cutter, bore);
  const whirls = rod && speed && rodWhirls(rod, speed);
  return [
    ...[large, whirls].flatMap((why) => (why ? [planRefusalText(why, asked.unit)] : [])),
    ...(speed && !topSpeed
      ? ["the maker's top speed is not known: give --top-speed, and never run above it or the lathe maker's"]
      : []),
  ];
}

function targetFor(suggestion: Suggestion, clearance: Length): Target | Impossible {
  const { pitch, starts, angle, tip, depth, bore } = suggestion;
  const groove = { depth, tip };
  const pair = { pitch: pitch.length, starts, angle, female: groove, male: groove };
  const target = targetSpigot(pair, bore, clearance);
  return target.kind === 'target' ? target : impossible(fitRefusalText(target));
}

function boxFor(asked: PlanAsked, suggestion: Suggestion, spigot: Length): BoxPlan | PlanRefusal {
  const { pitch, starts, angle, tip, depth, leastWall, bore, engaged } = suggestion;
  return planBox({
    outside: asked.outside,
    bore,
    spigot,
    pitch: pitch.length,
    starts,
    depth: { female: depth, male: depth },
    grooveWidth: grooveWidth(depth, tip, angle),
    engaged,
    leastWall,
    ...(asked.hollow !== undefined && { hollow: asked.hollow }),
    ...(asked.boreDepth !== undefined && { boreDepth: asked.boreDepth }),
  });
}

/** The whole plan, or the first thing that makes it impossible. */
export function answerPlan(asked: PlanAsked): PlanAnswer | Impossible {
  const tip = tipTooLarge(asked);
  if (tip) return tip;
  const passes = passesFor(asked);
  if (passes?.kind === 'impossible') return passes;
  const suggestion = suggestionFor(asked, passes);
  if (suggestion.kind !== 'suggestion') return refused(suggestion, asked.unit);
  const target = targetFor(suggestion, asked.clearance);
  if (target.kind !== 'target') return target;
  const box = boxFor(asked, suggestion, target.spigot);
  if (box.kind !== 'box') return refused(box, asked.unit);
  const wrong = speedsOf(asked, suggestion.bore);
  if (wrong) return refused(wrong, asked.unit);
  const whirl = asked.rod && whirlOf(asked.rod);
  if (whirl && whirl.kind !== 'whirl') return refused(whirl, asked.unit);
  const edge = asked.cutter && asked.speed && surfaceSpeed(asked.cutter, asked.speed);
  const warnings = warningsOf(asked, suggestion.bore);
  return { kind: 'answer', suggestion, target, box, passes, edge, whirl, warnings };
}
