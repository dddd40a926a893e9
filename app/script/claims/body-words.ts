import { placeOf, sideOf } from '../../body/landmark-name'
import type { Breakdown } from '../../project/breakdown'
import type { Measure } from '../../project/question'
import type { CaseMention } from './case-names'
import { BODY_PARTS, SHOWN_BY, THROWN, TRUNK } from './english/direction-words'
import { SIDES } from './english/order-words'
import type { Word } from './language'
import { measuredThings } from './measured-things'

/// Whether a clause speaks of what two measures were made of: `named` where it names it; `unnamed` where it names no part of a
/// body outside the names of the cases; null where it names another part, or one of another side.
export function bodyNamed(
  words: readonly Word[],
  measures: readonly [Measure, Measure],
  mentions: readonly CaseMention[],
  breakdown: Breakdown,
): 'named' | 'unnamed' | null {
  const shown = measures.map((measure) => partsShown(measure, breakdown))
  const sides = measures.map((measure) => sidesShown(measure, breakdown))
  let named = false
  for (const [at, word] of words.entries()) {
    if (mentions.some(({ from, to }) => at >= from && at < to)) continue
    const isShown = shown.every((parts) => parts.has(word.root) || parts.has(word.text))
    const before = words[at - 1]?.text ?? ''
    if (BODY_PARTS.has(word.root) && (!isShown || (SIDES.has(before) && !sides.every((known) => known.has(before))))) return null
    named ||= isShown
  }
  const thrown = mentions.some((mention) => mention.as === 'thrown')
  if (thrown && !named && !shown.every((parts) => parts.has('punch') || parts.has('hand'))) return null
  return named || thrown ? 'named' : 'unnamed'
}

function partsShown(measure: Measure, breakdown: Breakdown): ReadonlySet<string> {
  if (!('points' in measure)) {
    const timed = measure.kind === 'time-between' || measure.kind === 'frame-count' ? [...THROWN] : []
    return new Set([...timed, ...measuredThings(measure, breakdown).flatMap(({ words }) => words.map(({ root }) => root))])
  }
  const points = measure.points.length === 3 ? measure.points.slice(1, 2) : measure.points
  const places = points.map(placeOf)
  const moves = measure.kind === 'speed' && places.some((place) => place === 'wrist' || place === 'fist') ? [...THROWN] : []
  return new Set([
    ...places,
    ...places.flatMap((place) => SHOWN_BY[place] ?? []),
    ...moves,
    ...(isTrunk(measure) ? TRUNK : []),
    ...measuredThings(measure, breakdown).flatMap(({ words }) => words.map(({ root }) => root)),
  ])
}

/// Whether a measure is of the line from the hips to the shoulders.
export function isTrunk(measure: Measure): boolean {
  const places = 'points' in measure && measure.points.length === 2 ? measure.points.map(placeOf) : []
  return places.includes('hip') && places.includes('shoulder')
}

const TURNED = { lead: ['lead', 'front', 'leading'], rear: ['rear', 'back', 'trailing'] } as const

/// The words for the side that a measure's points are on, lead and rear where that is stated.
function sidesShown(measure: Measure, { views }: Breakdown): ReadonlySet<string> {
  const points = 'points' in measure ? (measure.points.length === 3 ? measure.points.slice(1, 2) : measure.points) : []
  const view = views?.find(
    (each) =>
      each.clip === measure.clip &&
      'subject' in measure &&
      each.subject === measure.subject &&
      'frame' in measure &&
      each.from <= measure.frame &&
      measure.frame < each.to,
  )
  const lead = view?.lead
  return new Set(
    points.flatMap((point) => {
      const side = sideOf(point)
      if (side === 'mid' || side === null) return []
      const other = lead === 'left' ? 'right' : 'left'
      if (side === 'lead' || side === 'rear') return [...TURNED[side], ...(lead === undefined ? [] : [side === 'lead' ? lead : other])]
      return [...(lead === undefined ? [] : TURNED[side === lead ? 'lead' : 'rear']), side]
    }),
  )
}
