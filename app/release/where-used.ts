import type { Breakdown } from '../project/breakdown'
import type { Release, Said } from '../project/release'
import { recordNames } from '../script/claims/record-names'
import { sayingsOf, type Saying } from '../script/claims/saying'
import { statedClaims } from '../script/claims/stated-claim'
import type { Readings } from '../script/spoken-form'
import { eventsOfMeasure } from './evidence-still'

/// What can be looked for: a measure's value, an event, a reference.
export type UsedKind = 'measure' | 'event' | 'reference'

/// One use of a value, an event or a reference in the film as it stands. `through`: the measure by which it is used
/// there, where the place names another one than what was looked for; absent where it names it itself.
export interface Use {
  readonly as: 'sentence' | 'caption' | 'chapter' | 'take' | 'label' | 'card' | 'shot' | 'evidence' | 'measure'
  /// As the document has it.
  readonly place: string
  readonly paragraph: string
  readonly words: string
  readonly through?: string
}

/// Where something is used in the film as it stands.
export function usesOf(of: UsedKind, id: string, breakdown: Breakdown, readings: Readings): Use[] {
  if (of === 'measure') return usesOfMeasure(id, breakdown, readings)
  return of === 'event' ? usesOfEvent(id, breakdown, readings) : usesOfReference(id, breakdown, readings)
}

/// Where a measure's value is used: sentences (each is a caption too), chapter headings, the takes that speak them, labels on
/// the picture, evidence of other sentences, measures that build on it and, behind each of these, where that one is used.
export function usesOfMeasure(id: string, breakdown: Breakdown, readings: Readings): Use[] {
  return withBuilt(id, breakdown, readings, new Set([id]))
}

function withBuilt(id: string, breakdown: Breakdown, readings: Readings, met: Set<string>): Use[] {
  const uses = ownUses(id, breakdown, readings)
  breakdown.measures?.forEach((measure, i) => {
    if (!('measures' in measure) || !(measure.measures as readonly string[]).includes(id) || met.has(measure.id)) return
    met.add(measure.id)
    uses.push(
      { as: 'measure', place: `measures[${i}]`, paragraph: '', words: recordNames(breakdown, readings).measure(measure.id) },
      ...through(measure.id, withBuilt(measure.id, breakdown, readings, met)),
    )
  })
  return uses
}

const through = (measure: string, uses: readonly Use[]): Use[] => uses.map((use) => ({ through: measure, ...use }))

function ownUses(id: string, breakdown: Breakdown, readings: Readings): Use[] {
  const uses: Use[] = []
  for (const saying of sayingsOf(breakdown, readings)) if (saying.values.includes(id)) uses.push(...spoken(saying, breakdown))
  breakdown.script.forEach((row, i) => {
    if (!('text' in row)) return
    row.shots?.forEach((shot, j) => {
      if ('card' in shot && shot.card === 'curve' && (shot.measure === id || shot.beside === id))
        uses.push({ as: 'card', place: `script[${i}].shots[${j}]`, paragraph: row.id, words: 'its curve' })
      for (const mark of 'marks' in shot ? (shot.marks ?? []) : [])
        if (mark === id || (typeof mark === 'object' && 'plate' in mark && mark.plate === id))
          uses.push({ as: 'label', place: `script[${i}].shots[${j}]`, paragraph: row.id, words: readings.get(id)?.plate.value ?? '' })
    })
  })
  return [
    ...uses,
    ...resting(
      breakdown,
      readings,
      (each) =>
        ('reading' in each && each.reading === id) ||
        ('readings' in each && each.readings.includes(id)) ||
        ('count' in each && each.count === id),
    ),
  ]
}

/// Where an event is used: sentences with a cue on it, pictures that stand or appear by it, evidence, measures that
/// lie between or on it and, behind each of these, where its value is used.
export function usesOfEvent(id: string, breakdown: Breakdown, readings: Readings): Use[] {
  const uses: Use[] = []
  for (const saying of sayingsOf(breakdown, readings))
    if (saying.cues.includes(id)) uses.push({ as: 'sentence', place: saying.place, paragraph: saying.paragraph, words: saying.shown })
  breakdown.script.forEach((row, i) => {
    if (!('text' in row)) return
    row.shots?.forEach((shot, j) => {
      const at = { place: `script[${i}].shots[${j}]`, paragraph: row.id }
      if ('pair' in shot && shot.pair.some(({ event }) => event === id)) uses.push({ as: 'shot', ...at, words: 'clips aligned on it' })
      if ('marks' in shot && shot.marks?.some((mark) => typeof mark === 'object' && mark.on === id))
        uses.push({ as: 'label', ...at, words: 'a mark that appears on it' })
    })
  })
  uses.push(...resting(breakdown, readings, (each) => 'events' in each && each.events.includes(id)))
  breakdown.measures?.forEach((measure, i) => {
    if (eventsOfMeasure(measure).includes(id))
      uses.push(
        { as: 'measure', place: `measures[${i}]`, paragraph: '', words: recordNames(breakdown, readings).measure(measure.id) },
        ...through(measure.id, usesOfMeasure(measure.id, breakdown, readings)),
      )
  })
  return uses
}

/// Where a reference is cited: sentences with a cite of it, and claims that rest on it.
export function usesOfReference(id: string, breakdown: Breakdown, readings: Readings): Use[] {
  return statedClaims(breakdown, readings).claims.flatMap(({ saying, evidence }): Use[] => {
    if (saying.cites.includes(id)) return [{ as: 'sentence', place: saying.place, paragraph: saying.paragraph, words: saying.shown }]
    const named = evidence.some((each) => each !== 'opinion' && 'reference' in each && each.reference === id)
    return named ? [{ as: 'evidence', place: saying.place, paragraph: saying.paragraph, words: saying.shown }] : []
  })
}

/// What published versions said with it, oldest first; versions that did not use it are left out.
export function publishedUsesOf(
  of: UsedKind,
  id: string,
  releases: readonly Release[],
): { readonly release: Release; readonly said: Said[] }[] {
  return releases.flatMap((release) => {
    const measured = new Set(of === 'event' ? release.values.filter(({ events }) => events.includes(id)).map(({ measure }) => measure) : [])
    const said = release.said.filter(({ values, events, references }) => {
      if (of === 'reference') return references?.includes(id)
      if (of === 'measure') return values?.includes(id)
      return events?.includes(id) === true || values?.some((value) => measured.has(value)) === true
    })
    return said.length > 0 ? [{ release, said }] : []
  })
}

type Stated = ReturnType<typeof statedClaims>['claims'][number]['evidence'][number]

function resting(breakdown: Breakdown, readings: Readings, names: (evidence: Exclude<Stated, 'opinion'>) => boolean): Use[] {
  return statedClaims(breakdown, readings).claims.flatMap(({ saying, evidence }): Use[] =>
    evidence.some((each) => each !== 'opinion' && names(each))
      ? [{ as: 'evidence', place: saying.place, paragraph: saying.paragraph, words: saying.shown }]
      : [],
  )
}

function spoken(saying: Saying, breakdown: Breakdown): Use[] {
  const at = { place: saying.place, paragraph: saying.paragraph, words: saying.shown }
  if (saying.on.part === 'chapter') return [{ as: 'chapter', ...at, paragraph: firstUnder(saying.place, breakdown) }]
  const row = breakdown.script.find((each) => 'text' in each && each.id === saying.paragraph)
  const take = row && 'text' in row ? row.take : undefined
  return [{ as: 'sentence', ...at }, { as: 'caption', ...at }, ...(take === undefined ? [] : [{ as: 'take' as const, ...at, place: take }])]
}

/// The first paragraph under a heading: where one goes to see it.
function firstUnder(place: string, breakdown: Breakdown): string {
  const at = Number(/\d+/.exec(place)?.[0] ?? 0)
  const row = breakdown.script.slice(at + 1).find((each) => 'text' in each)
  return row && 'text' in row ? row.id : ''
}
