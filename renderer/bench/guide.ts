import type { Point } from '../../app/project/fields'
import type { Seen } from '../../app/project/film'

/// A guided placing of points on one frame: round after round, so that each point is placed three times without its
/// earlier places being seen.

export const REPEATS = 3

export interface Turn {
  readonly point: string
  /// Which placing of the point this is, 1 to REPEATS.
  readonly placing: number
}

export interface Guide {
  readonly clip: string
  readonly subject: string
  readonly frame: number
  readonly turns: readonly Turn[]
  readonly at: number
  /// What was placed in this round: shown, while earlier rounds are hidden.
  readonly round: ReadonlyMap<string, Point>
  /// How the point in turn is seen.
  readonly seen: Seen
  /// Whether the point in turn has been placed.
  readonly placed: boolean
}

/// Begins a guide through `points`; `countOf` says how often each was placed on the frame before. Null when all were
/// placed often enough.
export function beginGuide(on: Pick<Guide, 'clip' | 'subject' | 'frame'>, points: readonly string[], countOf: (point: string) => number): Guide | null {
  const turns = Array.from({ length: REPEATS }, (_, i) => points.filter((point) => countOf(point) <= i).map((point) => ({ point, placing: i + 1 }))).flat()
  return turns.length === 0 ? null : { ...on, turns, at: 0, round: new Map(), seen: 'seen', placed: false }
}

export const turnOf = (guide: Guide): Turn => guide.turns[guide.at] as Turn

/// The guide once its point lies at `at`.
export const placedAt = (guide: Guide, at: Point): Guide => ({ ...guide, placed: true, round: new Map(guide.round).set(turnOf(guide).point, at) })

export const seenAs = (guide: Guide, seen: Seen): Guide => ({ ...guide, seen })

/// The next turn, whether or not the point was placed; null after the last.
export function nextTurn(guide: Guide): Guide | null {
  const next = guide.turns[guide.at + 1]
  if (!next) return null
  const sameRound = next.placing === turnOf(guide).placing
  return { ...guide, at: guide.at + 1, round: sameRound ? guide.round : new Map(), seen: 'seen', placed: false }
}

/// The turn before, as not yet placed anew; itself at the first.
export function turnBefore(guide: Guide): Guide {
  const before = guide.turns[guide.at - 1]
  if (!before || before.placing !== turnOf(guide).placing) return guide
  return { ...guide, at: guide.at - 1, seen: 'seen', placed: guide.round.has(before.point) }
}

const ORDINALS = ['first', 'second', 'third']

/// "third placing of three".
export const placingWords = ({ placing }: Turn): string => `${ORDINALS[placing - 1] ?? `${placing}th`} placing of three`
