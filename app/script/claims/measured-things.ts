import { placeOf } from '../../body/landmark-name'
import { sayTurning } from '../../measure/turning-words'
import type { Breakdown } from '../../project/breakdown'
import type { Measure } from '../../project/question'
import type { Word } from './language'
import { mentionsOf, namedThing, type NamedThing } from './named-thing'
import { rememberedWords } from './remembered-words'

/// What a measure is about, as words may name it: its events, the places of its points and what they are called together
/// ("trunk"), what was judged or counted; of one that is made of others, theirs.
export function measuredThings(measure: Measure, breakdown: Breakdown): readonly NamedThing[] {
  const names = namesOf(measure, breakdown, new Set())
  return [...new Set(names)].flatMap((name) => namedThing(name) ?? [])
}

function namesOf(measure: Measure, breakdown: Breakdown, seen: ReadonlySet<string>): readonly string[] {
  const label = measure.label === undefined ? [] : [measure.label]
  if ('from' in measure)
    return [...label, ...[measure.from, measure.to].flatMap((id) => breakdown.events?.find((event) => event.id === id)?.name ?? [])]
  if ('measures' in measure)
    return [
      ...label,
      ...measure.measures
        .flatMap((id) => breakdown.measures?.find((each) => each.id === id && !seen.has(id)) ?? [])
        .flatMap((each) => namesOf(each, breakdown, new Set([...seen, each.id]))),
    ]
  if ('what' in measure) return [...label, measure.what]
  return 'points' in measure ? [...label, ...pointNames(measure.points)] : label
}

function pointNames(points: readonly string[]): readonly string[] {
  const places = points.map((point) => placeOf(point).replaceAll(/[.-]/g, ' '))
  if (points.length === 3) return places.slice(1, 2)
  return points.length === 2 ? [...places, sayTurning(points, null)] : places
}

/// How many of these things a text names.
export function namedIn(text: string, things: readonly NamedThing[]): number {
  const words: readonly Word[] = rememberedWords(text)
  return things.filter((thing) => mentionsOf(thing, words).some((mention) => mention !== null)).length
}
