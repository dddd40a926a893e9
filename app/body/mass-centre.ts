/// Balance point of weighted segments.

export interface WeightedPoint {
  readonly mass: number
  readonly at: readonly number[]
}

/// What each end of a segment bears of its mass, where its centre lies at `share` of the way from the first end to the second.
export const endShares = (share: number): readonly [from: number, to: number] => [1 - share, share]

/// Mean of points weighted by mass, in any number of dimensions; null for no mass at all.
export function massCentre(points: readonly WeightedPoint[]): number[] | null {
  const mass = points.reduce((s, p) => s + p.mass, 0)
  if (!(mass > 0)) return null
  return points[0]!.at.map((_, i) => points.reduce((s, p) => s + p.mass * p.at[i]!, 0) / mass)
}
