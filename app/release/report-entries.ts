import { quotedKey, type ClaimClass, type Quoted } from '../project/claim'
import type { ElsewhereEntry, EvidenceEntry } from './evidence-entry'
import type { ReportInput } from './evidence-report'
import { whatItRestsOn } from './rests-on'
import { supportsOf } from './support'

/// The sentences that were said, in their order, each with what it rests on.
export function entriesOf(input: ReportInput): EvidenceEntry[] {
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
export function elsewhereOf(input: ReportInput): ElsewhereEntry[] {
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
