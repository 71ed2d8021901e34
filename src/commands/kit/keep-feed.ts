// Keeps what a calibration found as a feed of the kit.
import { pitchText } from '../../core/bench/texts.ts';
import { addedItem, changedItem } from '../../kit/item-file.ts';
import type { FactTexts } from '../../kit/kind.ts';
import { itemsOf } from '../../kit/kit.ts';
import { sameName } from '../../kit/names.ts';
import { shown, shownPath } from '../../kit/trouble.ts';
import type { ExitCode, Output, Typed } from '../command.ts';
import type { Calibrated, Found } from './calibrated.ts';
import { keep, openKit, tellTroubles } from './opening.ts';

const exact = (value: number, figures: number): string => `${Number(value.toPrecision(figures))}mm`;

/** The list of proven detents with this one put in, in place of an older one at the same pitch. */
function provenText(before: string | undefined, { pitch, detents }: NonNullable<Found['proven']>): string {
  const others = (before ?? '')
    .split(',')
    .map((each) => each.trim())
    .filter((each) => each !== '');
  const at = ` at ${pitchText(pitch)}`;
  return [...others.filter((each) => !each.endsWith(at)), `${detents}${at}`].join(', ');
}

/** Keeps the answer as a feed of the kit: a new one, or the one of that name with its two figures changed. */
export function keepFeed(name: string, of: Calibrated, typed: Typed, output: Output): ExitCode {
  const { home, read } = openKit(typed);
  const there = itemsOf(read).find(({ facts }) => sameName(facts.name, name));
  if (there && there.kind !== 'feed') {
    output.message(`"${there.facts.name}" is a ${there.kind}; give the feed another name. Nothing was kept.`);
    return 2;
  }
  const facts: FactTexts = {
    'per-detent': exact(of.made.perDetent, 9),
    'per-detent-standard': exact(of.made.doubt.standard, 3),
    ...(of.proven ? { proven: provenText(there?.texts.proven, of.proven) } : {}),
  };
  const edited = there ? changedItem(home, there, facts) : addedItem(home, 'feed', name, facts);
  if (!edited.ok) return tellTroubles(edited.troubles, output);
  if (!keep(edited.path, edited.text, output)) return 3;
  output.message(`Kept as feed "${shown(name)}" (${shownPath(edited.path)}).`);
  return 0;
}
