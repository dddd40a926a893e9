/// Seeded random numbers for the simulations: the same run every time.
export interface Random {
  /// Uniform in [0, 1).
  uniform(): number
  /// Standard normal.
  normal(): number
}

/// mulberry32 (public domain) for the uniform numbers, Box and Muller's transform for the normal.
export function seeded(seed: number): Random {
  let state = seed >>> 0
  const uniform = (): number => {
    state = (state + 0x6d2b79f5) >>> 0
    let t = state
    t = Math.imul(t ^ (t >>> 15), t | 1)
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61)
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296
  }
  return { uniform, normal: () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform()) }
}
