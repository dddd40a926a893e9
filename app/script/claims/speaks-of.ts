import type { Breakdown } from '../../project/breakdown'
import { clipsOfShot } from '../../project/clips-of-shot'
import { DETERMINERS } from './english/direction-words'
import type { Word } from './language'
import { rememberedWords } from './remembered-words'

const ORDINALS: readonly string[] = ['first', 'second', 'third', 'fourth']

/// Whether a sentence may speak of a clip: not where it names somebody who is not on it, or one of several who are, another
/// clip by a part of its name, or "the second" of a clip that is not the second to be seen.
export function maySpeakOf(clip: string, words: readonly Word[], breakdown: Breakdown): boolean {
  const here = peopleOn(clip, breakdown)
  const named = breakdown.subjects.filter(({ name }) =>
    rememberedWords(name).some(({ text }) => words.some((word) => word.text === text || word.root === text)),
  )
  if (named.some(({ id }) => !here.has(id)) || (named.length > 0 && here.size > 1)) return false
  const called = (id: string): readonly string[] =>
    breakdown.clips
      .filter((each) => each.id === id)
      .flatMap(({ name, bout }) => [name ?? '', bout ?? ''])
      .flatMap((name) => name.toLowerCase().split(','))
      .map((part) => part.trim())
      .filter(Boolean)
  const own = called(clip)
  const said = ` ${words.map(({ text }) => text).join(' ')} `
  if (
    words.some(
      ({ text }, i) =>
        DETERMINERS.has(words[i - 1]?.text ?? '') && ORDINALS.includes(text) && shownOrder(breakdown)[ORDINALS.indexOf(text)] !== clip,
    )
  )
    return false
  return !breakdown.clips.some(({ id }) => id !== clip && called(id).some((part) => !own.includes(part) && said.includes(` ${part} `)))
}

/// Clips in the order in which the script shows them first, then those that it does not show.
export function shownOrder({ script, clips }: Breakdown): readonly string[] {
  const shown = script.flatMap((row) => ('text' in row ? (row.shots ?? []) : [])).flatMap(clipsOfShot)
  return [...new Set([...shown, ...clips.map(({ id }) => id)])]
}

function peopleOn(clip: string, { views, landmarks, measures }: Breakdown): ReadonlySet<string> {
  return new Set(
    [...(views ?? []), ...(landmarks ?? []), ...(measures ?? [])].flatMap((record) =>
      record.clip === clip && 'subject' in record && record.subject !== undefined ? [record.subject] : [],
    ),
  )
}
