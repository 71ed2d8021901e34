// What `lidwright kit calibrate` is asked, for each of its two ways.
import { countOf, lengthAboveZero, lengthFromZero } from '../../kit/quantities.ts';
import { neededOption, option } from '../options.ts';
import { PITCH, STARTS } from '../thread-options.ts';

const detentCount = countOf('count', 1, 100_000);
const about = "detents fed for each travel, or to the depth of the bore's thread";

export const BY_TRAVEL = {
  detents: neededOption(detentCount, about, 'the detents fed for each travel, such as 20'),
  gaugeWithin: option(lengthFromZero, 'accuracy of the gauge, plus or minus (0.01mm)'),
};

export const BY_PAIR = {
  detents: neededOption(detentCount, about, 'how many deep the bore was cut, such as 14'),
  ...PITCH,
  ...STARTS,
  bore: neededOption(
    lengthAboveZero,
    'bore of a pair that runs, over the crests, after its thread was cut',
    'the bore over the crests, such as 42.10mm',
  ),
  spigot: neededOption(
    lengthAboveZero,
    'spigot of that pair, before its thread was cut',
    'the spigot before its thread, such as 43.50mm',
  ),
  spigotDetents: option(detentCount, "detents fed for the depth of the spigot's thread (same as the bore)"),
  play: neededOption(
    lengthFromZero,
    'how far the closed lid moves along its axis',
    'how far the closed lid moves along its axis, such as 0.1mm',
  ),
  playWithin: option(lengthFromZero, 'accuracy of the play, plus or minus (0.05mm)'),
  touchOffWithin: option(lengthFromZero, 'accuracy of each touch-off, plus or minus (0.05mm)'),
};
