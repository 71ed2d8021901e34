// Prints what learning is worth to simulated turners: the chance of running at the first trial before and after their first boxes.
import { school } from '../../support/school.ts';

const TURNERS = 200;
const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;
const points = (share: number): string => `${share < 0 ? '' : '+'}${(100 * share).toFixed(1)}`;

console.log(
  'wanted | standard uncertainty | hidden bias | without learning | after 1, 3, 5 boxes (points, each +/- 1 s)',
);
for (const wanted of [0.15, 0.19])
  for (const standard of [0.05, 0.08, 0.12])
    for (const bias of [0, 0.1, -0.1]) {
      const turner = { wanted, standard, bias };
      const after = [1, 3, 5].map((boxes) => school(turner, boxes, TURNERS, 21));
      const gains = after.map(({ gain, doubt }) => `${points(gain)} (${(100 * doubt).toFixed(1)})`);
      console.log(
        `${wanted} mm | ${standard} mm | ${bias} mm | ${percent(after[0]?.before ?? 0)} | ${gains.join(', ')}`,
      );
    }
