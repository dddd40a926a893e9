import { writeAss } from '../../app/marks/ass'
import { burnCaptions, type BurnedCaption } from '../../app/marks/burned-caption'
import { cardSeconds } from '../../app/marks/cards'
import { drawContextOf, type DrawContext } from '../../app/marks/draw-context'
import { drawShot } from '../../app/marks/frame-drawing'
import { cutSpans, type Span } from '../../app/marks/span'
import type { Typeface } from '../../app/marks/typeface'
import { measureContext } from '../../app/measure/context'
import type { Reading } from '../../app/measure/reading'
import { readingsOf } from '../../app/measure/readings'
import { captionsOf } from '../../app/programme/caption'
import { layOut } from '../../app/programme/lay-out'
import type { LaidShot, Programme } from '../../app/programme/programme'
import type { Breakdown } from '../../app/project/breakdown'
import type { Paragraph } from '../../app/project/picture'
import { DRAFT, draftOutput, FINAL, type Encoding } from '../../app/render/encoding'
import { segmentJobs, type SegmentJob } from '../../app/render/segments'
import { sourceFacts } from '../../app/render/source-facts'
import { ownRate } from '../../app/programme/own-rate'
import { headingText } from '../../app/script/heading-text'
import { cueSeconds, speakingTime } from '../../app/script/speaking-time'
import { rational, toNumber, type Rational } from '../../app/time/rational'
import type { FilmLibrary, LibraryFilm } from '../media/film-library'

/// Everything about a film that is decided before the first picture is made.
export interface FilmPlan {
  readonly breakdown: Breakdown
  readonly films: ReadonlyMap<string, LibraryFilm>
  readonly readings: ReadonlyMap<string, Reading>
  readonly programme: Programme
  readonly takes: ReadonlyMap<string, TakeFile>
  /// Captions that are part of the picture; none where they go beside the film.
  readonly captions: readonly BurnedCaption[]
  readonly jobs: readonly SegmentJob[]
}

/// A paragraph's recording as a file.
export interface TakeFile {
  readonly path: string
  readonly seconds: Rational
}

export interface PlanInput {
  readonly breakdown: Breakdown
  readonly library: FilmLibrary
  readonly typeface: Typeface
  readonly takes: ReadonlyMap<string, TakeFile>
  readonly draft: boolean
  /// Whether the captions become part of the picture.
  readonly burnCaptions?: boolean | undefined
  /// Output frames to make; the whole film when absent.
  readonly from?: number | undefined
  readonly to?: number | undefined
  readonly onProgress?: ((line: string) => void) | undefined
}

/// Footage that some clip uses, opened. Rejects with the first film's CodedError.
export async function openFilms(
  breakdown: Breakdown,
  library: FilmLibrary,
  onProgress?: (line: string) => void,
): Promise<Map<string, LibraryFilm>> {
  const used = new Set(breakdown.clips.map((clip) => clip.footage))
  const films = new Map<string, LibraryFilm>()
  for (const footage of breakdown.footage) {
    if (used.has(footage.id))
      films.set(footage.id, await library.film(footage, (done) => onProgress?.(`reading ${footage.file}: ${Math.round(done * 100)} %`)))
  }
  return films
}

/// Readings by measure id.
export const readingTable = (breakdown: Breakdown, films: ReadonlyMap<string, LibraryFilm>): Map<string, Reading> =>
  new Map(readingsOf(breakdown, (footage) => films.get(footage)?.table ?? null).map((reading) => [reading.id, reading]))

/// Lays the film out and describes every segment. Rejects with CodedError when a film is missing.
export async function planFilm(input: PlanInput): Promise<FilmPlan> {
  const { library, typeface, takes } = input
  const breakdown = input.draft ? { ...input.breakdown, output: draftOutput(input.breakdown.output) } : input.breakdown
  const films = await openFilms(breakdown, library, input.onProgress)
  const readings = readingTable(breakdown, films)
  const programme = programmeOf(breakdown, films, readings, takes, typeface)
  const captions = input.burnCaptions
    ? burnCaptions(captionsOf(breakdown, programme, readings), programme, drawContext(breakdown, programme, films, readings, typeface))
    : []
  const jobs = jobsOf({ ...input, breakdown, programme, films, readings, captions, encoding: input.draft ? DRAFT : FINAL })
  return { breakdown, films, readings, programme, takes, captions, jobs }
}

export interface JobsInput {
  readonly breakdown: Breakdown
  readonly programme: Programme
  readonly films: ReadonlyMap<string, LibraryFilm>
  readonly readings: ReadonlyMap<string, Reading>
  readonly typeface: Typeface
  readonly library: FilmLibrary
  readonly encoding: Encoding
  readonly captions?: readonly BurnedCaption[] | undefined
  readonly from?: number | undefined
  readonly to?: number | undefined
}

/// What a film's marks are drawn from.
export function drawContext(
  breakdown: Breakdown,
  programme: Programme,
  films: ReadonlyMap<string, LibraryFilm>,
  readings: ReadonlyMap<string, Reading>,
  typeface: Typeface,
): DrawContext {
  return drawContextOf(
    programme,
    measureContext(breakdown, (footage) => films.get(footage)?.table ?? null),
    readings,
    typeface,
  )
}

/// The segments of output frames [from, to), each with its marks drawn.
export function jobsOf(input: JobsInput): SegmentJob[] {
  const { breakdown, programme, films, readings, typeface, library, captions = [] } = input
  const context: DrawContext = { ...drawContext(breakdown, programme, films, readings, typeface), captions }
  const drawn = new Map<LaidShot, readonly Span[]>()
  return segmentJobs(programme, {
    encoding: input.encoding,
    fpsMode: library.tool.has.fpsMode,
    source: (footage) => sourceFacts(filmOf(films, footage), library.tool.has),
    writeMarks: (shot, from, to) => {
      const spans = drawn.get(shot) ?? drawShot(shot, context)
      drawn.set(shot, spans)
      const shown = cutSpans(spans, from, to)
      return shown.length === 0 ? null : writeAss(shown, { width: programme.width, height: programme.height, frames: to - from, typeface })
    },
    from: input.from,
    to: input.to,
  })
}

/// The programme of a breakdown whose films and takes are known.
export function programmeOf(
  breakdown: Breakdown,
  films: ReadonlyMap<string, LibraryFilm>,
  readings: ReadonlyMap<string, Reading>,
  takes: ReadonlyMap<string, TakeFile>,
  typeface: Typeface,
): Programme {
  const { rate } = ownRate(breakdown.script, readings)
  const takeOf = (paragraph: Paragraph): TakeFile | undefined => takes.get(paragraph.id)
  return layOut(breakdown, {
    film: (footage) => {
      const film = filmOf(films, footage)
      return { table: film.table, width: film.head.width, height: film.head.height }
    },
    cardSeconds: (card) => rational(Math.ceil(cardSeconds(card, breakdown, typeface, breakdown.output) * 1000), 1000),
    takeSeconds: (paragraph) => takeOf(paragraph)?.seconds ?? null,
    // The words alone: the layout adds its own breath behind them.
    speakingSeconds: (paragraph) => speakingTime(paragraph, readings, rate).sound,
    chapterTitle: (chapter) => headingText(chapter, readings),
    cueSeconds: (paragraph, event) => {
      const take = takeOf(paragraph)
      return cueSeconds(paragraph, event, readings, {
        cueTimes: breakdown.cueTimes,
        sound: take ? toNumber(take.seconds) : undefined,
        rate,
      })
    },
  })
}

function filmOf(films: ReadonlyMap<string, LibraryFilm>, footage: string): LibraryFilm {
  const film = films.get(footage)
  if (!film) throw new RangeError(`footage ${footage} was not opened`)
  return film
}
