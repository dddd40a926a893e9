import { z } from 'zod'
import { Claim, ClaimClass, Evidence, Quoted } from '../project/claim'
import { Id, Line } from '../project/fields'
import { Reference } from '../project/reference'
import { Correction, Said } from '../project/release'
import { call } from './call'

/// What one sentence, card line, name, chapter or title claims; see app/script/claims/stated-claim.ts.
export const ClaimAnswer = z.strictObject({
  on: Quoted,
  place: z.string(),
  paragraph: z.string(),
  /// As captions show it.
  shown: z.string(),
  /// The first leads.
  classes: z.array(ClaimClass).min(1),
  state: z.enum(['confirmed', 'suggested', 'to-confirm']),
  evidence: z.array(Evidence),
  /// Ids of the live values in it, and of references cited in it.
  values: z.array(z.string()),
  cites: z.array(z.string()),
  /// Values that read otherwise now than when it was confirmed.
  changed: z.array(z.strictObject({ measure: z.string(), was: z.string(), now: z.string() })),
  /// Claim records that it comes from.
  records: z.array(z.string()),
  /// Words that speak for a class, where the rules suggest it.
  because: z.array(z.strictObject({ class: ClaimClass, words: z.string() })),
  /// Where a person stated other classes of these very words and left out one that can hold the film back: what the rules suggest, who, when.
  byHand: z.strictObject({ suggested: z.tuple([ClaimClass], ClaimClass), by: z.string(), when: z.string() }).nullable(),
})
export type ClaimAnswer = z.infer<typeof ClaimAnswer>

/// One use in the film as it stands; see app/release/where-used.ts.
const Use = z.strictObject({
  as: z.enum(['sentence', 'caption', 'chapter', 'take', 'label', 'card', 'shot', 'evidence', 'measure']),
  place: z.string(),
  paragraph: z.string(),
  words: z.string(),
  through: z.string().exactOptional(),
})

/// A reference as it is printed (`runs`: with the styles of its fields, `text`: in plain characters), and where it is used.
export const ReferenceAnswer = z.strictObject({
  id: Id,
  text: z.string(),
  short: z.string(),
  runs: z.array(z.strictObject({ text: z.string(), as: z.array(z.enum(['italic', 'bold', 'superscript', 'subscript', 'small-caps'])) })),
  uses: z.array(Use),
})
export type ReferenceAnswer = z.infer<typeof ReferenceAnswer>

/// A published version with values or events that are others now, where it said them, and the note drafted.
export const OvertakenAnswer = z.strictObject({
  release: Id,
  film: z.string(),
  version: z.string(),
  date: z.string(),
  changes: z.array(
    z.strictObject({ of: z.enum(['value', 'event', 'reference']), id: Id, was: z.string(), now: z.string(), said: z.array(Said) }),
  ),
  draft: Correction,
})
export type OvertakenAnswer = z.infer<typeof OvertakenAnswer>

export const claimCalls = {
  'claims.list': call(
    z.strictObject({}),
    z.strictObject({ version: z.int(), claims: z.array(ClaimAnswer), lost: z.array(Claim) }),
    'What everything that the film says claims, in the script’s order, with what was confirmed and what the rules suggest; `lost` are claims whose words are gone. Confirming and adding evidence are edits of `claims`.',
  ),
  'references.list': call(
    z.strictObject({}),
    z.strictObject({ version: z.int(), references: z.array(ReferenceAnswer) }),
    'Every reference as it is printed and named, and where it is used.',
  ),
  'references.read': call(
    z.strictObject({ text: z.string().max(2_000_000) }),
    z.strictObject({ references: z.array(Reference) }),
    'Reads references from BibTeX or CSL-JSON, under free ids; adding them is an edit. Nothing is fetched. Refused with `document-invalid`.',
  ),
  'uses.find': call(
    z.strictObject({ of: z.enum(['measure', 'event', 'reference']), id: Id }),
    z.strictObject({
      version: z.int(),
      uses: z.array(Use),
      published: z.array(z.strictObject({ release: Id, film: z.string(), version: z.string(), date: z.string(), said: z.array(Said) })),
    }),
    'Where a measure’s value, an event or a reference is used: in the film as it stands (sentences, captions, takes, labels, cards, pictures, evidence, measures that build on it; `through` names the measure by which it is used there), and in each published version.',
  ),
  'corrections.due': call(
    z.strictObject({ date: Line.min(1) }),
    z.strictObject({ version: z.int(), overtaken: z.array(OvertakenAnswer), unread: z.array(Id) }),
    'Published versions that used a value, an event or a reference that is another one now, each with a correction drafted (dated `date`, under a free id). Adding it is an edit. `unread`: footage that is not there or not read yet; what is measured on it is not judged meanwhile.',
  ),
} as const
