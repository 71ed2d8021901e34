// A piece of equipment in words and as JSON.

import type { Cutter } from '../../core/bench/setup.ts';
import { pathForScreen } from '../../core/safe-text.ts';
import type { Tip } from '../../core/thread/form.ts';
import { inDegrees } from '../../core/units.ts';
import type { Caliper } from '../../kit/caliper.ts';
import type { Feed } from '../../kit/feed.ts';
import type { Item } from '../../kit/folder.ts';
import { KINDS } from '../../kit/item-file.ts';
import type { AnyItem, KitRead } from '../../kit/kit.ts';

const JSON_VERSION = 1;

export const isInUse = (read: KitRead, item: AnyItem): boolean =>
  [read.calipers[0], read.cutters[0], read.feeds[0]].includes(item);

const factsLine = (item: AnyItem): string =>
  Object.entries(item.texts)
    .map(([key, text]) => `${key.replaceAll('-', ' ')} ${text}`)
    .join(', ');

/** One line: `cutter "vee 60", in use: angle 60deg, tip sharp`. */
export function itemLine(read: KitRead, item: AnyItem): string {
  const use = isInUse(read, item) ? ', in use' : '';
  const plain = item.file === null ? ', until you add one' : '';
  return `${item.kind} "${item.facts.name}"${use}${plain}: ${factsLine(item)}`;
}

/** Every fact on its own line with what it is, and the file that says so. */
export function itemLines(read: KitRead, item: AnyItem): readonly string[] {
  const facts = Object.entries(KINDS[item.kind].facts).map(
    ([key, { about }]) => `  ${key.padEnd(20)} ${(item.texts[key] ?? '-').padEnd(14)} ${about}`,
  );
  const where = item.file === null ? 'no file: taken until you add one' : pathForScreen(item.file);
  return [
    `${item.kind} "${item.facts.name}"${isInUse(read, item) ? ', in use' : ''}`,
    ...facts,
    `  ${where}`,
  ];
}

function tipJson(tip: Tip): Readonly<Record<string, unknown>> {
  switch (tip.kind) {
    case 'sharp':
      return { kind: 'sharp' };
    case 'flat':
      return { kind: 'flat', widthMm: tip.width };
    case 'radius':
      return { kind: 'radius', radiusMm: tip.radius };
    default:
      return tip satisfies never;
  }
}

const caliperJson = ({ facts }: Item<Caliper>) => ({
  stepMm: facts.step,
  limitOfErrorMm: facts.limitOfError,
  jawLandMm: facts.jawLand ?? null,
  unit: facts.unit,
});

const cutterJson = ({ facts }: Item<Cutter>) => ({
  angleDeg: Number(inDegrees(facts.angle).toFixed(9)),
  tip: tipJson(facts.tip),
  diameterMm: facts.diameter ?? null,
  topSpeed: facts.topSpeed ?? null,
});

const feedJson = ({ facts }: Item<Feed>) => ({
  perDetentMm: facts.perDetent,
  perDetentStandardMm: facts.perDetentStandard,
  lostDetents: facts.lostDetents,
  deeper: facts.deeper,
  proven: facts.proven.map(({ detents, pitch }) => ({ detents, pitchMm: pitch.length })),
});

const factsJson = (read: KitRead, item: AnyItem): Readonly<Record<string, unknown>> => {
  const [caliper, cutter, feed] = [
    read.calipers.find((each) => each === item),
    read.cutters.find((each) => each === item),
    read.feeds.find((each) => each === item),
  ];
  if (caliper) return caliperJson(caliper);
  if (cutter) return cutterJson(cutter);
  return feed ? feedJson(feed) : {};
};

/** One object a line, lengths in millimetres; `file` is null for what is there until one is added. */
export const itemJson = (read: KitRead, item: AnyItem): string =>
  JSON.stringify({
    kind: item.kind,
    v: JSON_VERSION,
    name: item.facts.name,
    inUse: isInUse(read, item),
    file: item.file,
    ...factsJson(read, item),
  });
