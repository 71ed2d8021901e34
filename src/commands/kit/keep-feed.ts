// Keeps what a calibration found as a feed of the kit.

import { forScreen, pathForScreen } from '../../core/safe-text.ts';
import { mm } from '../../core/units.ts';
import { keptFeed } from '../../kit/kept-feed.ts';
import type { ExitCode, Output, Typed } from '../command.ts';
import type { Calibrated } from './calibrated.ts';
import { keep, openKit, tellTroubles } from './opening.ts';

/** Keeps the answer as a feed of the kit: a new one, or the one of that name with its two figures changed. */
export function keepFeed(name: string, of: Calibrated, typed: Typed, output: Output): ExitCode {
  const { home, read } = openKit(typed);
  const { made, proven } = of;
  const figures = { perDetent: made.perDetent, standard: mm(made.doubt.standard) };
  const edited = keptFeed(home, read, { name, ...figures, ...(proven ? { proven } : {}) });
  if (edited.ok === 'taken') {
    const { kind, facts } = edited.by;
    output.message(`"${facts.name}" is a ${kind}; give the feed another name. Nothing was kept.`);
    return 2;
  }
  if (!edited.ok) return tellTroubles(edited.troubles, output);
  if (!keep(edited.path, edited.text, output)) return 3;
  output.message(`Kept as feed "${forScreen(name)}" (${pathForScreen(edited.path)}).`);
  return 0;
}
