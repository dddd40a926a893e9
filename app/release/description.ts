import { filmTimeText } from '../programme/sentence-time'
import type { Breakdown } from '../project/breakdown'
import { chapterLines, type FilmChapters } from './chapters'
import type { Notices } from './notices'
import { cleanLines, oneLine } from './plain-text'
import type { SourceUse } from './source-use'

/// What copyright is for others to judge.
export const SOURCES_NOTE =
  'Clips belong to their owners. Whether a use is allowed depends on the law of each country and on the platform’s rules; nothing here decides that.'

/// How the values were made, in the words of the method note.
export const METHOD_NOTE: readonly string[] = [
  'Values are measured on single frames of the film by placing points by hand or by tracking them, and stand with their error.',
  '± is our 95 % estimate. One camera: angles are those that the picture shows ("apparent") unless a limb’s plane is stated.',
  'Times count only where it is known how fast the film was really shot; elsewhere frames are counted.',
  'Two values are called different only where they differ by more than both errors allow.',
]

export interface DescriptionInput {
  readonly breakdown: Breakdown
  readonly chapters: FilmChapters
  readonly sources: readonly SourceUse[]
  /// References as they are printed, in the order of the list.
  readonly references: readonly string[]
  readonly notices: Notices
}

/// The text that goes beside the film where it is put up: question, chapters, method, sources and rights, references,
/// earlier films, corrections, health note.
export function descriptionText({ breakdown, chapters, sources, references, notices }: DescriptionInput): string {
  const blocks: string[][] = []
  if (breakdown.question?.trim()) blocks.push(['The question', ...cleanLines(breakdown.question)])
  if (notices.start) blocks.push(cleanLines(notices.start))
  if (chapters.told.length === 0) blocks.push(['Chapters', ...chapterLines(chapters)])
  blocks.push(['How it was measured', ...METHOD_NOTE])
  if (sources.length > 0) blocks.push(['Footage', ...sources.map(sourceLine), SOURCES_NOTE])
  if (references.length > 0) blocks.push(['References', ...references.map((text, i) => `${i + 1}. ${oneLine(text)}`)])
  const earlier = earlierFilms(breakdown)
  if (earlier.length > 0) blocks.push(['Earlier films', ...earlier])
  const corrections = correctionLines(breakdown)
  if (corrections.length > 0) blocks.push(['Corrections', ...corrections])
  for (const { label, text } of notices.end) blocks.push([...(label ? [label] : ['Please keep in mind']), ...cleanLines(text)])
  return `${[[oneLine(breakdown.title)], ...blocks].map((lines) => lines.join('\n')).join('\n\n')}\n`
}

function sourceLine(use: SourceUse): string {
  const facts = [use.credit || use.owner, use.where, use.when].map(oneLine).filter(Boolean).join(', ')
  const used = `${use.used_s.toFixed(1)} s of ${use.length_s.toFixed(1)} s, ${Math.round(100 * use.analysed)} % of its time with narration or marks`
  return `${facts || oneLine(use.file)}: ${used}${use.basis ? `; ${oneLine(use.basis)}` : ''}`
}

function earlierFilms(breakdown: Breakdown): string[] {
  const lines = (breakdown.claims ?? []).flatMap((claim) =>
    (claim.evidence ?? []).flatMap((evidence) =>
      typeof evidence === 'object' && 'film' in evidence
        ? [`${oneLine(evidence.film)}, ${oneLine(evidence.at)}${evidence.says ? `: ${oneLine(evidence.says)}` : ''}`]
        : [],
    ),
  )
  return [...new Set(lines)]
}

/// Dated notes on published versions, each one line. What a note does not say itself is said behind it: its date, the
/// old value and the new one, and where it was said; so that the old value stands there however the note is worded.
export function correctionLines(breakdown: Breakdown): string[] {
  const releases = new Map((breakdown.releases ?? []).map((release) => [release.id, release]))
  return (breakdown.corrections ?? [])
    .filter(({ state }) => state === 'published')
    .map(({ date, note, release, changes }) => {
      const of = releases.get(release)
      const said = oneLine(note)
      const untold = changes.filter(({ was, now }) => !said.includes(oneLine(was)) || !said.includes(oneLine(now)))
      const places = [...new Set(untold.flatMap((change) => change.at_s ?? []))].sort((a, b) => a - b).map(filmTimeText)
      const what = untold.map(({ was, now }) => `was ${oneLine(was)}, now ${oneLine(now)}`).join('; ')
      const dated = said.includes(oneLine(date)) ? said : `${oneLine(date)}${of ? ` (version ${oneLine(of.version)})` : ''}: ${said}`
      return `${dated}${what ? ` ${what}.` : ''}${places.length > 0 ? ` At ${places.join(', ')}.` : ''}`
    })
}
