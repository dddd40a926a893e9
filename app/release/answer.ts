import { readFilmTime, sentenceAt } from '../programme/sentence-time'
import type { Breakdown } from '../project/breakdown'
import type { Correction, Release, ReleasedFile, Said, SaidEvent, SaidValue } from '../project/release'

/// What stands behind a moment of a published film: "08:12, how do you know?". It is taken from the release alone, so it
/// needs neither the project's present values nor the footage.
export interface FilmAnswer {
  readonly release: Release
  readonly asked_s: number
  /// The sentence said then, or last before it.
  readonly sentence: Said
  readonly values: readonly SaidValue[]
  readonly events: readonly SaidEvent[]
  readonly stills: readonly ReleasedFile[]
  /// What the take's file was known by.
  readonly takeSha256: string | null
  readonly film: ReleasedFile | null
  /// Notes on this version that name one of its values or events.
  readonly corrections: readonly Correction[]
}

export type AnswerProblem = 'no-time' | 'no-release' | 'no-words'

/// Answers a question that holds a time of the film. `release`: which version; the latest when absent.
export function answerAt(breakdown: Pick<Breakdown, 'releases' | 'corrections' | 'measures'>, question: string, release?: string): FilmAnswer | AnswerProblem {
  const seconds = readFilmTime(question)
  if (seconds === null) return 'no-time'
  const releases = breakdown.releases ?? []
  const from = release === undefined ? releases.at(-1) : releases.find(({ id, version }) => id === release || version === release)
  if (!from) return 'no-release'
  const sentences = from.said.filter((said) => said.as === 'sentence').map((said) => ({ said, from_s: said.from_s ?? 0, to_s: said.to_s ?? 0 }))
  const sentence = sentenceAt(sentences, seconds)?.said
  if (!sentence) return 'no-words'
  const files = new Map(from.files.map((file) => [file.name, file]))
  const stills = (sentence.stills ?? []).flatMap((name) => files.get(name) ?? [])
  const wanted = new Set(sentence.values ?? [])
  for (const measure of breakdown.measures ?? []) if ('measures' in measure && wanted.has(measure.id)) for (const id of measure.measures) wanted.add(id)
  const values = from.values.filter((value) => wanted.has(value.measure))
  const named = new Set([...(sentence.events ?? []), ...values.flatMap((value) => value.events)])
  return {
    release: from,
    asked_s: seconds,
    sentence,
    values,
    events: from.events.filter((event) => named.has(event.id)),
    stills,
    takeSha256: sentence.take === undefined ? null : (files.get(sentence.take)?.sha256 ?? null),
    film: from.files.find(({ name }) => name.endsWith('.mp4')) ?? null,
    corrections: (breakdown.corrections ?? []).filter((note) => note.release === from.id && note.changes.some(({ id }) => id !== undefined && (wanted.has(id) || named.has(id)))),
  }
}

export const ANSWER_PROBLEMS: Readonly<Record<AnswerProblem, string>> = {
  'no-time': 'Type a time of the film, such as 8:12.',
  'no-release': 'No version has been published yet: an answer comes from what went out.',
  'no-words': 'Nothing is said in this version.',
}
