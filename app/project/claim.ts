import { z } from 'zod'
import { Frame, Id, Line, Prose } from './fields'
import { keyedUnion } from './keyed-union'

/// What a sentence claims, what stands behind it, and what was decided about it.

/// The class of a claim by its letter: A observed, B measured, C timed or ordered, D counted,
/// E compared, F cited physiology, G mechanism or cause, H opinion, I intent or mental state,
/// J medical, K cross-reference to an earlier film, L display or legend, M teaching advice.
export const ClaimClass = z.enum(['A', 'B', 'C', 'D', 'E', 'F', 'G', 'H', 'I', 'J', 'K', 'L', 'M'])
export type ClaimClass = z.infer<typeof ClaimClass>

/// A quotation of words: where they stand and what they are, in the manner of the text quote
/// selector of W3C's Web Annotation Data Model, so that a person can read and move them by hand.
/// - `part` and `paragraph`: in a paragraph's spoken words, on its cards, as its names on screen or
///   in the words drawn on its pictures; a chapter heading; the film's title; its question.
/// - `words`: one sentence (or line) with live values as `{measure}` and single spaces. Notes and
///   cites are left out.
/// - `nth`: which one where the same words stand there more than once, 0 (or absent) the first.
export const Quoted = z
  .strictObject({
    part: z.enum(['sentence', 'card', 'name', 'mark', 'chapter', 'title', 'question']),
    paragraph: Id.optional(),
    words: z.string().min(1).max(20_000),
    nth: z.int().min(1).max(10_000).optional(),
  })
  .meta({
    id: 'Quoted',
    description:
      'One sentence as it stands in the script, a card, a name, a mark, a chapter or the title: live values as {measure}, single spaces.',
  })
export type Quoted = z.infer<typeof Quoted>

/// One text for each quotation: the same for the same words in the same place.
export const quotedKey = ({ part, paragraph, nth, words }: Quoted): string => `${part}/${paragraph ?? ''}/${nth ?? 0}/${words}`

/// What a claim rests on: a frame; a reading; two readings held against each other; events with
/// their brackets; a count with its set (a measure of that kind); a reference with the place in it;
/// an earlier film and what it says; or that it is the analyst's opinion.
export const Evidence = keyedUnion('a frame, a reading, two readings, events, a count, a reference, an earlier film or an opinion', {
  text: z.literal('opinion'),
  keys: {
    frame: z.strictObject({ frame: Frame, clip: Id }),
    reading: z.strictObject({ reading: Id }),
    readings: z.strictObject({ readings: z.tuple([Id, Id]) }),
    events: z.strictObject({ events: z.array(Id).min(1).max(20) }),
    count: z.strictObject({ count: Id }),
    reference: z.strictObject({ reference: Id, at: Line.optional() }),
    film: z.strictObject({ film: Line, at: Line, says: Line.optional() }),
  },
}).meta({
  id: 'Evidence',
  description:
    'What a claim rests on: {clip, frame}, {reading}, {readings: [a, b]}, {events}, {count}, {reference, at}, {film, at, says}, or "opinion".',
})
export type Evidence = z.infer<typeof Evidence>

/// Measures that a piece of evidence names.
export function measuresIn(evidence: Evidence): readonly string[] {
  if (evidence === 'opinion') return []
  if ('reading' in evidence) return [evidence.reading]
  if ('readings' in evidence) return evidence.readings
  return 'count' in evidence ? [evidence.count] : []
}

/// A sentence's claim as a person stated it. A sentence without one has what the rules suggest.
/// The first class is the one it is listed under. `confirmed` holds while the words are as quoted;
/// words that changed leave classes and evidence, to be confirmed anew, and so does a value of `values`
/// that reads otherwise now.
export const Claim = z
  .strictObject({
    id: Id,
    on: Quoted,
    classes: z.array(ClaimClass).min(1).max(13),
    evidence: z.array(Evidence).max(100).optional(),
    state: z.enum(['confirmed', 'suggested']),
    /// What the values in it and the readings it rests on read when it was confirmed, as on their plates.
    values: z
      .array(z.strictObject({ measure: Id, reads: Line }))
      .max(1000)
      .optional(),
    /// Who stated or confirmed it last, and when, as text.
    by: Line.optional(),
    when: Line.optional(),
  })
  .meta({
    id: 'Claim',
    description:
      'What a sentence claims (classes by letter, the first leads), what it rests on, whether a person confirmed that, and what its values read then.',
  })
export type Claim = z.infer<typeof Claim>

/// A finding that a person lets stand, with the reason. It covers the finding with this code on
/// these words only while its problem is the same, so that nothing new hides behind it.
export const Override = z
  .strictObject({
    id: Id,
    finding: Line.min(1),
    /// Absent: the finding is on no words: on a paragraph, its take or a shot, or on the film (a caution taken out).
    on: Quoted.optional(),
    /// The paragraph, where it is on that or on its take.
    paragraph: Id.optional(),
    /// The shot, where it is on a picture: its paragraph and position (0 first).
    shot: z.strictObject({ paragraph: Id, position: z.int().min(0).max(10_000) }).optional(),
    problem: Prose.min(1),
    reason: Prose.min(1),
    by: Line,
    when: Line,
  })
  .meta({ id: 'Override', description: 'A finding that is let stand on purpose: its code, where, what it said, why, who, when.' })
export type Override = z.infer<typeof Override>
