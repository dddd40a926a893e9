import type { Breakdown } from '../../project/breakdown'
import { checkedWords } from './checked-words'

/// Words that a breakdown itself vouches for, in lower case: names of people, clips, events and authors, and those that
/// somebody kept.
export function ownWords({
  subjects,
  clips,
  events,
  references,
  vocabulary,
}: Pick<Breakdown, 'subjects' | 'clips' | 'events' | 'references' | 'vocabulary'>): ReadonlySet<string> {
  const texts = [
    ...subjects.map(({ name }) => name),
    ...clips.map(({ name }) => name),
    ...(events ?? []).map(({ name }) => name),
    ...(references ?? []).flatMap(({ csl }) => authorsOf(csl['author'])),
    ...(vocabulary ?? []),
  ]
  return new Set(texts.flatMap((text) => (text === undefined ? [] : checkedWords(text).map(({ word }) => word.toLowerCase()))))
}

/// The names of CSL-JSON's authors. What is not of that shape names nobody.
function authorsOf(authors: unknown): string[] {
  const people: readonly unknown[] = Array.isArray(authors) ? authors : []
  return people.flatMap((person) =>
    typeof person === 'object' && person !== null ? Object.values(person).filter((part): part is string => typeof part === 'string') : [],
  )
}
