import type { Breakdown } from '../project/breakdown'
import type { Evidence } from '../project/claim'
import { checkEvent, checkFrame, notThere, uniqueIds, type CheckingOptions, type Index } from './breakdown-checking'
import { placeWithin, type ProblemList } from './problem-list'

/// The part of `checkBreakdown` that looks at claims, references, overrides, releases and corrections:
/// ids are unique; evidence names what is there (it may outlive that where `dangling` is "keep"); a
/// frame lies in its clip; quoted words name their paragraph where the part has one; a correction
/// belongs to a release; a release's words name its own values, events and stills.
export function checkClaims(b: Breakdown, index: Index, problems: ProblemList, options: CheckingOptions): void {
  const references = uniqueIds(b.references ?? [], 'references', problems)
  uniqueIds(b.claims ?? [], 'claims', problems)
  uniqueIds(b.overrides ?? [], 'overrides', problems)
  b.claims?.forEach((claim, i) => {
    const place = `claims[${i}]`
    checkQuoted(claim.on, `${place}.on`, problems)
    claim.evidence?.forEach((evidence, j) => checkEvidence(evidence, `${place}.evidence[${j}]`, index, references, problems, options))
  })
  b.overrides?.forEach((override, i) => {
    if (override.on) checkQuoted(override.on, `overrides[${i}].on`, problems)
  })
  if (options.dangling === 'refuse') checkCites(b, references, problems)
  checkReleases(b, problems)
}

function checkQuoted(on: { readonly part: string; readonly paragraph?: string | undefined }, place: string, problems: ProblemList): void {
  const wanted = !['chapter', 'title', 'question'].includes(on.part)
  if (wanted && on.paragraph === undefined) problems.add(`${place}.paragraph`, `is missing; a ${on.part} stands in a paragraph`)
  if (!wanted && on.paragraph !== undefined) problems.add(`${place}.paragraph`, `does not go with a ${on.part}`)
}

function checkEvidence(
  evidence: Evidence,
  place: string,
  index: Index,
  references: ReadonlyMap<string, unknown>,
  problems: ProblemList,
  { dangling }: CheckingOptions,
): void {
  if (evidence === 'opinion' || 'film' in evidence) return
  if ('frame' in evidence) {
    const clip = index.clips.get(evidence.clip) ?? null
    if (!clip && dangling === 'refuse') problems.add(`${place}.clip`, notThere('clip', evidence.clip))
    if (dangling === 'refuse') checkFrame(evidence.frame, clip, `${place}.frame`, problems)
    return
  }
  if (dangling === 'keep') return
  if ('events' in evidence) return evidence.events.forEach((event, i) => checkEvent(event, null, `${place}.events[${i}]`, index, problems))
  if ('reference' in evidence) {
    if (!references.has(evidence.reference)) problems.add(`${place}.reference`, notThere('reference', evidence.reference))
    return
  }
  const [key, measures] =
    'readings' in evidence
      ? (['readings', evidence.readings] as const)
      : 'count' in evidence
        ? (['count', [evidence.count]] as const)
        : (['reading', [evidence.reading]] as const)
  measures.forEach((measure, i) => {
    if (!index.measures.has(measure))
      problems.add(key === 'readings' ? placeWithin(`${place}.readings`, i) : `${place}.${key}`, notThere('measure', measure))
  })
}

function checkCites(b: Breakdown, references: ReadonlyMap<string, unknown>, problems: ProblemList): void {
  b.script.forEach((row, i) => {
    if ('chapter' in row) return
    row.text.forEach((inline, j) => {
      if (typeof inline === 'object' && 'cite' in inline && !references.has(inline.cite))
        problems.add(`script[${i}].text[${j}].cite`, notThere('reference', inline.cite))
    })
  })
}

function checkReleases(b: Breakdown, problems: ProblemList): void {
  const releases = uniqueIds(b.releases ?? [], 'releases', problems)
  b.releases?.forEach((release, i) => {
    const place = `releases[${i}]`
    const values = new Set(release.values.map((value) => value.measure))
    const events = new Set(release.events.map((event) => event.id))
    const files = new Set(release.files.map((file) => file.name))
    release.said.forEach((said, j) => {
      const at = `${place}.said[${j}]`
      said.values?.forEach((id, k) => !values.has(id) && problems.add(`${at}.values[${k}]`, `the release has no value of ${id}`))
      said.events?.forEach((id, k) => !events.has(id) && problems.add(`${at}.events[${k}]`, `the release has no event ${id}`))
      said.stills?.forEach((name, k) => !files.has(name) && problems.add(`${at}.stills[${k}]`, `the release has no file ${name}`))
    })
  })
  const corrections = uniqueIds(b.corrections ?? [], 'corrections', problems)
  for (const correction of corrections.values())
    if (!releases.has(correction.release)) problems.add(`corrections ${correction.id}`, notThere('release', correction.release))
}
