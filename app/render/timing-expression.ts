/// How a span of footage is put on its output frames inside ffmpeg: for each decoded frame, the
/// output frame at which it first stands, as an expression in N (decoded frames so far). The
/// programme's own list is the only truth; the expression is checked against it before it is used.

export interface FirstShown {
  /// First footage frame that is needed, and how many from there on.
  readonly from: number
  readonly count: number
  /// For each of them the first output frame that shows it or a later one. A frame that is skipped
  /// shares its number with the next.
  readonly first: Int32Array
}

/// Throws RangeError when the list runs backwards.
export function firstShown(frames: ArrayLike<number>): FirstShown {
  const from = frames[0] as number
  const last = frames[frames.length - 1] as number
  const first = new Int32Array(last - from + 1)
  let next = 0
  for (let n = 0; n < frames.length; n++) {
    const offset = (frames[n] as number) - from
    if (offset < next - 1) throw new RangeError('footage frames run backwards')
    while (next <= offset) first[next++] = n
  }
  return { from, count: first.length, first }
}

interface Leaf {
  readonly from: number
  readonly value: number
  readonly step: number
}

/// Runs of equal steps: leaf k covers N from its `from` up to the next leaf's.
function leavesOf(first: ArrayLike<number>): Leaf[] {
  const leaves: Leaf[] = []
  let i = 0
  while (i < first.length) {
    const step = i + 1 < first.length ? (first[i + 1] as number) - (first[i] as number) : 0
    let end = i + 1
    while (end < first.length && (first[end] as number) - (first[end - 1] as number) === step) end++
    leaves.push({ from: i, value: first[i] as number, step })
    i = end
  }
  return leaves
}

function leafText({ from, value, step }: Leaf, variable: string): string {
  const offset = value - step * from
  if (step === 0) return String(value)
  const slope = step === 1 ? variable : `${step}*${variable}`
  return offset === 0 ? slope : `${slope}${offset < 0 ? '' : '+'}${offset}`
}

function treeText(leaves: readonly Leaf[], variable: string): string {
  if (leaves.length === 1) return leafText(leaves[0] as Leaf, variable)
  const middle = leaves.length >> 1
  return `if(lt(${variable},${(leaves[middle] as Leaf).from}),${treeText(leaves.slice(0, middle), variable)},${treeText(leaves.slice(middle), variable)})`
}

/// The shortest repeat of the steps, up to `most` frames long; null when they never repeat.
function periodOf(first: ArrayLike<number>, most: number): number | null {
  const step = (i: number): number => (first[i + 1] as number) - (first[i] as number)
  const steps = first.length - 1
  search: for (let period = 1; period <= Math.min(most, Math.floor(steps / 2)); period++) {
    for (let i = period; i < steps; i++) if (step(i) !== step(i - period)) continue search
    return period
  }
  return null
}

/// The expression, with commas plain (to stand inside quotes in a filter graph).
export function timingExpression(first: ArrayLike<number>): string {
  const leaves = leavesOf(first)
  if (leaves.length <= 3) return treeText(leaves, 'N')
  const period = periodOf(first, 512)
  if (period !== null) {
    const rise = (first[period] as number) - (first[0] as number)
    const table = leavesOf(Array.from({ length: period }, (_, i) => first[i] as number))
    return `${rise}*floor(N/${period})+st(0,mod(N,${period}))*0+${treeText(table, 'ld(0)')}`
  }
  return treeText(leaves, 'N')
}
