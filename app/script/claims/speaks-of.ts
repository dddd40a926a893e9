import type { Breakdown } from '../../project/breakdown'
import type { Word } from './language'
import { rememberedWords } from './remembered-words'

/// Whether a sentence may speak of a clip: not where it names somebody who is not on it, or one of several who are, or another
/// clip by a part of its name.
export function maySpeakOf(clip: string, words: readonly Word[], breakdown: Breakdown): boolean {
  const here = peopleOn(clip, breakdown)
  const named = breakdown.subjects.filter(({ name }) => rememberedWords(name).some(({ text }) => words.some((word) => word.text === text || word.root === text)))
  if (named.some(({ id }) => !here.has(id)) || (named.length > 0 && here.size > 1)) return false
  const called = (id: string): readonly string[] => breakdown.clips.filter((each) => each.id === id).flatMap(({ name, bout }) => [name ?? '', bout ?? '']).flatMap((name) => name.toLowerCase().split(',')).map((part) => part.trim()).filter(Boolean)
  const own = called(clip)
  const said = ` ${words.map(({ text }) => text).join(' ')} `
  return !breakdown.clips.some(({ id }) => id !== clip && called(id).some((part) => !own.includes(part) && said.includes(` ${part} `)))
}

function peopleOn(clip: string, { views, landmarks, measures }: Breakdown): ReadonlySet<string> {
  return new Set([...(views ?? []), ...(landmarks ?? []), ...(measures ?? [])].flatMap((record) => (record.clip === clip && 'subject' in record && record.subject !== undefined ? [record.subject] : [])))
}
