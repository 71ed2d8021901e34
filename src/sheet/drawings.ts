// Which drawings a job has, and why it has no others; all of them as a file of their own.
import type { Job } from '../core/bench/job.ts';
import type { LengthUnit } from '../core/units.ts';
import { jointDrawing } from './joint.ts';
import { profileDrawing } from './profile.ts';
import { type Subject, shapeOf, subjectOf } from './shape.ts';
import { type Drawing, svgFile } from './svg.ts';
import { upTo } from './words.ts';

/** What could not be drawn, and why. */
interface Missing {
  readonly what: string;
  readonly why: string;
}

export interface Drawings {
  readonly drawings: readonly Drawing[];
  readonly missing: readonly Missing[];
}

function jointOf(subject: Subject, unit: LengthUnit): Drawing | { readonly why: string } {
  const shape = shapeOf(subject, unit);
  return shape.kind === 'shape' ? jointDrawing(subject, shape, unit) : shape;
}

/** Section and profile of the job as far as it has come. */
export function drawingsOf(job: Job, unit: LengthUnit): Drawings {
  const subject = subjectOf(job);
  if ('why' in subject) return { drawings: [], missing: [{ what: 'drawing', why: subject.why }] };
  const made = [
    { what: 'section of the joint', drawing: jointOf(subject, unit) },
    { what: 'thread profile', drawing: profileDrawing(subject, unit) },
  ];
  return {
    drawings: made.flatMap(({ drawing }) => (drawing && 'content' in drawing ? [drawing] : [])),
    missing: made.flatMap(({ what, drawing }) =>
      drawing && 'why' in drawing ? [{ what, why: drawing.why }] : [],
    ),
  };
}

/** The drawings alone, one under the other, as one SVG; null where there is nothing to draw yet. */
export function sheetDrawing(job: Job, unit: LengthUnit): string | null {
  const { drawings } = drawingsOf(job, unit);
  return drawings.length === 0 ? null : svgFile(drawings, upTo(job.name));
}
