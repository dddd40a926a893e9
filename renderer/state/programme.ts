import type { FilmFacts } from '../../app/contract/footage-calls'
import { cardSeconds } from '../../app/marks/cards'
import { drawContextOf, type DrawContext } from '../../app/marks/draw-context'
import type { Typeface } from '../../app/marks/typeface'
import { measureContext } from '../../app/measure/context'
import { layOut } from '../../app/programme/lay-out'
import type { ShotContext } from '../../app/programme/lay-shot'
import { ownRate } from '../../app/programme/own-rate'
import { withoutFilms } from '../../app/programme/gone-films'
import type { Programme } from '../../app/programme/programme'
import { threadsOf, type Thread } from '../../app/programme/threads'
import type { Breakdown } from '../../app/project/breakdown'
import { clipsOfShot } from '../../app/project/clips-of-shot'
import type { Paragraph } from '../../app/project/picture'
import { headingText } from '../../app/script/heading-text'
import { cueSeconds, speakingTime } from '../../app/script/speaking-time'
import { rational, toNumber } from '../../app/time/rational'
import type { Shown } from './shown'

/// The film as it would be rendered now, what its marks are drawn from, and how its words meet its pictures.
export interface LaidFilm {
  readonly programme: Programme
  readonly context: DrawContext
  readonly threads: readonly Thread[]
}

/// What one shot is laid out from. Throws for footage that has not been read.
export function shotContextOf(
  { breakdown, tables, films }: Pick<Shown, 'tables' | 'films'> & { readonly breakdown: Breakdown },
  typeface: Typeface,
): ShotContext {
  return {
    breakdown,
    output: breakdown.output,
    film: (footage) => {
      const [facts, table] = [films.get(footage), tables.get(footage)]
      if (!table) throw new RangeError(`footage ${footage} has not been read`)
      return { table, width: facts?.width ?? 16, height: facts?.height ?? 9 }
    },
    cardSeconds: (card) => rational(Math.ceil(cardSeconds(card, breakdown, typeface, breakdown.output) * 1000), 1000),
  }
}

/// Whether a film cannot be shown until a person finds it again.
export const isGone = (film: FilmFacts | undefined): boolean =>
  film !== undefined && (film.state === 'missing' || film.state === 'changed' || film.state === 'unreadable')

/// What is said of a film that is gone: which one it is, and how it is found.
export function goneWords({ file, state }: FilmFacts): readonly [string, string] {
  const name = file.split(/[\\/]/).at(-1) ?? file
  if (state === 'unreadable') return [`The film “${name}” cannot be read`, 'Footage says why. Its shots stand here again once it can.']
  return [
    `The film “${name}” ${state === 'changed' ? 'is another film now' : 'is not there'}`,
    'Say in Footage where it lies now. Its shots stand here again once it is found.',
  ]
}

/// Null while a film that a shot shows is being read. A film that is gone holds nothing up: plain cards stand in for its shots.
export function programmeOf(
  project: Pick<Shown, 'breakdown' | 'tables' | 'films' | 'readings' | 'takes'>,
  typeface: Typeface | null,
): LaidFilm | null {
  const { breakdown, tables, films, readings, takes } = project
  if (!breakdown || !typeface) return null
  const gone = new Map([...films.values()].filter(isGone).map((film) => [film.id, goneWords(film)]))
  const shownIn = new Set(breakdown.script.flatMap((row) => ('text' in row ? (row.shots ?? []) : [])).flatMap(clipsOfShot))
  if (breakdown.clips.some(({ id, footage }) => shownIn.has(id) && !gone.has(footage) && !tables.has(footage))) return null
  const shown = withoutFilms(breakdown, gone)
  const { rate } = ownRate(breakdown.script, readings)
  const take = (name: string | undefined) => (name === undefined ? null : (takes.get(name) ?? null))
  const cueAt = (paragraph: Paragraph, event: string): number | null => {
    const sound = take(paragraph.take)
    return cueSeconds(paragraph, event, readings, { cueTimes: breakdown.cueTimes, sound: sound ? toNumber(sound) : undefined, rate })
  }
  const programme = layOut(shown, {
    ...shotContextOf({ breakdown: shown, tables, films }, typeface),
    takeSeconds: (paragraph) => take(paragraph.take),
    speakingSeconds: (paragraph) => speakingTime(paragraph, readings, rate).sound,
    chapterTitle: (chapter) => headingText(chapter, readings),
    cueSeconds: cueAt,
  })
  const context = drawContextOf(
    programme,
    measureContext(breakdown, (footage) => tables.get(footage) ?? null),
    readings,
    typeface,
  )
  return { programme, context, threads: threadsOf(breakdown, programme, cueAt) }
}
