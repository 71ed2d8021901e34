// What to do at the lathe at each stage, in a few sentences.
import type { Stage } from '../core/bench/entry.ts';

export const HELP_AT: { readonly [stage in Stage | 'welcome' | 'calibrate']: readonly string[] } = {
  welcome: [
    'A job goes from left to right along the strip; enter, leave and repeat any stage. The shortest way is bore size, spigot, record.',
    'With a board the caliper is read by itself. Without one, type each number and press Enter.',
  ],
  calibrate: [
    'What one detent feeds the cutter, radially. Everything that is counted in detents rests on it.',
    'With a gauge: turn the feed deeper until the gauge moves, set it to zero, feed on, read it. More detents and more travels make it surer.',
    'With a pair that runs: its bore and spigot, how many detents each was cut, and how far the closed lid shakes along its axis say the same.',
  ],
  zero: [
    'Wipe the jaws, close them gently, wait until they are steady, take. What they show is taken off every reading.',
    'For bores under 30 mm, type the size of a ring you trust and rock in it: the flats of the inside jaws are then allowed for.',
  ],
  hollow: [
    'Hollow towards the planned bore. Take one reading at the mouth and one at depth: the difference is the taper.',
    'A bore wider inside gets loose as the lid screws on; one narrower inside binds.',
  ],
  'bore thread': [
    'The female thread first: a spigot is easier to match.',
    'Cutter turning, feed up until it just marks the wood: touch off. Feed by detents, the last of them slowly.',
    'A detent too many loosens the fit by twice its depth.',
  ],
  'bore size': [
    'Hold one inside jaw still and swing the other past the widest place, to and fro, slowly. Each swing has a top; three must agree.',
    'Then tip the caliper along the axis and keep to the smallest of the largest: leaning reads high.',
  ],
  spigot: [
    'Turn the spigot oversize and come down to the target; stop the lathe for every measurement.',
    'Half of what remains comes off each side. Stop at AT SIZE; UNDER still runs; PAST rattles.',
  ],
  'spigot thread': [
    'Relieve the shoulder, set the stop, touch off on the spigot, and feed to the same depth as planned.',
    'The drawing shows both parts closed: the empty gap between them is the clearance.',
  ],
  trial: [
    'Screw the pair together by hand, without force. Say what it did; the advice is worked out from the geometry.',
    'Deepening either thread by a detent buys clearance; sanding crests helps only where crests alone touch.',
  ],
  record: [
    'Close the lid and look at the grain: type how many degrees it has still to turn, and take what is said off the shoulder.',
    'Notes and the job sheet are for the next box of this kind.',
  ],
};
