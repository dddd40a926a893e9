import { countCases } from '../measure/count'
import type { MeasureContext } from '../measure/context'
import type { Breakdown } from '../project/breakdown'
import { captureWords } from '../project/capture-words'
import { quotedKey, type ClaimClass, type Evidence, type Override, type Quoted } from '../project/claim'
import type { Release, Said, SaidEvent, SaidValue } from '../project/release'
import type { FilmChapters } from './chapters'
import { correctionLines, METHOD_NOTE } from './description'
import type { Finding } from '../script/claims/finding'
import type { ChangedByHand, StatedClaim } from '../script/claims/stated-claim'
import type { EarlierFilm } from './answer'
import type { NoticeFinding, Notices } from './notices'
import { withBeneath } from './beneath-measure'
import type { ReportedReference } from './reported-reference'
import type { SentenceClass } from './release-record'
import type { SourceUse } from './source-use'
import { supportsOf } from './support'

/// A still as it stands in a report: which frame of which clip and film, and when that was in the file.
export interface ReportedStill {
  readonly name: string
  readonly clip: string
  readonly clipName: string
  readonly frame: number
  /// Seconds of the footage's own time; null where its frame table is not known.
  readonly at_s: number | null
  readonly footage: string
  readonly source: string
}

/// An event as it was said, with its clip's name.
export type ReportedEvent = SaidEvent & { readonly clipName: string }

/// One sentence and everything that it rests on.
export interface EvidenceEntry {
  readonly words: string
  readonly paragraph: string
  readonly from_s: number
  readonly to_s: number
  /// The first leads; empty where nobody said and no rule spoke.
  readonly classes: readonly ClaimClass[]
  readonly state: SentenceClass['state'] | 'none'
  readonly evidence: readonly Evidence[]
  readonly values: readonly SaidValue[]
  readonly events: readonly ReportedEvent[]
  readonly stills: readonly ReportedStill[]
  /// References by id, each with the place in it that is meant ("p. 12"), where that was said.
  readonly references: readonly { readonly id: string; readonly at: string }[]
  /// Earlier films that it rests on.
  readonly films: readonly EarlierFilm[]
  /// Findings on it that were open when the report was made.
  readonly open: readonly string[]
  readonly take: string | null
  readonly takeSha256: string | null
  /// Where a person stated other classes than the rules suggest and left out one that can hold the film back.
  readonly byHand: ChangedByHand | null
}

/// Something else that the film says and that claims something, with what it rests on: the title, the question, a chapter, a
/// line of a card, a name or a word on the picture.
export interface ElsewhereEntry extends Omit<EvidenceEntry, 'from_s' | 'to_s' | 'take' | 'takeSha256'> {
  readonly part: Exclude<Quoted['part'], 'sentence'>
  /// Findings on it that are let stand, each with its reason.
  readonly letStand: readonly { readonly problem: string; readonly reason: string }[]
}

/// The evidence of one version of a film: the report as data.
export interface EvidenceReport {
  readonly format: 'claimframe-evidence'
  readonly film: {
    readonly title: string
    readonly version: string
    readonly date: string
    readonly seconds: number
    readonly file: string | null
    readonly sha256: string | null
  }
  /// What it was made from.
  readonly script: { readonly version: number; readonly document: string | null }
  readonly question: string
  readonly method: readonly string[]
  readonly counts: {
    readonly sentences: number
    readonly byClass: Readonly<Partial<Record<ClaimClass, number>>>
    readonly confirmed: number
    readonly overridden: number
    readonly open: number
    readonly holding: number
  }
  readonly entries: readonly EvidenceEntry[]
  /// In the order of the script, the title first; what claims nothing is left out.
  readonly elsewhere: readonly ElsewhereEntry[]
  readonly sets: readonly {
    readonly measure: string
    readonly what: string
    readonly set: string
    readonly k: number
    readonly n: number
    readonly unusable: number
    readonly cases: readonly { readonly clip: string; readonly holds: boolean | null; readonly note: string }[]
  }[]
  readonly clips: readonly {
    readonly id: string
    readonly name: string
    readonly bout: string
    readonly technique: string
    readonly capture: string
    readonly state: 'used' | 'rejected' | 'not said'
    readonly reason: string
  }[]
  readonly sources: readonly SourceUse[]
  readonly references: readonly ReportedReference[]
  /// What was found and not let stand; `holds`: it keeps a final film back.
  readonly open: readonly { readonly words: string; readonly problem: string; readonly holds: boolean }[]
  /// Those in force: what they let stand is so.
  readonly overrides: readonly {
    readonly finding: string
    readonly words: string
    readonly problem: string
    readonly reason: string
    readonly by: string
    readonly when: string
  }[]
  readonly corrections: readonly string[]
  readonly chapters: FilmChapters
  readonly notices: Notices
}

export interface ReportInput {
  readonly release: Release
  readonly breakdown: Breakdown
  readonly context: MeasureContext
  readonly seconds: number
  readonly sources: readonly SourceUse[]
  readonly references: readonly ReportedReference[]
  readonly chapters: FilmChapters
  readonly notices: Notices
  /// Seconds of the file at which a clip's frame stands.
  readonly timeOf: (clip: string, frame: number) => number | null
  /// Findings on what the film says and shows, those that are let stand included.
  readonly findings: readonly Finding[]
  /// Findings on its notices that are open, and the overrides of those that are let stand.
  readonly noticesOpen: readonly NoticeFinding[]
  readonly noticeOverrides: readonly Override[]
  readonly stateOf: (said: Said) => SentenceClass['state'] | 'none'
  /// Everything that the film says, with what it claims.
  readonly claims: readonly StatedClaim[]
}

export function evidenceReport(input: ReportInput): EvidenceReport {
  const { release, breakdown } = input
  const entries = entriesOf(input)
  const byClass: Partial<Record<ClaimClass, number>> = {}
  for (const { classes } of entries) for (const letter of classes.slice(0, 1)) byClass[letter] = (byClass[letter] ?? 0) + 1
  const film = release.files.find(({ name }) => name.endsWith('.mp4'))
  const open = [
    ...input.findings
      .filter(({ override }) => override === null)
      .map(({ on, sentence, problem, holds }) => ({ words: on?.words ?? sentence, problem, holds })),
    ...input.noticesOpen.map(({ problem }) => ({ words: '', problem, holds: true })),
  ]
  const inForce = new Set([...input.findings.flatMap(({ override }) => override?.id ?? []), ...input.noticeOverrides.map(({ id }) => id)])
  const overrides = (breakdown.overrides ?? []).filter(({ id }) => inForce.has(id))
  return {
    format: 'claimframe-evidence',
    film: {
      title: release.film,
      version: release.version,
      date: release.date,
      seconds: input.seconds,
      file: film?.name ?? null,
      sha256: film?.sha256 ?? null,
    },
    script: { version: release.project, document: release.document ?? null },
    question: breakdown.question ?? '',
    method: METHOD_NOTE,
    counts: {
      sentences: entries.length,
      byClass,
      confirmed: entries.filter(({ state }) => state === 'confirmed').length,
      overridden: overrides.length,
      open: open.length,
      holding: open.filter(({ holds }) => holds).length,
    },
    entries,
    elsewhere: elsewhereOf(input),
    sets: (breakdown.measures ?? []).flatMap((measure) => {
      if (measure.kind !== 'count') return []
      const { k, n, unusable } = countCases(measure.cases, input.context)
      return [
        {
          measure: measure.id,
          what: measure.what,
          set: measure.set,
          k,
          n,
          unusable,
          cases: measure.cases.map(({ clip, holds, note }) => ({ clip, holds, note: note ?? '' })),
        },
      ]
    }),
    clips: breakdown.clips.map((clip) => ({
      id: clip.id,
      name: clip.name ?? clip.id,
      bout: clip.bout ?? '',
      technique: clip.technique ?? '',
      capture: captureWords(clip.capture),
      state: clip.use?.state ?? 'not said',
      reason: clip.use?.reason ?? '',
    })),
    sources: input.sources,
    references: input.references,
    open,
    overrides: overrides.map(({ finding, on, problem, reason, by, when }) => ({
      finding,
      words: on?.words ?? '',
      problem,
      reason,
      by,
      when,
    })),
    corrections: correctionLines(breakdown),
    chapters: input.chapters,
    notices: input.notices,
  }
}

function entriesOf(input: ReportInput): EvidenceEntry[] {
  const files = new Map(input.release.files.map((file) => [file.name, file]))
  const rests = whatItRestsOn(input)
  return input.release.said.flatMap((said): EvidenceEntry[] => {
    if (said.as !== 'sentence') return []
    return [
      {
        words: said.words,
        paragraph: said.paragraph ?? '',
        from_s: said.from_s ?? 0,
        to_s: said.to_s ?? 0,
        classes: said.classes ?? [],
        state: input.stateOf(said),
        ...rests({
          values: said.values ?? [],
          events: said.events ?? [],
          stills: said.stills ?? [],
          references: said.references ?? [],
          evidence: said.evidence ?? [],
        }),
        open: said.on === undefined ? [] : openOn(said.on, input),
        take: said.take ?? null,
        takeSha256: files.get(said.take ?? '')?.sha256 ?? null,
        byHand: said.byHand ?? null,
      },
    ]
  })
}

const openOn = (on: Quoted, { findings }: ReportInput): string[] =>
  findings
    .filter((finding) => finding.override === null && finding.on !== null && quotedKey(finding.on) === quotedKey(on))
    .map(({ problem }) => problem)

/// What claims nothing where it is a name: that somebody is seen, or is shown.
const NAMING: ReadonlySet<ClaimClass> = new Set<ClaimClass>(['A', 'L'])

/// What the film says besides its sentences and that claims something: a person stated it or gave it evidence, a value
/// stands in it, or something was found on it.
function elsewhereOf(input: ReportInput): ElsewhereEntry[] {
  const rests = whatItRestsOn(input)
  const names = input.release.files.map(({ name }) => name)
  return input.claims.flatMap(({ saying, classes, state, evidence, records, byHand }): ElsewhereEntry[] => {
    const { on, shown, paragraph, values, cites } = saying
    const { part } = on
    if (part === 'sentence') return []
    const found = input.findings.filter((finding) => finding.on !== null && quotedKey(finding.on) === quotedKey(on))
    const stated = records.length > 0 && !(part === 'name' && classes.every((letter) => NAMING.has(letter)))
    if (!stated && evidence.length === 0 && values.length === 0 && found.length === 0) return []
    const supports = supportsOf({ values, cites, evidence }, input.breakdown)
    const ids = (of: 'value' | 'event' | 'reference'): string[] => supports.filter((support) => support.of === of).map(({ id }) => id)
    const stills = supports
      .flatMap((support) => support.stills)
      .flatMap((still) => names.find((name) => name.endsWith(`/${still.name}.jpg`)) ?? [])
    return [
      {
        part,
        words: shown,
        paragraph,
        classes,
        state,
        ...rests({ values: ids('value'), events: ids('event'), stills: [...new Set(stills)], references: ids('reference'), evidence }),
        open: openOn(on, input),
        letStand: found.flatMap(({ problem, override }) => (override ? [{ problem, reason: override.reason }] : [])),
        byHand,
      },
    ]
  })
}

interface RestsOn {
  /// Ids of measures, events and references; names of stills' files.
  readonly values: readonly string[]
  readonly events: readonly string[]
  readonly stills: readonly string[]
  readonly references: readonly string[]
  readonly evidence: readonly Evidence[]
}

/// The same as the version keeps it.
function whatItRestsOn({
  release,
  breakdown,
  timeOf,
}: ReportInput): (on: RestsOn) => Pick<EvidenceEntry, 'evidence' | 'values' | 'events' | 'stills' | 'references' | 'films'> {
  const values = new Map(release.values.map((value) => [value.measure, value]))
  const events = new Map(release.events.map((event) => [event.id, event]))
  const files = new Map(release.files.map((file) => [file.name, file]))
  const clips = new Map(breakdown.clips.map((clip) => [clip.id, clip]))
  const footage = new Map(breakdown.footage.map((film) => [film.id, film]))
  return ({ evidence, ...on }) => ({
    evidence,
    values: [...withBeneath(on.values, release, breakdown)].flatMap((id) => values.get(id) ?? []),
    events: inTime(
      on.events.flatMap((id): ReportedEvent[] => {
        const event = events.get(id)
        return event ? [{ ...event, clipName: clips.get(event.clip)?.name ?? event.clip }] : []
      }),
      ({ earliest }) => earliest,
    ),
    stills: inTime(
      on.stills.flatMap((name): ReportedStill[] => {
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
      }),
      ({ frame }) => frame,
    ),
    references: on.references.map((id) => ({
      id,
      at: evidence
        .flatMap((each) => (typeof each === 'object' && 'reference' in each && each.reference === id ? (each.at ?? []) : []))
        .join(', '),
    })),
    films: evidence.flatMap((each) => (typeof each === 'object' && 'film' in each ? [each] : [])),
  })
}

/// Clip by clip as they were named, each clip's in the order of its frames.
function inTime<T extends { readonly clip: string }>(items: readonly T[], frame: (item: T) => number): T[] {
  const clips = items.map(({ clip }) => clip)
  return items.toSorted((a, b) => clips.indexOf(a.clip) - clips.indexOf(b.clip) || frame(a) - frame(b))
}
