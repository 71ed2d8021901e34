// What to do at the lathe at each stage, in a few sentences.

import { CAUTIONS } from '../core/bench/cautions.ts';
import type { Stage } from '../core/bench/entry.ts';

type About = Stage | 'welcome' | 'calibrate' | 'practice';

const HELP_AT: { readonly [about in About]: readonly string[] } = {
  welcome: [
    'A job runs left to right along the line of stages. You can enter, leave and repeat any stage. The shortest way is bore size, spigot, record.',
    'With a board, the caliper is read for you. Without one, type each reading and press Enter.',
  ],
  calibrate: [
    'How far one detent feeds the cutter, radially. Every counted depth depends on it.',
    'With a gauge: turn the feed deeper until the gauge moves, zero it, feed on and read it. More detents and more travels give a tighter figure.',
    'With a pair that runs: type its bore and spigot, how many detents deep each was cut, and how far the closed lid shakes along its axis.',
  ],
  practice: [
    'Hold one inside jaw still and rock the other slowly past the widest place and back. The peaks must agree: STEADY. Then press Enter.',
    'You are told what the ring really is and how far you missed it. After three rings you get a score.',
    "If you miss a bore by that much, the lid's clearance is wrong by the same amount.",
  ],
  zero: [
    "Wipe the jaws, close them gently, wait until they're steady and press Enter. What they show is taken off every reading.",
    'For bores under 30 mm, type the size of a ring you trust and rock in it. This corrects for the flats on the inside jaws.',
  ],
  hollow: [
    'Hollow towards the planned bore. Measure once at the mouth and once at depth. The difference is the taper.',
    'If the bore is wider inside, the lid loosens as you screw it on. If it is narrower inside, the lid binds.',
  ],
  'bore thread': [
    'Cut the bore first: a spigot is easier to match.',
    'Feed in until the cutter just marks the wood: touch off. A detent too deep loosens the fit by twice its depth.',
  ],
  'bore size': [
    'Hold one inside jaw still and rock the other slowly back and forth. Each swing has a peak; three peaks must agree.',
    'Then tilt the caliper along the bore and use the smallest peak. A leaning caliper reads high.',
  ],
  spigot: [
    'Turn it down to the target. Stop the lathe to measure.',
    "Half of what's left comes off each side. AT SIZE: stop. UNDER: still runs. PAST: will be loose.",
  ],
  'spigot thread': [
    'Relieve the shoulder, set the stop, touch off, feed to depth.',
    'In the drawing, the gap is the clearance.',
  ],
  trial: [
    'Screw the pair together by hand, without force. Say what it did. The advice comes from the geometry.',
    'Cutting either thread a detent deeper adds clearance. Sanding crests helps only if just the crests touch.',
  ],
  record: [
    'Close the lid and look at the grain. Type how many more degrees it must turn, then trim the shoulder by the amount shown.',
    'Notes and the job sheet help with the next box of this kind.',
  ],
};

/** Where both threads are chased by hand. */
const HELP_BY_HAND: { readonly [about in About]?: readonly string[] } = {
  'bore thread': [
    'A lens shows the flat left on the crest. Type its width: it tells the depth to 0.1 mm.',
    'Harden crumbly wood with glue before the last strokes.',
  ],
  'spigot thread': [
    'Type the flat, or press Enter and let the trial decide.',
    "The same size over the crests says nothing about depth. A smaller one means they're cut.",
  ],
  trial: [
    'Screw the pair together by hand, without force. Say what it did.',
    'Chasing either thread deeper adds twice that depth of clearance. Sanding crests helps only if just the crests touch.',
  ],
};

export const helpAt = (about: About, byHand: boolean): readonly string[] =>
  (byHand && HELP_BY_HAND[about]) || HELP_AT[about];

/** The one line that a stage shows; none where neither hands nor eyes are at risk. */
export const cautionAt: { readonly [stage in Stage]: string | null } = {
  zero: CAUTIONS.stopped,
  hollow: CAUTIONS.stopped,
  'bore thread': CAUTIONS.cutter,
  'bore size': CAUTIONS.stopped,
  spigot: CAUTIONS.stopped,
  'spigot thread': CAUTIONS.cutter,
  trial: CAUTIONS.byHand,
  record: null,
};

/** The cautions that a stage's help repeats, so that nobody has to remember which belongs where. */
export const cautionsFor = (stage: Stage | null, byHand = false): readonly string[] => {
  const atThread = stage?.endsWith('thread') ?? false;
  const here = stage && (atThread && byHand ? CAUTIONS.chasing : cautionAt[stage]);
  const threads = atThread ? [CAUTIONS.glue, CAUTIONS.speed] : [];
  return [...(here ? [here] : [CAUTIONS.stopped]), ...threads, CAUTIONS.manuals];
};
