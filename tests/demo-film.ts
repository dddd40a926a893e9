import { readFileSync } from 'node:fs'
import { readBreakdown } from '../app/exchange/breakdown-reading'
import { cardSeconds } from '../app/marks/cards'
import { firstValueShot, type DrawContext } from '../app/marks/draw-context'
import { measureContext } from '../app/measure/context'
import type { Reading } from '../app/measure/reading'
import { readingsOf } from '../app/measure/readings'
import { layOut } from '../app/programme/lay-out'
import { ownRate } from '../app/programme/own-rate'
import type { Programme } from '../app/programme/programme'
import type { Breakdown } from '../app/project/breakdown'
import { headingText } from '../app/script/heading-text'
import { cueSeconds, speakingTime } from '../app/script/speaking-time'
import { evenFrameTable, type FrameTable } from '../app/time/frame-table'
import { rational, toNumber } from '../app/time/rational'
import { films } from '../demo-data/film/recipes'
import { typeface } from './unit/marks/scene'

/// The demo's film laid out from its document as it is made, without painting its footage: the films' lengths and rates
/// are their recipes', the takes' lengths were written down beside the document.
export interface DemoFilm {
  readonly breakdown: Breakdown
  readonly readings: ReadonlyMap<string, Reading>
  readonly programme: Programme
  readonly context: DrawContext
}

const text = (name: string): string => readFileSync(new URL(`data/demo/${name}`, import.meta.url), 'utf8')

export function demoFilm(): DemoFilm {
  const read = readBreakdown(text('two-right-hands.json'), 'two-right-hands.json')
  if (!read.ok) throw read.error
  const breakdown = read.value
  const lengths = JSON.parse(text('takes.json')) as Record<string, number>
  const recipeOf = (footage: string) =>
    films.find(({ name }) => `${name}.mp4` === breakdown.footage.find(({ id }) => id === footage)?.file)!
  const table = (footage: string): FrameTable => evenFrameTable(recipeOf(footage).frames, rational(recipeOf(footage).fileRate))
  const readings = new Map(readingsOf(breakdown, table).map((reading) => [reading.id, reading]))
  const face = typeface()
  const { rate } = ownRate(breakdown.script, readings)
  const programme = layOut(breakdown, {
    film: (footage) => ({ table: table(footage), width: recipeOf(footage).camera.width, height: recipeOf(footage).camera.height }),
    cardSeconds: (card) => rational(Math.ceil(cardSeconds(card, breakdown, face, breakdown.output) * 1000), 1000),
    takeSeconds: ({ id }) => (lengths[id] === undefined ? null : rational(Math.round(lengths[id] * 48_000), 48_000)),
    speakingSeconds: (paragraph) => speakingTime(paragraph, readings, rate).sound,
    chapterTitle: (chapter) => headingText(chapter, readings),
    cueSeconds: (paragraph, event) =>
      cueSeconds(paragraph, event, readings, { cueTimes: breakdown.cueTimes, sound: lengths[paragraph.id], rate }),
  })
  const context: DrawContext = {
    measures: measureContext(breakdown, table),
    readings,
    typeface: face,
    width: programme.width,
    height: programme.height,
    explainsErrorAt: firstValueShot(programme, readings),
  }
  return { breakdown, readings, programme, context }
}

/// Seconds of an output frame's start.
export const secondsOfFrame = (frame: number, { rate }: Programme): number => frame / toNumber(rate)
