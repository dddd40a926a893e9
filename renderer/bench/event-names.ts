/// A name over the time strip: the middle of what it names and half its own width, pixels.
export interface StripName {
  readonly mid: number
  readonly half: number
}

/// Where the middles of names stand so that none lies upon another, each as near as can be to what it names (least squares:
/// pool adjacent violators, Ayer et al. 1955), and all between `left` and `right` where there is room. In the names' order,
/// which is that of what they name.
export function spreadNames(names: readonly StripName[], left: number, right: number): number[] {
  // With the room of the names before taken off, none may stand before the one ahead of it.
  const room = names.map((_, i) => names.slice(0, i).reduce((sum, { half }, j) => sum + half + names[j + 1]!.half, 0))
  const pools: { sum: number; count: number }[] = []
  for (const [i, { mid }] of names.entries()) {
    pools.push({ sum: mid - room[i]!, count: 1 })
    for (
      let [last, before] = [pools.at(-1)!, pools.at(-2)];
      before && before.sum / before.count > last.sum / last.count;
      [last, before] = [pools.at(-1)!, pools.at(-2)]
    ) {
      pools.pop()
      before.sum += last.sum
      before.count += last.count
    }
  }
  const apart = pools.flatMap(({ sum, count }) => Array.from({ length: count }, () => sum / count))
  const [first, last] = [names[0], names.at(-1)]
  if (!first || !last) return []
  const [least, most] = [left + first.half, right - last.half - room.at(-1)!]
  return apart.map((at, i) => Math.max(least, Math.min(most, at)) + room[i]!)
}
