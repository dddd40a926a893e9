import type { Breakdown } from '../project/breakdown'
import type { Claim } from '../project/claim'
import type { Event } from '../project/film'
import type { Mark, Shot } from '../project/picture'
import type { Measure } from '../project/question'

/// A picture that a claim rests on: one frame of a clip, with a measure drawn on it or bare.
export interface EvidenceStill {
  /// Its file's name, without ending.
  readonly name: string
  readonly clip: string
  readonly frame: number
  readonly measure: string | null
  readonly event: string | null
}

/// Names that the evidence of a film needs: of measures, events and claims.
export interface EvidenceNeeds {
  readonly measures: ReadonlySet<string>
  readonly events: ReadonlySet<string>
  readonly claims: readonly Claim[]
}

/// The stills that a film's evidence needs, each once: the frame of every measure with its lines and value, both ends of every
/// event's bracket, and every frame that a claim names.
export function evidenceStills(breakdown: Breakdown, needs: EvidenceNeeds): EvidenceStill[] {
  const clips = new Set(breakdown.clips.map((clip) => clip.id))
  const stills = new Map<string, EvidenceStill>()
  const add = (clip: string, frame: number, measure: string | null, event: string | null): void => {
    const name = stillName(clip, frame, measure)
    if (clips.has(clip) && !stills.has(name)) stills.set(name, { name, clip, frame, measure, event })
  }
  for (const measure of breakdown.measures ?? []) {
    if (!needs.measures.has(measure.id)) continue
    for (const { clip, frame } of framesOfMeasure(measure)) add(clip, frame, measure.id, null)
  }
  for (const event of breakdown.events ?? [])
    if (needs.events.has(event.id)) for (const frame of bracketFrames(event)) add(event.clip, frame, null, event.id)
  for (const claim of needs.claims)
    for (const evidence of claim.evidence ?? [])
      if (typeof evidence === 'object' && 'frame' in evidence) add(evidence.clip, evidence.frame, null, null)
  return [...stills.values()]
}

/// Frames on which a measure's points lie and may be drawn.
export function framesOfMeasure(measure: Measure): { readonly clip: string; readonly frame: number }[] {
  if (!('clip' in measure) || measure.clip === undefined) return []
  if ('frame' in measure) return [{ clip: measure.clip, frame: measure.frame }]
  if ('toFrame' in measure) return [{ clip: measure.clip, frame: measure.toFrame }]
  return []
}

/// Events that a measure stands between or on.
export function eventsOfMeasure(measure: Measure): string[] {
  const named = [
    'from' in measure ? measure.from : undefined,
    'to' in measure ? measure.to : undefined,
    'event' in measure ? measure.event : undefined,
  ]
  return named.filter((id): id is string => typeof id === 'string')
}

/// The ends of an event's bracket.
export const bracketFrames = (event: Event): number[] => [...new Set([event.earliest, event.latest])]

/// A name that any file system takes.
const stillName = (clip: string, frame: number, measure: string | null): string =>
  [clip, String(frame), ...(measure === null ? [] : [measure])].map((part) => part.replaceAll(/[^\p{L}\p{N}._-]/gu, '_')).join('-')

/// A breakdown that shows nothing but the stills, one hold each, in their order; the film's own look and painter.
export function stillsBreakdown(breakdown: Breakdown, stills: readonly EvidenceStill[]): Breakdown {
  const {
    script: _script,
    claims: _claims,
    references: _references,
    overrides: _overrides,
    releases: _releases,
    corrections: _corrections,
    ...rest
  } = breakdown
  const shots = stills.map((still): Shot => {
    const marks: Mark[] = still.measure === null ? [] : [still.measure]
    return { hold: still.clip, at: still.frame, seconds: '1', marks }
  })
  return {
    ...rest,
    script: [{ id: 'stills', text: [], shots: [{ card: 'caution', seconds: '1' }, ...shots, { card: 'end', seconds: '1' }] }],
  }
}
