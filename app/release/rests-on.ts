import type { Evidence } from '../project/claim'
import { withBeneath } from './beneath-measure'
import type { EvidenceEntry, ReportedEvent, ReportedStill } from './evidence-entry'
import type { ReportInput } from './evidence-report'

/// What is said to stand behind words.
interface RestsOn {
  /// Ids of measures, events and references; names of stills' files.
  readonly values: readonly string[]
  readonly events: readonly string[]
  readonly stills: readonly string[]
  readonly references: readonly string[]
  readonly evidence: readonly Evidence[]
}

/// The same as the version keeps it.
export function whatItRestsOn({
  release,
  breakdown,
  timeOf,
}: Pick<ReportInput, 'release' | 'breakdown' | 'timeOf'>): (
  on: RestsOn,
) => Pick<EvidenceEntry, 'evidence' | 'values' | 'events' | 'stills' | 'references' | 'films'> {
  const values = new Map(release.values.map((value) => [value.measure, value]))
  const events = new Map(release.events.map((event) => [event.id, event]))
  const files = new Map(release.files.map((file) => [file.name, file]))
  const clips = new Map(breakdown.clips.map((clip) => [clip.id, clip]))
  const footage = new Map(breakdown.footage.map((film) => [film.id, film]))
  const eventOf = (id: string): ReportedEvent[] => {
    const event = events.get(id)
    return event ? [{ ...event, clipName: clips.get(event.clip)?.name ?? event.clip }] : []
  }
  const stillOf = (name: string): ReportedStill[] => {
    const still = files.get(name)?.still
    const clip = clips.get(still?.clip ?? '')
    if (!still || !clip) return []
    const film = footage.get(clip.footage)
    const { owner, where, when, credit } = film?.source ?? {}
    return [
      {
        name,
        clip: clip.id,
        clipName: clip.name ?? clip.id,
        frame: still.frame,
        at_s: timeOf(clip.id, still.frame),
        footage: film?.file ?? '',
        source: [credit ?? owner, where, when].filter(Boolean).join(', '),
      },
    ]
  }
  return ({ evidence, ...on }) => ({
    evidence,
    values: [...withBeneath(on.values, release, breakdown)].flatMap((id) => values.get(id) ?? []),
    events: inTime(on.events.flatMap(eventOf), ({ earliest }) => earliest),
    stills: inTime(on.stills.flatMap(stillOf), ({ frame }) => frame),
    references: on.references.map((id) => ({ id, at: placesIn(id, evidence).join(', ') })),
    films: evidence.flatMap((each) => (typeof each === 'object' && 'film' in each ? [each] : [])),
  })
}

/// Where in a reference it was said to stand.
const placesIn = (id: string, evidence: readonly Evidence[]): string[] =>
  evidence.flatMap((each) => (typeof each === 'object' && 'reference' in each && each.reference === id ? (each.at ?? []) : []))

/// Clip by clip as they were named, each clip's in the order of its frames.
function inTime<T extends { readonly clip: string }>(items: readonly T[], frame: (item: T) => number): T[] {
  const clips = items.map(({ clip }) => clip)
  return items.toSorted((a, b) => clips.indexOf(a.clip) - clips.indexOf(b.clip) || frame(a) - frame(b))
}
