/// Balance point of weighted segments.

export interface WeightedPoint {
  readonly mass: number
  readonly at: readonly number[]
}

/// Where a segment's centre lies between its ends.
export const segmentCentre = (from: readonly number[], to: readonly number[], share: number): number[] =>
  from.map((v, i) => v + share * (to[i]! - v))

/// Mean of points weighted by mass, in any number of dimensions; null for no mass at all.
export function massCentre(points: readonly WeightedPoint[]): number[] | null {
  const mass = points.reduce((s, p) => s + p.mass, 0)
  if (!(mass > 0)) return null
  return points[0]!.at.map((_, i) => points.reduce((s, p) => s + p.mass * p.at[i]!, 0) / mass)
}
