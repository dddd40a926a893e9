import { filmTimeText } from '../programme/sentence-time'
import type { Programme } from '../programme/programme'
import { toNumber } from '../time/rational'
import { oneLine } from './plain-text'

/// Chapters as descriptions carry them: the first at 0:00, three or more, each of ten seconds or more (platforms' rule,
/// from memory). A film that does not keep it has none, and `told` says why.
export interface FilmChapters {
  readonly chapters: readonly { readonly at_s: number; readonly title: string; readonly seconds: number }[]
  /// Why a platform would not take them; empty when it would.
  readonly told: readonly string[]
}

const LEAST_CHAPTERS = 3
const LEAST_SECONDS = 10

export function chaptersOf(programme: Programme): FilmChapters {
  const rate = toNumber(programme.rate)
  const chapters = programme.chapters.map(({ title, frame }, i) => {
    const at_s = frame / rate
    return { at_s, title: oneLine(title), seconds: (programme.chapters[i + 1]?.frame ?? programme.frames) / rate - at_s }
  })
  const told: string[] = []
  if (chapters.length === 0) return { chapters, told: ['The script has no chapter headings.'] }
  if (chapters.length < LEAST_CHAPTERS)
    told.push(
      `There ${chapters.length === 1 ? 'is one chapter' : `are ${chapters.length} chapters`}; at least ${LEAST_CHAPTERS} are needed.`,
    )
  if ((chapters[0]?.at_s ?? 0) > 0) told.push(`The first chapter begins at ${filmTimeText(chapters[0]?.at_s ?? 0)}, not at 0:00.`)
  for (const { title, seconds } of chapters) {
    if (seconds < LEAST_SECONDS) told.push(`“${title}” lasts ${seconds.toFixed(1)} s; a chapter lasts at least ${LEAST_SECONDS} s.`)
    if (title === '') told.push('A chapter has no heading.')
  }
  return { chapters, told }
}

/// One line a chapter: "0:00 The question".
export const chapterLines = ({ chapters }: FilmChapters): string[] =>
  chapters.map(({ at_s, title }) => `${filmTimeText(at_s)} ${title || 'Untitled'}`)
