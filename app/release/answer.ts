import { readFilmTime, sentenceAt } from '../programme/sentence-time'
import type { Breakdown } from '../project/breakdown'
import type { Evidence } from '../project/claim'
import type { Correction, Release, ReleasedFile, Said, SaidEvent, SaidReference, SaidValue } from '../project/release'
import { withBeneath } from './beneath-measure'
import { oneLine } from './plain-text'

/// What stands behind a moment of a published film: "08:12, how do you know?". It is taken from the release alone, so it
/// needs neither the project's present values nor the footage.
export interface FilmAnswer {
  readonly release: Release
  readonly asked_s: number
  /// The sentence said then, or last before it.
  readonly sentence: Said
  readonly values: readonly SaidValue[]
  readonly events: readonly SaidEvent[]
  readonly stills: readonly AnsweredStill[]
  readonly references: readonly SaidReference[]
  /// Earlier films that it rests on, and what they say.
  readonly films: readonly EarlierFilm[]
  /// What the take's file was known by.
  readonly takeSha256: string | null
  readonly film: ReleasedFile | null
  /// Notes on this version that name one of its values, events or references.
  readonly corrections: readonly Correction[]
}

/// A kept still: which frame of which clip it shows, when that stands in the file, and what the file is. Versions that did not
/// keep a name, a time or a source have the project's, or none.
export interface AnsweredStill {
  readonly name: string
  readonly clip: string
  readonly clipName: string
  readonly frame: number | null
  readonly at_s: number | null
  readonly file: string
  readonly source: string
}

export type EarlierFilm = Extract<Evidence, { film: unknown }>

export type AnswerProblem = 'no-time' | 'no-release' | 'no-words'

/// Answers a question that holds a time of the film. `release`: which version; the latest when absent.
export function answerAt(breakdown: AnswerMatter, question: string, release?: string): FilmAnswer | AnswerProblem {
  const seconds = readFilmTime(question)
  if (seconds === null) return 'no-time'
  const releases = breakdown.releases ?? []
  const from = release === undefined ? releases.at(-1) : releases.find(({ id, version }) => id === release || version === release)
  if (!from) return 'no-release'
  const sentences = from.said
    .filter((said) => said.as === 'sentence')
    .map((said) => ({ said, from_s: said.from_s ?? 0, to_s: said.to_s ?? 0 }))
  const sentence = sentenceAt(sentences, seconds)?.said
  if (!sentence) return 'no-words'
  const files = new Map(from.files.map((file) => [file.name, file]))
  const stills = (sentence.stills ?? []).flatMap((name) => files.get(name) ?? []).map((file) => answeredStill(file, from, breakdown))
  const wanted = withBeneath(sentence.values ?? [], from, breakdown)
  const cited = (sentence.references ?? []).map(
    (id) => from.references?.find((each) => each.id === id) ?? { id, text: titleOf(id, breakdown) },
  )
  const values = from.values.filter((value) => wanted.has(value.measure))
  const named = new Set([...(sentence.events ?? []), ...values.flatMap((value) => value.events)])
  return {
    release: from,
    asked_s: seconds,
    sentence,
    values,
    events: from.events.filter((event) => named.has(event.id)),
    stills,
    references: cited,
    films: (sentence.evidence ?? []).flatMap((each) => (typeof each === 'object' && 'film' in each ? [each] : [])),
    takeSha256: sentence.take === undefined ? null : (files.get(sentence.take)?.sha256 ?? null),
    film: from.files.find(({ name }) => name.endsWith('.mp4')) ?? null,
    corrections: (breakdown.corrections ?? []).filter(
      (note) =>
        note.release === from.id &&
        note.changes.some(({ id }) => id !== undefined && (wanted.has(id) || named.has(id) || sentence.references?.includes(id))),
    ),
  }
}

type AnswerMatter = Partial<Pick<Breakdown, 'releases' | 'corrections' | 'measures' | 'references' | 'clips'>>

function answeredStill({ name, still }: ReleasedFile, release: Release, { clips = [] }: AnswerMatter): AnsweredStill {
  const clip = release.clips?.find(({ id }) => id === still?.clip) ?? clips.find(({ id }) => id === still?.clip)
  const footage = release.footage.find(({ id }) => id === clip?.footage)
  return {
    name,
    clip: still?.clip ?? '',
    clipName: clip?.name ?? still?.clip ?? '',
    frame: still?.frame ?? null,
    at_s: still?.at_s ?? null,
    file: footage?.file ?? '',
    source: footage?.source ?? '',
  }
}

/// What the project calls a reference whose printed text a version did not keep.
function titleOf(id: string, { references = [] }: AnswerMatter): string {
  const title: unknown = references.find((each) => each.id === id)?.csl['title']
  return typeof title === 'string' && title.trim() !== '' ? oneLine(title) : id
}

export const ANSWER_PROBLEMS: Readonly<Record<AnswerProblem, string>> = {
  'no-time': 'Type a time of the film, such as 8:12.',
  'no-release': 'No version has been published yet: an answer comes from what went out.',
  'no-words': 'Nothing is said in this version.',
}
