import type { ClaimClass, Evidence, Quoted } from '../project/claim'
import type { SaidEvent, SaidValue } from '../project/release'
import type { ChangedByHand } from '../script/claims/stated-claim'
import type { EarlierFilm } from './answer'
import type { SentenceClass } from './release-record'

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
