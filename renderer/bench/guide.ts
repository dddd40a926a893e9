import { sayPoint, type Side } from '../../app/body/landmark-name'
import type { Sample, Seen } from '../../app/project/film'

/// A guided placing of points on one frame: round after round, so that each point is placed three times without its
/// earlier places being seen.

export const REPEATS = 3

export interface Turn {
  readonly point: string
  /// Which placing of the point this is, 1 to REPEATS.
  readonly placing: number
}

/// How a point was placed in this round.
export type Placed = Pick<Sample, 'at' | 'seen' | 'blur'>

/// The placings of a point that a hand made on the guide's frame, in their order.
export type HandsOf = (point: string) => readonly Placed[]

export interface Guide {
  readonly clip: string
  readonly subject: string
  readonly frame: number
  readonly turns: readonly Turn[]
  readonly at: number
  /// How many placings by hand each point had when this round began: the round's own comes behind them.
  readonly before: ReadonlyMap<string, number>
  /// What was placed in this round: shown, while earlier rounds are hidden.
  readonly round: ReadonlyMap<string, Placed>
  /// How the point in turn is seen.
  readonly seen: Seen
  /// How long the point in turn is blurred, px, where it is blurred and the person has stated it.
  readonly blur: number | undefined
}

/// Begins a guide through `points`; `countOf` says how often a hand placed each on the frame before. Null when all were
/// placed often enough.
export function beginGuide(
  on: Pick<Guide, 'clip' | 'subject' | 'frame'>,
  points: readonly string[],
  countOf: (point: string) => number,
): Guide | null {
  const turns = Array.from({ length: REPEATS }, (_, i) =>
    points.filter((point) => countOf(point) <= i).map((point) => ({ point, placing: i + 1 })),
  ).flat()
  return turns.length === 0
    ? null
    : {
        ...on,
        turns,
        at: 0,
        before: new Map(points.map((point) => [point, countOf(point)])),
        round: new Map(),
        seen: 'seen',
        blur: undefined,
      }
}

export const turnOf = (guide: Guide): Turn => guide.turns[guide.at] as Turn

/// How the point in turn was placed in this round; null: not yet.
export const placedOf = (guide: Guide): Placed | null => guide.round.get(turnOf(guide).point) ?? null

/// How many placings by hand the point in turn had before this round.
export const beforeOf = (guide: Guide): number => guide.before.get(turnOf(guide).point) ?? 0

/// The guide once its point lies at `at`.
export const placedAt = (guide: Guide, at: Sample['at']): Guide => ({
  ...guide,
  round: new Map(guide.round).set(turnOf(guide).point, { at, seen: guide.seen, blur: guide.blur }),
})

/// The guide once its point's place is taken back.
export function takenBack(guide: Guide): Guide {
  const round = new Map(guide.round)
  round.delete(turnOf(guide).point)
  return { ...guide, round }
}

/// The guide's point as it is seen; `blur` where it is blurred and the length is stated.
export function seenAs(guide: Guide, seen: Seen, blur?: number): Guide {
  const placed = placedOf(guide)
  return { ...guide, seen, blur, round: placed ? new Map(guide.round).set(turnOf(guide).point, { ...placed, seen, blur }) : guide.round }
}

/// The next turn, whether or not the point was placed; null after the last.
export function nextTurn(guide: Guide): Guide | null {
  const next = guide.turns[guide.at + 1]
  if (!next) return null
  if (next.placing === turnOf(guide).placing) return atTurn(guide, guide.at + 1)
  const before = new Map([...guide.before].map(([point, count]) => [point, count + (guide.round.has(point) ? 1 : 0)]))
  return atTurn({ ...guide, before, round: new Map() }, guide.at + 1)
}

/// The turn before, its point as it was placed in this round; itself at a round's first.
export function turnBefore(guide: Guide): Guide {
  const before = guide.turns[guide.at - 1]
  if (!before || before.placing !== turnOf(guide).placing) return guide
  return atTurn(guide, guide.at - 1)
}

/// The guide as what is stored has it: a place that was undone or taken away stands no longer, one that was moved or done
/// again stands where it is stored.
export function asStored(guide: Guide, handsOf: HandsOf): Guide {
  const before = new Map([...guide.before].map(([point, count]) => [point, Math.min(count, handsOf(point).length)]))
  const round = new Map(
    [...before].flatMap(([point, count]) => {
      const own = handsOf(point)[count]
      return own ? [[point, { at: own.at, seen: own.seen, blur: own.blur }] as const] : []
    }),
  )
  const placed = round.get(turnOf(guide).point)
  return { ...guide, before, round, seen: placed ? (placed.seen ?? 'seen') : guide.seen, blur: placed ? placed.blur : guide.blur }
}

const ORDINALS = ['first', 'second', 'third']

/// "third placing of three".
export const placingWords = ({ placing }: Turn): string => `${ORDINALS[placing - 1] ?? `${placing}th`} placing of three`

/// What is said when the last turn is over: that all is placed, or which points are not, and how often.
export function endWords(guide: Guide, lead: Side | null): string {
  const fewer = [...guide.before].flatMap(([point, count]) => {
    const times = count + (guide.round.has(point) ? 1 : 0)
    return times < REPEATS ? [`${sayPoint(point, lead)} (${['not placed', 'once', 'twice'][times]})`] : []
  })
  return fewer.length === 0 ? 'All points are placed.' : `Placed fewer than three times: ${fewer.join(', ')}.`
}

function atTurn(guide: Guide, at: number): Guide {
  const next = { ...guide, at }
  const placed = placedOf(next)
  return { ...next, seen: placed?.seen ?? 'seen', blur: placed?.blur }
}
