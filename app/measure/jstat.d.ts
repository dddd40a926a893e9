/// The part of jstat 1.9 (MIT) that is used here; the package carries no types.
declare module 'jstat' {
  interface Statistics {
    readonly normal: { cdf(x: number, mean: number, sd: number): number; inv(p: number, mean: number, sd: number): number }
    readonly beta: { inv(p: number, alpha: number, beta: number): number }
    readonly studentt: { inv(p: number, freedom: number): number }
    readonly centralF: {
      inv(p: number, freedomAbove: number, freedomBelow: number): number
      cdf(x: number, freedomAbove: number, freedomBelow: number): number
    }
  }
  const statistics: Statistics
  export default statistics
}
