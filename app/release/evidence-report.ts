import { countCases } from '../measure/count'
import type { MeasureContext } from '../measure/context'
import type { Breakdown } from '../project/breakdown'
import { captureWords } from '../project/capture-words'
import type { ClaimClass, Override } from '../project/claim'
import type { Release, Said } from '../project/release'
import type { Finding } from '../script/claims/finding'
import type { StatedClaim } from '../script/claims/stated-claim'
import type { FilmChapters } from './chapters'
import { correctionLines, METHOD_NOTE } from './description'
import type { ElsewhereEntry, EvidenceEntry } from './evidence-entry'
import type { NoticeFinding, Notices } from './notices'
import type { SentenceClass } from './release-record'
import { elsewhereOf, entriesOf } from './report-entries'
import type { ReportedReference } from './reported-reference'
import type { SourceUse } from './source-use'

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

/// What a report is made from.
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

/// The report of a version, from what was kept of it and what was found on it.
export function evidenceReport(input: ReportInput): EvidenceReport {
  const { release, breakdown } = input
  const entries = entriesOf(input)
  const film = release.files.find(({ name }) => name.endsWith('.mp4'))
  const open = openFindings(input)
  const overrides = overridesInForce(input)
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
      byClass: byLeadingClass(entries),
      confirmed: entries.filter(({ state }) => state === 'confirmed').length,
      overridden: overrides.length,
      open: open.length,
      holding: open.filter(({ holds }) => holds).length,
    },
    entries,
    elsewhere: elsewhereOf(input),
    sets: countedSets(input),
    clips: clipsOf(breakdown),
    sources: input.sources,
    references: input.references,
    open,
    overrides,
    corrections: correctionLines(breakdown),
    chapters: input.chapters,
    notices: input.notices,
  }
}

function openFindings({ findings, noticesOpen }: ReportInput): EvidenceReport['open'] {
  const open = findings.filter(({ override }) => override === null)
  return [
    ...open.map(({ on, sentence, problem, holds }) => ({ words: on?.words ?? sentence, problem, holds })),
    ...noticesOpen.map(({ problem }) => ({ words: '', problem, holds: true })),
  ]
}

function overridesInForce({ breakdown, findings, noticeOverrides }: ReportInput): EvidenceReport['overrides'] {
  const inForce = new Set([...findings.flatMap(({ override }) => override?.id ?? []), ...noticeOverrides.map(({ id }) => id)])
  return (breakdown.overrides ?? [])
    .filter(({ id }) => inForce.has(id))
    .map(({ finding, on, problem, reason, by, when }) => ({ finding, words: on?.words ?? '', problem, reason, by, when }))
}

function byLeadingClass(entries: readonly EvidenceEntry[]): EvidenceReport['counts']['byClass'] {
  const counts: Partial<Record<ClaimClass, number>> = {}
  for (const { classes } of entries) for (const letter of classes.slice(0, 1)) counts[letter] = (counts[letter] ?? 0) + 1
  return counts
}

const countedSets = ({ breakdown, context }: ReportInput): EvidenceReport['sets'] =>
  (breakdown.measures ?? []).flatMap((measure) => {
    if (measure.kind !== 'count') return []
    const { k, n, unusable } = countCases(measure.cases, context)
    const cases = measure.cases.map(({ clip, holds, note }) => ({ clip, holds, note: note ?? '' }))
    return [{ measure: measure.id, what: measure.what, set: measure.set, k, n, unusable, cases }]
  })

const clipsOf = ({ clips }: Breakdown): EvidenceReport['clips'] =>
  clips.map((clip) => ({
    id: clip.id,
    name: clip.name ?? clip.id,
    bout: clip.bout ?? '',
    technique: clip.technique ?? '',
    capture: captureWords(clip.capture),
    state: clip.use?.state ?? 'not said',
    reason: clip.use?.reason ?? '',
  }))
