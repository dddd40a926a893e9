/// A sentence as numbers: which columns are set, and to what.
export interface Row {
  readonly columns: readonly number[]
  readonly values: readonly number[]
}

/// Multinomial logistic regression with an L2 penalty, by L-BFGS (Nocedal 1980, Math Comp 35:773–782;
/// two-loop recursion from memory) from zero: the same rows give the same weights. `answers` are class
/// numbers below `classes`; `cost` is what a row's loss weighs against half the squared weights.
/// Weights stand by column, then class.
export function fitClasses(
  rows: readonly Row[],
  answers: readonly number[],
  columns: number,
  classes: number,
  cost: number,
  rounds = 60,
): Float64Array {
  const size = columns * classes
  const ends = rows.map(() => 0)
  let end = 0
  rows.forEach((row, at) => (ends[at] = end += row.columns.length))
  const column = Int32Array.from(rows.flatMap((row) => row.columns))
  const value = Float64Array.from(rows.flatMap((row) => row.values))
  const scores = new Float64Array(classes)
  const loss = (weights: Float64Array, slope: Float64Array): number => {
    let total = 0
    for (let i = 0; i < size; i++) {
      const weight = weights[i] as number
      slope[i] = weight
      total += (weight * weight) / 2
    }
    for (let at = 0, k = 0; at < rows.length; at++) {
      const start = k
      const stop = ends[at] as number
      scores.fill(0)
      for (; k < stop; k++)
        for (let one = 0, place = (column[k] as number) * classes; one < classes; one++)
          scores[one] = (scores[one] as number) + (value[k] as number) * (weights[place + one] as number)
      const shares = sharesOf(scores)
      const answer = answers[at] as number
      total -= cost * Math.log(Math.max(shares[answer] as number, 1e-300))
      shares[answer] = (shares[answer] as number) - 1
      for (k = start; k < stop; k++)
        for (let one = 0, place = (column[k] as number) * classes; one < classes; one++)
          slope[place + one] = (slope[place + one] as number) + cost * (value[k] as number) * (shares[one] as number)
    }
    return total
  }
  return descend(loss, size, rounds)
}

export function scoresOf(row: Row, weights: ArrayLike<number>, classes: number): Float64Array {
  const scores = new Float64Array(classes)
  row.columns.forEach((column, k) => {
    const value = row.values[k] ?? 0
    for (let one = 0; one < classes; one++) scores[one] = (scores[one] ?? 0) + value * (weights[column * classes + one] ?? 0)
  })
  return scores
}

export function sharesOf(scores: Float64Array): Float64Array {
  const most = Math.max(...scores)
  const grown = scores.map((score) => Math.exp(score - most))
  const sum = grown.reduce((a, b) => a + b, 0)
  return grown.map((share) => share / sum)
}

const dot = (a: Float64Array, b: Float64Array): number => {
  let sum = 0
  for (let i = 0; i < a.length; i++) sum += (a[i] ?? 0) * (b[i] ?? 0)
  return sum
}

function descend(loss: (at: Float64Array, slope: Float64Array) => number, size: number, rounds: number): Float64Array {
  const kept: { readonly step: Float64Array; readonly turn: Float64Array; readonly scale: number }[] = []
  let at = new Float64Array(size)
  let slope = new Float64Array(size)
  let value = loss(at, slope)
  for (let round = 0; round < rounds; round++) {
    const way = slope.slice()
    const factors = [...kept].reverse().map(({ step, turn, scale }) => {
      const factor = scale * dot(step, way)
      for (let i = 0; i < size; i++) way[i] = (way[i] ?? 0) - factor * (turn[i] ?? 0)
      return factor
    })
    const last = kept.at(-1)
    const first = last ? 1 / (last.scale * dot(last.turn, last.turn)) : 1 / Math.sqrt(dot(slope, slope))
    for (let i = 0; i < size; i++) way[i] = (way[i] ?? 0) * first
    kept.forEach(({ step, turn, scale }, k) => {
      const factor = (factors[kept.length - 1 - k] ?? 0) - scale * dot(turn, way)
      for (let i = 0; i < size; i++) way[i] = (way[i] ?? 0) + factor * (step[i] ?? 0)
    })
    const fall = dot(slope, way)
    let stride = 1
    let next = at
    let nextSlope = new Float64Array(size)
    let nextValue = Infinity
    for (; stride > 1e-8; stride /= 2) {
      next = at.map((each, i) => each - stride * (way[i] ?? 0))
      nextValue = loss(next, nextSlope)
      if (nextValue <= value - 1e-4 * stride * fall) break
    }
    if (!(nextValue < value)) break
    const before = slope
    const step = next.map((each, i) => each - (at[i] ?? 0))
    const turn = nextSlope.map((each, i) => each - (before[i] ?? 0))
    const curve = dot(step, turn)
    if (curve > 1e-12) kept.push({ step, turn, scale: 1 / curve })
    if (kept.length > 7) kept.shift()
    const done = value - nextValue < 1e-6 * value
    at = next
    slope = nextSlope
    nextSlope = new Float64Array(size)
    value = nextValue
    if (done) break
  }
  return at
}
