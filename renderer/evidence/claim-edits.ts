import type { ClaimAnswer } from '../../app/contract/claim-calls'
import type { RecordDiff } from '../../app/edit/edit'
import type { ProjectState } from '../../app/edit/project-state'
import type { Reading } from '../../app/measure/reading'
import { measuresIn, quotedKey, type Claim, type ClaimClass, type Evidence, type Override } from '../../app/project/claim'
import { overridePlace, type Finding } from '../../app/script/claims/finding'
import type { EditChange } from '../state/project'
import { adding, freeId, removing, updating } from '../state/record-change'

/// What a person states of a sentence; what is left out stays as it is. Changes are told as verbs, done to what stands
/// when they are sent: keys may come quicker than answers.
export interface Stated {
  readonly classes?: (before: readonly ClaimClass[]) => readonly ClaimClass[]
  readonly evidence?: (before: readonly Evidence[]) => readonly Evidence[]
  readonly state?: Claim['state']
}

/// Diffs that state claims of sentences as they stand now, with what their values read where they are confirmed. `all`:
/// everything that the film says, as it was answered. Of several records that one sentence drew together one remains; a
/// record that other sentences still draw on (halves of a split one) is left to them.
export function stating(
  state: ProjectState,
  stated: readonly { readonly answer: ClaimAnswer; readonly change: Stated }[],
  all: readonly ClaimAnswer[],
  readings: ReadonlyMap<string, Reading>,
  when: string,
): RecordDiff[] {
  const records = new Map(state.tables.claims.list().map((claim) => [quotedKey(claim.on), claim]))
  const done = new Set<string>()
  const gone = new Set<string>()
  const drawnBy = new Map<string, string[]>()
  for (const { on, records: drawn } of all) for (const id of drawn) drawnBy.set(id, [...(drawnBy.get(id) ?? []), quotedKey(on)])
  let made = state.tables.claims.size
  return stated.flatMap(({ answer, change }): RecordDiff[] => {
    const words = quotedKey(answer.on)
    const own = records.get(words)
    const free = (id: string): boolean =>
      !gone.has(id) && (drawnBy.get(id) ?? []).every((other) => other === words || done.has(other) || records.has(other))
    const [shared, ...others] = [
      ...(own ? [own] : []),
      ...answer.records.flatMap((id) => (id !== own?.id && free(id) ? (state.tables.claims.get(id) ?? []) : [])),
    ]
    done.add(words)
    for (const each of shared ? [shared, ...others] : []) gone.add(each.id)
    const before = own ? (own.evidence ?? []) : answer.evidence
    const evidence = [...(change.evidence?.(before) ?? before)]
    const classes = own?.classes ?? answer.classes
    const was = own?.state ?? (answer.state === 'confirmed' || answer.changed.length > 0 ? 'confirmed' : 'suggested')
    const confirmed = (change.state ?? was) === 'confirmed'
    const reads = (measure: string): string | undefined =>
      (change.state === 'confirmed' ? undefined : shared?.values?.find((value) => value.measure === measure)?.reads) ??
      readings.get(measure)?.plate.value
    const values = [...new Set([...answer.values, ...evidence.flatMap(measuresIn)])].flatMap((measure) => {
      const now = reads(measure)
      return now === undefined ? [] : [{ measure, reads: now }]
    })
    const record: Claim = {
      id: shared?.id ?? freeClaimId(state, ++made),
      on: answer.on,
      classes: [...(change.classes?.(classes) ?? classes)],
      ...(evidence.length > 0 ? { evidence } : {}),
      state: confirmed ? 'confirmed' : 'suggested',
      ...(confirmed && values.length > 0 ? { values } : {}),
      ...whoAndWhen(shared, confirmed || change.classes !== undefined, when),
    }
    return [
      ...others.map((other) => removing(state, 'claims', other)),
      shared ? updating('claims', shared, record) : adding(state, 'claims', record),
    ]
  })
}

/// Who stated or confirmed it and when: now, or as it was known.
const whoAndWhen = (before: Claim | undefined, now: boolean, when: string): Pick<Claim, 'by' | 'when'> =>
  now
    ? { by: 'the analyst', when }
    : { ...(before?.by === undefined ? {} : { by: before.by }), ...(before?.when === undefined ? {} : { when: before.when }) }

/// The classes with one given, or taken where it is there and not the last; the latest given stands first.
export const toggled = (classes: readonly ClaimClass[], letter: ClaimClass): ClaimClass[] =>
  classes.includes(letter) && classes.length > 1
    ? classes.filter((each) => each !== letter)
    : [letter, ...classes.filter((each) => each !== letter)]

/// The evidence with "my view" marked, or not any more.
export const viewToggled = (evidence: readonly Evidence[]): Evidence[] =>
  evidence.includes('opinion') ? evidence.filter((each) => each !== 'opinion') : [...evidence, 'opinion']

function freeClaimId(state: ProjectState, from: number): string {
  let n = from
  while (state.tables.claims.has(`claim${n}`)) n++
  return `claim${n}`
}

/// Lets a finding stand, with the reason.
export function overriding(finding: Finding, reason: string, by: string, when: string): (state: ProjectState) => EditChange {
  return (state) => {
    const record: Override = {
      id: freeId(state, 'overrides', 'override'),
      finding: finding.code,
      ...overridePlace(finding),
      problem: finding.problem,
      reason,
      by,
      when,
    }
    return { label: 'Let a finding stand', steps: [], diffs: [adding(state, 'overrides', record)] }
  }
}

/// Takes an override back.
export const reopening =
  (id: string) =>
  (state: ProjectState): EditChange | null => {
    const record = state.tables.overrides.get(id)
    return record ? { label: 'Open a finding again', steps: [], diffs: [removing(state, 'overrides', record)] } : null
  }
