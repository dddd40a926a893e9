import type { Programme } from '../../app/programme/programme'
import { timedSentences } from '../../app/programme/sentence-time'
import type { Breakdown } from '../../app/project/breakdown'
import { quotedKey } from '../../app/project/claim'
import type { Readings } from '../../app/script/spoken-form'

/// When each sentence is said, in seconds of the film as it would be rendered now, by what it is quoted as. Before its take is
/// there, by how long its words take.
export const saidAt = (programme: Programme, breakdown: Breakdown, readings: Readings): ReadonlyMap<string, number> =>
  new Map(
    timedSentences(programme, breakdown, readings).map(({ paragraph, words, nth, from_s }) => [
      quotedKey({ part: 'sentence', paragraph, words, ...(nth > 0 ? { nth } : {}) }),
      from_s,
    ]),
  )
