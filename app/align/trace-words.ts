import { sentenceRanges } from './word-grammar'
import type { SpokenToken } from './spoken-tokens'

/// A word as heard in a take, and the word of the script that it is.
export interface HeardWord {
  readonly token: number
  readonly from: number
  readonly to: number
}

export interface Traced {
  /// In the order in which they were said; a word that was said twice is there twice.
  readonly said: readonly HeardWord[]
  /// Words of the script that were not heard.
  readonly leftOut: readonly number[]
  /// Words of the script that were said again, half-open, and when the first copy and the second begin.
  readonly repeated: readonly { readonly from: number; readonly to: number; readonly first: number; readonly again: number }[]
  /// Whether what was heard can be told by leaving out and saying again at all.
  readonly follows: boolean
}

const SKIP = 1
const AGAIN = 2

/// Follows what was heard through the script: which words were left out, which sentences said again. The
/// cheapest way is taken (dynamic programming over heard words and places in the script).
export function traceWords(
  tokens: readonly SpokenToken[],
  heard: readonly { readonly word: string; readonly from: number; readonly to: number }[],
): Traced {
  const n = tokens.length
  const back = new Map(sentenceRanges(tokens).map(({ from, to }) => [to, from]))
  /// Least cost of standing at each place after the words so far, and how it was reached.
  type Step = { readonly cost: number; readonly token: number; readonly before: Step | null }
  const open = (here: (Step | undefined)[]): void => {
    for (let pass = 0; pass < 2; pass++) {
      for (let s = 0; s <= n; s++) {
        const at = here[s]
        if (!at) continue
        const offer = (to: number, cost: number): void => {
          const there = here[to]
          if (!there || there.cost > at.cost + cost) here[to] = { ...at, cost: at.cost + cost }
        }
        if (s < n) offer(s + 1, SKIP)
        const start = back.get(s)
        if (start !== undefined) offer(start, AGAIN)
      }
    }
  }
  let here: (Step | undefined)[] = []
  here[0] = { cost: 0, token: -1, before: null }
  open(here)
  for (const { word } of heard) {
    const next: (Step | undefined)[] = []
    for (let s = 0; s < n; s++) {
      const at = here[s]
      if (at && tokens[s]?.word === word && (!next[s + 1] || (next[s + 1] as Step).cost > at.cost))
        next[s + 1] = { cost: at.cost, token: s, before: at }
    }
    open(next)
    here = next
  }
  const end = here[n]
  if (!end) return { said: [], leftOut: [], repeated: [], follows: false }
  const order: number[] = []
  for (let step: Step | null = end; step && step.token >= 0; step = step.before) order.unshift(step.token)
  return summed(tokens, heard, order)
}

function summed(
  tokens: readonly SpokenToken[],
  heard: readonly { readonly from: number; readonly to: number }[],
  order: readonly number[],
): Traced {
  const said = order.map((token, i) => ({ token, from: heard[i]?.from ?? 0, to: heard[i]?.to ?? 0 }))
  const there = new Set(order)
  const leftOut = tokens.flatMap((_, i) => (there.has(i) ? [] : [i]))
  const repeated: { from: number; to: number; first: number; again: number }[] = []
  for (let i = 1; i < said.length; i++) {
    const [before, here] = [said[i - 1] as HeardWord, said[i] as HeardWord]
    if (here.token > before.token) continue
    const first = said.findIndex((word) => word.token >= here.token)
    repeated.push({ from: here.token, to: before.token + 1, first: said[first]?.from ?? 0, again: here.from })
  }
  return { said, leftOut, repeated, follows: true }
}
