// A quartic by weighted least squares, with a prior for its coefficients.

/** The prior of one coefficient: its mean, and one over its variance (0 for nothing known). */
export interface Prior {
  readonly mean: number;
  readonly weight: number;
}

/** A height at a time, weighed by one over its variance. */
interface Weighed {
  readonly time: number;
  readonly height: number;
  readonly weight: number;
}

/** The posterior of c0 + c1 t + ... + c4 t^4: its mean and covariance at any time. */
export interface Quartic {
  readonly at: (t: number) => number;
  readonly slopeAt: (t: number) => number;
  readonly varianceAt: (t: number) => number;
  readonly covarianceAt: (t: number, other: number) => number;
}

const SIZE = 5;

/**
 * The posterior from weighed heights and from five priors (generalised least squares with a normal prior:
 * C = (X'WX + P)^-1, b = C (X'Wy + P m); textbook). Null when the system cannot be solved.
 */
export function quarticFit(points: readonly Weighed[], priors: readonly Prior[]): Quartic | null {
  const moments = new Array<number>(2 * SIZE - 1).fill(0);
  const right = priors.map(({ mean, weight }) => weight * mean);
  for (const { time, height, weight } of points) {
    let power = weight;
    for (let k = 0; k < moments.length; k++, power *= time) {
      moments[k] = (moments[k] ?? 0) + power;
      if (k < SIZE) right[k] = (right[k] ?? 0) + power * height;
    }
  }
  const normal = priors.map(({ weight }, i) =>
    moments.slice(i, i + SIZE).map((moment, j) => (i === j ? moment + weight : moment)),
  );
  return invert(normal) ? quarticOf(normal, right) : null;
}

function quarticOf(covariance: readonly (readonly number[])[], right: readonly number[]): Quartic {
  const coefficients = covariance.map((row) => row.reduce((sum, one, j) => sum + one * (right[j] ?? 0), 0));
  const slope = coefficients.slice(1).map((coefficient, k) => (k + 1) * coefficient);
  // The variance at a time is a polynomial of the eighth degree in it: the sums of the covariance's skew diagonals.
  const variance = new Array<number>(2 * SIZE - 1).fill(0);
  covariance.forEach((row, i) => {
    row.forEach((one, j) => {
      variance[i + j] = (variance[i + j] ?? 0) + one;
    });
  });
  return {
    at: (t) => polynomial(coefficients, t),
    slopeAt: (t) => polynomial(slope, t),
    varianceAt: (t) => polynomial(variance, t),
    covarianceAt: (t, other) =>
      polynomial(
        covariance.map((row) => polynomial(row, other)),
        t,
      ),
  };
}

function polynomial(coefficients: readonly number[], t: number): number {
  let sum = 0;
  for (let k = coefficients.length - 1; k >= 0; k--) sum = sum * t + (coefficients[k] ?? 0);
  return sum;
}

/** Inverts a symmetric positive definite matrix in place by Gauss and Jordan's elimination; false when it has no inverse. */
function invert(matrix: readonly number[][]): boolean {
  for (const [column, own] of matrix.entries()) {
    const pivot = own[column] ?? 0;
    if (!(pivot > 0) || !Number.isFinite(pivot)) return false;
    own[column] = 1;
    for (let j = 0; j < SIZE; j++) own[j] = (own[j] ?? 0) / pivot;
    for (const row of matrix) {
      if (row === own) continue;
      const factor = row[column] ?? 0;
      row[column] = 0;
      for (let j = 0; j < SIZE; j++) row[j] = (row[j] ?? 0) - factor * (own[j] ?? 0);
    }
  }
  return true;
}
