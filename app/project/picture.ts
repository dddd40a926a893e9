import { z } from 'zod'
import { Frame, Id, LandmarkName, Line, NotNegativeFraction, Point, PositiveFraction, Prose, Rectangle } from './fields'
import { keyedUnion } from './keyed-union'

/// Shots and marks: what a paragraph shows.

/// A place on the picture: a fixed point, or a landmark that is followed.
const Followed = z.strictObject({ subject: Id, point: LandmarkName, offset: Point.optional() })
export const Place = keyedUnion('a point [x, y] or a landmark to follow', {
  list: Point,
  keys: { point: Followed, subject: Followed },
}).meta({
  id: 'Place',
  description: 'A fixed point, or a landmark that is followed.',
})
export type Place = z.infer<typeof Place>

/// What every free mark may say: `on` an event: it appears when that event's frame is reached
/// (on a hold: when its cue's word is said); absent: for the whole shot. `panel`: which clip of a
/// pair (0 first).
const free = { on: Id.optional(), panel: z.int().min(0).max(3).optional(), part: z.enum(['hips', 'shoulders', 'limb', 'other']).optional() }

const freeMarks = {
  arrow: z.strictObject({ ...free, arrow: z.tuple([Place, Place]) }),
  ring: z.strictObject({ ...free, ring: Place, radius: z.number().positive().max(10_000) }),
  line: z.strictObject({ ...free, line: z.tuple([Place, Place]) }),
  path: z.strictObject({ ...free, path: z.array(Point).min(2).max(10_000) }),
  /// The way a landmark went up to the frame shown.
  trail: z.strictObject({ ...free, trail: z.strictObject({ subject: Id, point: LandmarkName }) }),
  word: z.strictObject({ ...free, word: Line, at: Place }),
  /// Everything but this rectangle dimmed.
  dim: z.strictObject({ ...free, dim: Rectangle }),
}
export const FreeMark = keyedUnion('a free mark: arrow, ring, line, path, trail, word or dim', { keys: freeMarks })
export type FreeMark = z.infer<typeof FreeMark>

/// A measure by id (its lines everywhere, its value only on a hold), a measure on a plate that
/// names its instant (allowed on runs), or a free mark.
const Plate = z.strictObject({ plate: Id, on: Id.optional(), panel: z.int().min(0).max(3).optional() })
export const Mark = keyedUnion('a measure, or a mark: plate, arrow, ring, line, path, trail, word or dim', {
  text: Id,
  keys: { plate: Plate, ...freeMarks },
}).meta({
  id: 'Mark',
  description: 'A measure by its id, a measure on a plate that names its instant, or a free mark; on: the event at whose frame it appears.',
})
export type Mark = z.infer<typeof Mark>

/// The rectangle of the picture that is shown, and one to move to by the end of the shot.
const framing = { frame: Rectangle.optional(), frameTo: Rectangle.optional() }
const marks = { marks: z.array(Mark).max(200).optional() }

export const Run = z.strictObject({ run: Id, from: Frame, to: Frame, speed: PositiveFraction, ...framing, ...marks })
export const Hold = z.strictObject({ hold: Id, at: Frame, seconds: PositiveFraction, ...framing, ...marks })
export const PairMember = z.strictObject({ clip: Id, event: Id, ...framing })
export const Pair = z.strictObject({
  pair: z.array(PairMember).min(2).max(4),
  /// Real seconds shown before and after the shared event.
  before: NotNegativeFraction,
  after: NotNegativeFraction,
  /// Display rate against real time, the same for every panel.
  speed: PositiveFraction,
  layout: z.enum(['beside', 'above', 'over']),
  /// Two landmarks per clip that are brought to lie on each other (layout `over`).
  over: z.strictObject({ subjects: z.array(Id).min(2).max(4), points: z.tuple([LandmarkName, LandmarkName]) }).optional(),
  /// Seconds of standing picture at the shared event.
  still: NotNegativeFraction.optional(),
  ...marks,
})
const standing = { seconds: PositiveFraction.optional(), lines: z.array(Line).max(20).optional() }
const WordCard = z.strictObject({ card: z.enum(['title', 'caution', 'end', 'text']), ...standing })
/// A measure's value over the frames of its clip; `lines`: what stands above it in place of the measure's name. `beside`: another
/// clip's measure whose curve is laid over it, `on` the event that both clips call so; absent: the one nearest to what is measured.
const CurveCard = z.strictObject({ card: z.literal('curve'), measure: Id, beside: Id.optional(), on: Line.optional(), ...standing })
export const Card = z.discriminatedUnion('card', [WordCard, CurveCard])
export type Run = z.infer<typeof Run>
export type Hold = z.infer<typeof Hold>
export type Pair = z.infer<typeof Pair>
export type Card = z.infer<typeof Card>
export type WordCard = z.infer<typeof WordCard>
export type CurveCard = z.infer<typeof CurveCard>

export const Shot = keyedUnion('a shot: run, hold, pair or card', { keys: { run: Run, hold: Hold, pair: Pair, card: Card } }).meta({
  id: 'Shot',
  description:
    'run: a clip’s span at a speed; hold: one frame for some seconds; pair: two to four clips aligned on an event, before and after in real seconds; card: words, or a measure’s curve.',
})
export type Shot = z.infer<typeof Shot>

/// How a live value is said where it is not value and error: "label": with what it is, "spoken": as it is said aloud,
/// "about": rounded, with "about", "range": from the one end of its 95 % interval to the other.
export const ValueForm = z.enum(['label', 'spoken', 'value', 'about', 'range'])
export type ValueForm = z.infer<typeof ValueForm>

/// A piece of a paragraph: words, a live value, a cue, an unspoken note, a cite.
export const Inline = keyedUnion('words, or one of value, cue, note, cite', {
  text: z.string().min(1).max(100_000),
  keys: {
    /// `form` absent: value and error as on the label, which "value" says outright. A form that does not suit the
    /// reading (a range of an order) says value and error as well.
    value: z.strictObject({ value: Id, form: ValueForm.optional() }),
    cue: z.strictObject({ cue: Id, word: Line.min(1) }),
    note: z.strictObject({ note: Prose.min(1) }),
    /// A reference, with the place in it ("p. 12"): listed with the film, neither spoken nor in captions.
    cite: z.strictObject({ cite: Id, at: Line.min(1).optional() }),
  },
}).meta({
  id: 'Inline',
  description:
    'Words, a live value (a measure’s reading), a cue (a word said as an event’s frame appears), a note that is not spoken, or a cite of a reference.',
})
export type Inline = z.infer<typeof Inline>

/// What is known of a paragraph's narration, and how its pictures follow it.
export const Narration = z.strictObject({
  /// The take's words as they were to be said when it was recorded: lower case, numbers in words.
  words: z.array(Line.min(1)).max(10_000).optional(),
  /// Onset of each of `words` in the take, seconds from its start, never falling; as many as `words`.
  onsets: z.array(z.number().min(0).max(100_000)).max(10_000).optional(),
  /// What of the take is heard, seconds from its start: words and pauses keep their times. Absent: all of it.
  trim: z.strictObject({ from: z.number().min(0).max(100_000), to: z.number().positive().max(100_000) }).optional(),
  /// Room tone put into the take: at how many of its seconds, for how long; in order.
  pauses: z
    .array(z.strictObject({ at: z.number().min(0).max(100_000), seconds: z.number().positive().max(600) }))
    .max(1000)
    .optional(),
  /// The pictures follow the cues, at this speed where they can.
  pace: PositiveFraction.optional(),
})
export type Narration = z.infer<typeof Narration>

/// What a heading with live values is made of: at least one value, no two words in a row. One without is a text.
const HeadingPiece = keyedUnion('words or a live value', {
  text: Line.min(1),
  keys: { value: z.strictObject({ value: Id, form: ValueForm.optional() }) },
})
const Heading = keyedUnion('a text, or a list of words and live values', {
  text: Line,
  list: z
    .array(HeadingPiece)
    .max(1000)
    .refine((pieces) => pieces.some((piece) => typeof piece !== 'string'), 'a heading without a live value is a text')
    .refine(
      (pieces) => pieces.every((piece, i) => i === 0 || typeof piece !== 'string' || typeof pieces[i - 1] !== 'string'),
      'words that follow words are one text',
    ),
  keys: {},
})

export const Chapter = z.strictObject({ chapter: Heading })
export const Paragraph = z.strictObject({
  id: Id,
  text: z.array(Inline).max(10_000),
  shots: z.array(Shot).max(1000).optional(),
  /// A recording of this paragraph's words, beside the document.
  take: z.string().min(1).max(1000).optional(),
  narration: Narration.optional(),
  /// Names on screen over this paragraph's first shot: two lines.
  title: z.strictObject({ name: Line, line: Line.optional() }).optional(),
})
/// One row of the script.
export const ScriptRow = keyedUnion('a chapter or a paragraph with an id', { keys: { chapter: Chapter, id: Paragraph, text: Paragraph } })
export type ScriptRow = z.infer<typeof ScriptRow>
export type Chapter = z.infer<typeof Chapter>
export type Paragraph = z.infer<typeof Paragraph>

/// Where a cue's word was found in a take: seconds from its start, and its u (1 σ).
export const CueTime = z.strictObject({ paragraph: Id, event: Id, seconds: z.number().min(0).max(100_000), u: z.number().min(0).max(100) })
export type CueTime = z.infer<typeof CueTime>
