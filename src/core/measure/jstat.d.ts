// The part of jstat that student.ts uses; the package ships no types.
declare module 'jstat' {
  interface Distributions {
    readonly studentt: { inv(probability: number, degreesOfFreedom: number): number };
    readonly normal: {
      cdf(value: number, mean: number, deviation: number): number;
      inv(probability: number, mean: number, deviation: number): number;
    };
  }
  const jStat: Distributions;
  // biome-ignore lint/style/noDefaultExport: it is how the package exports itself
  export default jStat;
}
