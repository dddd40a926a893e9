import { z } from 'zod'
import { Id } from '../project/fields'
import { call } from './call'

/// A recording of one paragraph's narration. Its bytes travel apart, see `takeAddress`.
export const Take = z.strictObject({
  id: Id,
  /// The paragraph it was recorded for; null for a sound file that came from elsewhere.
  paragraph: Id.nullable(),
  /// Name beside the project, once finished: what a paragraph's `take` says.
  file: z.string().nullable(),
  /// Bytes that are safe on disk; a recording that was broken off goes on from here.
  bytes: z.number(),
  /// Its exact length is `samples / sampleRate` seconds.
  sampleRate: z.int(),
  samples: z.int(),
  state: z.enum(['recording', 'finished']),
})
export type Take = z.infer<typeof Take>

export const takeCalls = {
  'takes.begin': call(
    z.strictObject({ paragraph: Id, sampleRate: z.int().min(8000).max(192_000) }),
    Take,
    'Begins a recording: 16-bit little-endian samples, one channel, are then appended to its address.',
  ),
  'takes.finish': call(z.strictObject({ take: Id }), Take, 'Closes a recording as a WAV file. Giving it to its paragraph is an edit of its own.'),
  'takes.list': call(z.strictObject({}), z.strictObject({ takes: z.array(Take) }), 'Every recording of the project, broken-off ones included, and every sound file that a paragraph names.'),
} as const
