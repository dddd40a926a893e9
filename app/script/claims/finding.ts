import { z } from 'zod'
import { Quoted, quotedKey, type ClaimClass, type Override } from '../../project/claim'

/// The kinds of finding, each with the class that it belongs to; null: it is of none.
export const FINDING_CLASSES = {
  'typed-number': 'B',
  'value-missing': 'B',
  'value-refused': 'B',
  'value-changed': 'B',
  'take-older': 'B',
  'take-unread': null,
  'cue-missing': null,
  'shot-missing': null,
  'mark-missing': 'B',
  'stronger-than-verdict': 'E',
  'hedge-missing': 'B',
  'not-measured': 'B',
  'order-open': 'C',
  'order-reversed': 'C',
  'count-missing': 'D',
  'counted-twice': null,
  'comparison-missing': 'E',
  'comparison-reversed': 'E',
  'views-differ': 'E',
  'speeds-differ': 'E',
  'reference-missing': 'F',
  'reference-gone': null,
  'reference-blank': 'F',
  'cause-open': 'G',
  intent: 'I',
  'intent-in-slow-motion': 'I',
  medical: 'J',
  'film-missing': 'K',
  'no-full-speed': null,
  'claim-gone': null,
} as const satisfies Readonly<Record<string, ClaimClass | null>>
export type FindingCode = keyof typeof FINDING_CLASSES
export const FindingCode = z.enum(Object.keys(FINDING_CLASSES) as [FindingCode, ...FindingCode[]])

/// Classes whose open findings hold a final film back.
export const HOLDING_CLASSES: ReadonlySet<ClaimClass | null> = new Set<ClaimClass>(['B', 'C', 'D', 'E', 'G', 'I', 'J'])

/// Kinds that do so whatever the class: a sentence of any class that names a reference which is not there promises a list
/// entry that the film will not have.
const HOLDING_CODES: ReadonlySet<FindingCode> = new Set<FindingCode>(['reference-gone'])

/// Something that a sentence claims and that nothing stands behind, or not enough.
export interface Finding {
  readonly code: FindingCode
  /// Where, as the document has it: "script[3].text", "script[3].shots[1]".
  readonly place: string
  readonly paragraph: string
  /// The sentence as captions show it; empty where the finding is on a shot.
  readonly sentence: string
  readonly problem: string
  /// What can be done about it.
  readonly wayOut: string
  /// The words it is on; null where it is on a shot or the film.
  readonly on: Quoted | null
  /// Whether it keeps a final film back while it is open.
  readonly holds: boolean
  /// Let stand by a person; null while it is open.
  readonly override: { readonly id: string; readonly reason: string; readonly by: string; readonly when: string } | null
}

/// Whether it keeps a final film back as things are.
export const holdsBack = (finding: Finding): boolean => finding.holds && finding.override === null

/// `formerly`: its problem with ids for names, as it was worded before records were named in it; who let it stand then did so
/// of the same problem.
export type FindingDraft = Omit<Finding, 'holds' | 'override'> & { readonly formerly?: string }

/// The finding with whether it holds the film back and the override that covers it: one with its code at the
/// same place, and the same problem.
export function withOverride({ formerly, ...draft }: FindingDraft, overrides: readonly Override[]): Finding {
  const at = overridePlace(draft)
  const same = overrides.find(
    (override) =>
      override.finding === draft.code && (override.problem === draft.problem || override.problem === formerly) && samePlace(override, at),
  )
  return {
    ...draft,
    holds: HOLDING_CLASSES.has(FINDING_CLASSES[draft.code]) || HOLDING_CODES.has(draft.code),
    override: same ? { id: same.id, reason: same.reason, by: same.by, when: same.when } : null,
  }
}

type OverridePlace = Pick<Override, 'on' | 'paragraph' | 'shot'>

/// Where an override stands that lets a finding stand: on its words, its shot, its paragraph, or, with none of these, on the film.
export function overridePlace({ on, paragraph, place }: Pick<Finding, 'on' | 'paragraph' | 'place'>): OverridePlace {
  const position = /shots\[(\d+)\]$/.exec(place)?.[1]
  if (on) return { on }
  if (paragraph === '') return {}
  return position === undefined ? { paragraph } : { shot: { paragraph, position: Number(position) } }
}

const samePlace = (a: OverridePlace, b: OverridePlace): boolean =>
  (a.on === undefined || b.on === undefined ? a.on === b.on : quotedKey(a.on) === quotedKey(b.on)) &&
  a.paragraph === b.paragraph &&
  a.shot?.paragraph === b.shot?.paragraph &&
  a.shot?.position === b.shot?.position
