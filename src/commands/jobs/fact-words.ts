// Each kind of fact as a short sentence, in the unit the job is worked in.
import { type Fact, shortId } from '../../core/bench/entry.ts';
import { pitchText } from '../../core/bench/parse-text.ts';
import { counted, fineFigure, lengthFigure } from '../../core/figures.ts';
import { forScreen } from '../../core/safe-text.ts';
import { inDegrees, type Length, type LengthUnit } from '../../core/units.ts';

const PARTS = { female: 'bored part', male: 'spigot' } as const;
const LONG = 400;

/** What a fact says, safe to show. */
export function factWords(fact: Fact, unit: LengthUnit): string {
  const of = (value: Length): string => lengthFigure(value, unit);
  const fine = (value: Length): string => fineFigure(value, unit);
  const orNothing = (value: Length | null): string => (value === null ? 'not known' : fine(value));
  switch (fact.kind) {
    case 'job-begun':
      return `begun: ${forScreen(fact.setup.name)}, ${pitchText(fact.setup.pitch)}, ${forScreen(fact.setup.wood ?? 'wood not said')}`;
    case 'setup-changed':
      return `setup changed: ${forScreen(fact.setup.name)}, ${pitchText(fact.setup.pitch)}`;
    case 'stage-entered':
      return `stage: ${fact.stage}`;
    case 'zero-taken':
      return `zero error ${of(fact.error)}, ${fact.applied ? 'taken off' : 'left as it is'}`;
    case 'ring-taken':
      return `ring of ${of(fact.known)} read ${of(fact.measured)}: jaw land ${of(fact.land)}`;
    case 'hollow-measured':
      return `hollow at the ${fact.where}: ${of(fact.diameter)} (${fact.how})`;
    case 'bore-taken':
      return `bore ${of(fact.diameter)} (${fact.how}), ${fact.agreeing} of ${counted(fact.tops, 'top')} agree, spread ${orNothing(fact.spread)}, standard uncertainty ${orNothing(fact.standard)}`;
    case 'capture-doubted':
      return `capture doubted at ${fact.stage}: ${forScreen(fact.reason, LONG)}`;
    case 'target-set':
      return `target ${of(fact.target)}, runs from ${of(fact.low)} to ${of(fact.high)}, limit ${fine(fact.limit)}`;
    case 'spigot-taken':
      return `spigot ${of(fact.diameter)} (${fact.how}): ${fact.fit}, clearance ${of(fact.clearance)}`;
    case 'touched-off':
      return `touched off on the ${PARTS[fact.part]} at count ${fact.mark.total}`;
    case 'feed-counted':
      return `feed on the ${PARTS[fact.part]} at count ${fact.mark.total}`;
    case 'depth-voided':
      return `depth on the ${PARTS[fact.part]} void: ${fact.why}`;
    case 'thread-cut':
      return `thread cut on the ${PARTS[fact.part]}: depth ${fine(fact.depth)}${fact.detents === null ? '' : `, ${counted(fact.detents, 'detent')}`}${fact.proven ? '' : ', not proven'}`;
    case 'hardened':
      return `${PARTS[fact.part]} hardened`;
    case 'trial-made':
      return `trial: ${fact.verdict}; computed clearance ${orNothing(fact.clearance)}`;
    case 'crests-relieved':
      return `crests relieved on the ${PARTS[fact.part]}`;
    case 'grain-seen':
      return `grain ${inDegrees(fact.angle).toFixed(0)} degrees to go: ${fine(fact.trim)} off the shoulder of the ${fact.part}`;
    case 'note-added':
      return `note: ${forScreen(fact.text, LONG)}`;
    case 'job-renamed':
      return `renamed: ${forScreen(fact.name)}`;
    case 'job-closed':
      return `closed: ${fact.how === 'runs' ? 'it runs' : fact.how === 'untried' ? 'never tried' : 'given up'}`;
    case 'job-reopened':
      return 'opened again';
    case 'job-removed':
      return 'removed';
    case 'job-restored':
      return 'restored';
    case 'undone':
      return `undone: ${shortId(fact.entry)}`;
    default:
      return fact satisfies never;
  }
}
