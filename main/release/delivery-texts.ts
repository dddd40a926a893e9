import { writeBreakdown } from '../../app/exchange/breakdown-writing'
import { writeEdl } from '../../app/exchange/edit-decision-list'
import { timelineOf } from '../../app/exchange/film-timeline'
import { writeOtio } from '../../app/exchange/otio'
import { readingsCsv } from '../../app/exchange/readings-csv'
import { writeSubRip } from '../../app/exchange/sub-rip'
import { writeWebVtt } from '../../app/exchange/web-vtt'
import type { DrawContext } from '../../app/marks/draw-context'
import type { Reading } from '../../app/measure/reading'
import { captionsOf, type Caption } from '../../app/programme/caption'
import type { Programme } from '../../app/programme/programme'
import { timedSentences, type TimedSentence } from '../../app/programme/sentence-time'
import type { Breakdown } from '../../app/project/breakdown'
import { chapterLines, chaptersOf, type FilmChapters } from '../../app/release/chapters'
import { descriptionText } from '../../app/release/description'
import type { ReportedReference } from '../../app/release/reported-reference'
import { noticesOf, type Notices } from '../../app/release/notices'
import { sourceUses, type SourceUse } from '../../app/release/source-use'
import type { FrameTable } from '../../app/time/frame-table'
import type { LibraryFilm } from '../media/film-library'
import { referenceList } from './reference-list'

/// What every text of a delivery is written from.
export interface DeliveryMatter {
  readonly breakdown: Breakdown
  readonly programme: Programme
  readonly films: ReadonlyMap<string, LibraryFilm>
  readonly readings: ReadonlyMap<string, Reading>
  readonly context: DrawContext
  readonly captions: readonly Caption[]
  readonly sentences: readonly TimedSentence[]
  readonly chapters: FilmChapters
  readonly sources: readonly SourceUse[]
  readonly references: readonly ReportedReference[]
  readonly notices: Notices
}

export function deliveryMatter(parts: Pick<DeliveryMatter, 'breakdown' | 'programme' | 'films' | 'readings' | 'context'>): DeliveryMatter {
  const { breakdown, programme, films, readings } = parts
  const table = tableIn(films)
  return {
    ...parts,
    captions: captionsOf(breakdown, programme, readings),
    sentences: timedSentences(programme, breakdown, readings),
    chapters: chaptersOf(programme),
    sources: sourceUses(programme, breakdown, table),
    references: referenceList(breakdown),
    notices: noticesOf(breakdown),
  }
}

/// References that something said rests on: what was only read is no source of the film.
function citedReferences({ breakdown, references, sentences }: DeliveryMatter): ReportedReference[] {
  const evidence = (breakdown.claims ?? []).flatMap(({ evidence: rests = [] }) =>
    rests.flatMap((each) => (typeof each === 'object' && 'reference' in each ? [each.reference] : [])),
  )
  const cited = new Set([...sentences.flatMap((sentence) => sentence.references), ...evidence])
  return references.filter(({ id }) => cited.has(id))
}

const tableIn =
  (films: ReadonlyMap<string, LibraryFilm>) =>
  (footage: string): FrameTable => {
    const film = films.get(footage)
    if (!film) throw new RangeError(`footage ${footage} was not opened`)
    return film.table
  }

export interface TextFile {
  readonly name: string
  readonly text: string
  /// What it is, for the manifest.
  readonly what: string
}

/// The kinds of text, by the words that the command line asks for them with.
export const deliveryTexts: Readonly<
  Record<
    'vtt' | 'srt' | 'otio' | 'edl' | 'csv' | 'description' | 'chapters' | 'document',
    (matter: DeliveryMatter, stem: string) => TextFile
  >
> = {
  vtt: ({ captions }, stem) => ({ name: `${stem}.vtt`, text: writeWebVtt(captions), what: 'captions, WebVTT' }),
  srt: ({ captions }, stem) => ({ name: `${stem}.srt`, text: writeSubRip(captions), what: 'captions, SubRip' }),
  otio: (matter, stem) => ({
    name: `${stem}.otio`,
    text: writeOtio(timelineOf(matter.programme, matter.breakdown, tableIn(matter.films))),
    what: 'timeline, OpenTimelineIO; footage and recordings are named as they lie beside the project, not in this folder: keep it there, or link them in the editor',
  }),
  edl: (matter, stem) => ({
    name: `${stem}.edl`,
    text: writeEdl(timelineOf(matter.programme, matter.breakdown, tableIn(matter.films))),
    what: 'timeline, edit decision list (CMX 3600)',
  }),
  csv: ({ readings }, stem) => ({
    name: `${stem}-readings.csv`,
    text: readingsCsv([...readings.values()]),
    what: 'every reading with its error and unit',
  }),
  description: (matter, stem) => ({
    name: `${stem}-description.txt`,
    text: descriptionText({ ...matter, references: citedReferences(matter).map(({ text }) => text) }),
    what: 'text to go with the film',
  }),
  chapters: ({ chapters }, stem) => ({
    name: `${stem}-chapters.txt`,
    text: [...chapterLines(chapters), ...chapters.told.map((why) => `(${why})`)].join('\n') + '\n',
    what: 'chapters',
  }),
  document: ({ breakdown }, stem) => ({ name: `${stem}.json`, text: writeBreakdown(breakdown), what: 'the breakdown document' }),
}
