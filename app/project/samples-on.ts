import type { Sample } from './film'

/// The placings of a landmark on one frame, in their order; empty when there is none. `samples` stand in the order of their
/// frames. Found by halving: a long clip's landmark has tens of thousands, and every step asks.
export function samplesOn(samples: readonly Sample[], frame: number): readonly Sample[] {
  let [low, high] = [0, samples.length]
  while (low < high) {
    const middle = (low + high) >>> 1
    if (samples[middle]!.frame < frame) low = middle + 1
    else high = middle
  }
  let end = low
  while (samples[end]?.frame === frame) end++
  return samples.slice(low, end)
}
