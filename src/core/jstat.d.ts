// The parts of jstat that statistics.ts uses; the package ships no types.
declare module 'jstat' {
  interface Library {
    readonly studentt: { inv(probability: number, degreesOfFreedom: number): number };
    readonly normal: {
      cdf(value: number, mean: number, deviation: number): number;
      inv(probability: number, mean: number, deviation: number): number;
    };
    mean(values: readonly number[]): number;
    median(values: readonly number[]): number;
    stdev(values: readonly number[], ofSample: true): number;
  }
  const jStat: Library;
  // biome-ignore lint/style/noDefaultExport: it is how the package exports itself
  export default jStat;
}
