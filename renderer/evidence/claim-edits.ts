import type { ClaimAnswer } from '../../app/contract/claim-calls'
import type { RecordDiff } from '../../app/edit/edit'
import type { ProjectState } from '../../app/edit/project-state'
import type { Claim, ClaimClass, Evidence, Override } from '../../app/project/claim'
import type { Finding } from '../../app/script/claims/finding'
import type { EditChange } from '../state/project'
import { adding, freeId, removing, updating } from '../state/record-change'

/// What a person states of a sentence; what is left out stays as it is. Changes are told as verbs, done to what stands
/// when they are sent: keys may come quicker than answers.
export interface Stated {
  readonly classes?: (before: readonly ClaimClass[]) => readonly ClaimClass[]
  readonly evidence?: (before: readonly Evidence[]) => readonly Evidence[]
  readonly state?: Claim['state']
}

/// Diffs that state claims of sentences as they stand now. Of several records that one sentence drew
/// together, one remains.
export function stating(state: ProjectState, stated: readonly { readonly answer: ClaimAnswer; readonly change: Stated }[], when: string): RecordDiff[] {
  let made = state.tables.claims.size
  return stated.flatMap(({ answer, change }): RecordDiff[] => {
    const told = answer.records.flatMap((id) => state.tables.claims.get(id) ?? [])
    const known = told.length > 0 ? told : state.tables.claims.list().filter(({ on }) => JSON.stringify(on) === JSON.stringify(answer.on))
    const shared = known[0]
    const before = shared ? (shared.evidence ?? []) : answer.evidence
    const evidence = [...(change.evidence?.(before) ?? before)]
    const classes = shared?.classes ?? answer.classes
    const confirmed = (change.state ?? (answer.state === 'confirmed' ? 'confirmed' : 'suggested')) === 'confirmed'
    const record: Claim = {
      id: shared?.id ?? freeClaimId(state, ++made),
      on: answer.on,
      classes: [...(change.classes?.(classes) ?? classes)],
      ...(evidence.length > 0 ? { evidence } : {}),
      state: confirmed ? 'confirmed' : 'suggested',
      ...(confirmed ? { when } : {}),
    }
    return [...known.slice(1).map((other) => removing(state, 'claims', other)), shared ? updating('claims', shared, record) : adding(state, 'claims', record)]
  })
}

/// The classes with one given, or taken where it is there and not the last; the latest given stands first.
export const toggled = (classes: readonly ClaimClass[], letter: ClaimClass): ClaimClass[] =>
  classes.includes(letter) && classes.length > 1 ? classes.filter((each) => each !== letter) : [letter, ...classes.filter((each) => each !== letter)]

/// The evidence with "my view" marked, or not any more.
export const viewToggled = (evidence: readonly Evidence[]): Evidence[] => (evidence.includes('opinion') ? evidence.filter((each) => each !== 'opinion') : [...evidence, 'opinion'])

function freeClaimId(state: ProjectState, from: number): string {
  let n = from
  while (state.tables.claims.has(`claim${n}`)) n++
  return `claim${n}`
}

/// Lets a finding stand, with the reason.
export function overriding(finding: Finding, reason: string, by: string, when: string): (state: ProjectState) => EditChange {
  return (state) => {
    const position = /shots\[(\d+)\]$/.exec(finding.place)?.[1]
    const record: Override = {
      id: freeId(state, 'overrides', 'override'),
      finding: finding.code,
      ...(finding.on ? { on: finding.on } : position !== undefined && finding.paragraph !== '' ? { shot: { paragraph: finding.paragraph, position: Number(position) } } : {}),
      problem: finding.problem,
      reason,
      by,
      when,
    }
    return { label: 'Let a finding stand', steps: [], diffs: [adding(state, 'overrides', record)] }
  }
}

/// Takes an override back.
export const reopening = (id: string) => (state: ProjectState): EditChange | null => {
  const record = state.tables.overrides.get(id)
  return record ? { label: 'Open a finding again', steps: [], diffs: [removing(state, 'overrides', record)] } : null
}
