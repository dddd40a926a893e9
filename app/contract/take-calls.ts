import { z } from 'zod'
import type { ScriptSplit } from '../align/split-script'
import type { TakeWords } from '../align/take-words'
import { Id } from '../project/fields'
import { call } from './call'

/// What a recording is of: one paragraph's words, a whole script's, or the quiet of the room.
export const takeKinds = ['paragraph', 'script', 'room'] as const

/// A recording of narration. Its bytes travel apart, see `takeAddress`.
export const Take = z.strictObject({
  id: Id,
  kind: z.enum(takeKinds),
  /// The paragraph it was recorded for; null for a sound file that came from elsewhere, a whole script and room tone.
  paragraph: Id.nullable(),
  /// Name of the file that it was brought in from, or of the recording that it was cut from; null where it was recorded here.
  source: z.string().nullable(),
  /// Name beside the project, once finished: what a paragraph's `take` says.
  file: z.string().nullable(),
  /// Bytes that are safe on disk; a recording that was broken off goes on from here.
  bytes: z.number(),
  /// Its exact length is `samples / sampleRate` seconds.
  sampleRate: z.int(),
  samples: z.int(),
  state: z.enum(['recording', 'finished']),
  /// The words that were to be said when it was recorded, lower case, numbers in words; null where nobody wrote them down.
  words: z.array(z.string()).nullable(),
})
export type Take = z.infer<typeof Take>

const Stretch = z.strictObject({ paragraph: Id, from: z.number().min(0).max(100_000), to: z.number().min(0).max(100_000) })

/// The words of a take in time; see `app/align/take-words`.
export const TakeWordsAnswer = z.strictObject({
  by: z.enum(['recogniser', 'reference']),
  words: z.array(z.strictObject({ word: z.string(), piece: z.int(), onset: z.number().nullable(), u: z.number() })),
  leftOut: z.array(z.string()),
  repeated: z.array(z.strictObject({ words: z.string(), first: z.number(), again: z.number() })),
  other: z.boolean(),
}) satisfies z.ZodType<TakeWords>

/// A recording of a whole script taken apart; see `app/align/split-script`.
export const ScriptSplitAnswer = z.strictObject({
  by: z.enum(['recogniser', 'reference']),
  pieces: z.array(Stretch.extend({ found: TakeWordsAnswer })),
  missing: z.array(Id),
  other: z.boolean(),
}) satisfies z.ZodType<ScriptSplit>

export const takeCalls = {
  'takes.begin': call(
    z.strictObject({ paragraph: Id.nullable(), sampleRate: z.int().min(8000).max(192_000) }),
    Take,
    'Begins a recording of a paragraph or, without one, of the room’s quiet: 16-bit little-endian samples, one channel, are then appended to its address.',
  ),
  'takes.words': call(
    z.strictObject({ take: z.string().min(1).max(1000), paragraph: Id }),
    TakeWordsAnswer,
    'Finds the paragraph’s words, as the script has them now, in a take (an id, or the file that the paragraph names). By the recogniser where one is installed, else by the reference voice with its larger u. Tying them to cues is an edit of its own.',
  ),
  'takes.split': call(
    z.strictObject({ take: Id }),
    ScriptSplitAnswer,
    'Finds the script’s paragraphs in a recording of all of it: where each begins and ends, its words, and which are not there. Nothing is written. Refused with `sound-not-split`.',
  ),
  'takes.cut': call(
    z.strictObject({ take: Id, pieces: z.array(Stretch).min(1).max(10_000) }),
    z.strictObject({ takes: z.array(Take) }),
    'Keeps stretches of a recording as takes of their paragraphs, in the order asked for; the recording stays. Giving them to their paragraphs is an edit of its own.',
  ),
  'takes.finish': call(
    z.strictObject({ take: Id }),
    Take,
    'Closes a recording as a WAV file. Giving it to its paragraph is an edit of its own.',
  ),
  'takes.list': call(
    z.strictObject({}),
    z.strictObject({ takes: z.array(Take) }),
    'Every recording of the project, broken-off ones included, and every sound file that a paragraph names.',
  ),
} as const
