import { describe, expect, it } from 'vitest'
import { intersection } from '../../../app/marks/box'
import { pagesOf, CURVE_SECONDS } from '../../../app/marks/cards'
import { readingSeconds } from '../../../app/script/caution-text'
import { curveFigure, drawCurve, PAPER } from '../../../app/marks/curve-figure'
import { drawFrame } from '../../../app/marks/frame-drawing'
import { letteringOf } from '../../../app/marks/lettering'
import { textBounds } from '../../../app/marks/set-text'
import type { Shape } from '../../../app/marks/shape'
import { usersOf } from '../../../app/measure/measure-users'
import { pictureOfShot } from '../../../app/programme/picture-at'
import type { CurveCard } from '../../../app/project/picture'
import { filmLabels, labelRemarks } from '../../../app/safety/film-label'
import { rational } from '../../../app/time/rational'
import { usesOfMeasure } from '../../../app/release/where-used'
import { breakdownOf, contextOf, FRAMES, laid, typeface } from './scene'

/// A measure's curve as a card of the film: the drawing that is saved as a file, in the film's type and colours.

type Text = Extract<Shape, { kind: 'text' }>
const face = typeface()
const textsOf = (shapes: readonly Shape[]): Text[] => shapes.flatMap((shape) => (shape.kind === 'text' ? [shape] : []))
const card: CurveCard = { card: 'curve', measure: 'elbow' }
const crowded = [['step', 28], ['load', 29], ['plant', 31], ['hips turn', 33], ['rear heel leaves the floor', 58], ['contact', 60], ['shoulders overtake the hips', 61], ['end of the punch', 117]] as const
const events = crowded.map(([name, frame], i) => ({ id: `n${i}`, clip: 'c1', name, earliest: frame, latest: frame }))

describe.each([{ width: 1920, height: 1080 }, { width: 1080, height: 1920 }, { width: 1080, height: 1080 }, { width: 640, height: 360 }])('a curve on a card of $width × $height', (size) => {
  const breakdown = breakdownOf(size, { events })
  const context = contextOf(breakdown)
  const [page] = pagesOf(card, context)
  const shapes = page!.shapes

  it('has its texts in readable type, inside the canvas, above the captions, clear of one another and of every event’s line', () => {
    const boxes = textsOf(shapes).map((text) => ({ text, box: textBounds(text, face) }))
    const { captionTop } = letteringOf(size.width, size.height)
    const lines = shapes.flatMap((shape) => (shape.kind === 'fill' && shape.opacity === 0.7 ? [shape.rings[0]!] : []))
    expect(lines).toHaveLength(events.length)
    for (const { text, box } of boxes) {
      expect(text.size).toBeGreaterThanOrEqual(0.04 * Math.min(size.width, size.height))
      expect(box.x).toBeGreaterThanOrEqual(0)
      expect(box.x + box.width).toBeLessThanOrEqual(size.width)
      expect(box.y).toBeGreaterThanOrEqual(0)
      expect(box.y + box.height).toBeLessThanOrEqual(captionTop + 1)
      for (const other of boxes) if (other.text !== text) expect(intersection(box, other.box), `${text.text} / ${other.text.text}`).toBeNull()
      for (const ring of lines) {
        const [xs, ys] = [ring.map(([x]) => x), ring.map(([, y]) => y)]
        const line = { x: Math.min(...xs), y: Math.min(...ys), width: Math.max(...xs) - Math.min(...xs), height: Math.max(...ys) - Math.min(...ys) }
        expect(intersection(box, line), text.text).toBeNull()
      }
    }
    expect(labelRemarks(filmLabels({ width: size.width, height: size.height, rate: rational(60), frames: 600, shots: [laid({ ...card, seconds: '12' }, breakdown)], paragraphs: [], chapters: [], findings: [] }, context), { width: size.width, height: size.height, rate: rational(60), frames: 600, shots: [], paragraphs: [], chapters: [], findings: [] }).map(({ code }) => code)).toEqual([])
  })

  it('shows the measure, its unit, its frames, the band, and a name for nearly every event', () => {
    const words = textsOf(shapes).map(({ text }) => text)
    expect(words.join(' ')).toContain('elbow angle')
    expect(words.join(' ')).toContain('band: our 95 % estimate')
    expect(words).toContain('100')
    expect(words.filter((word) => word.endsWith('°')).length).toBeGreaterThanOrEqual(3)
    expect(crowded.filter(([name]) => words.some((word) => word === name || (word.endsWith('…') && name.startsWith(word.slice(0, -1))))).length).toBeGreaterThanOrEqual(6)
    const [band] = shapes.flatMap((shape) => (shape.kind === 'fill' && shape.opacity === 0.3 ? [shape.rings[0]!] : []))
    expect(band).toHaveLength(2 * FRAMES)
  })
})

it('is the drawing that is saved, on other paper: the same points at the same shares of the axes', () => {
  const breakdown = breakdownOf()
  const context = contextOf(breakdown)
  const figure = curveFigure(context.measures.measure('elbow')!, context.measures, context.readings.get('elbow'))!
  const shares = (shapes: readonly Shape[]): number[] => {
    const [band] = shapes.flatMap((shape) => (shape.kind === 'fill' && shape.opacity === 0.3 ? [shape.rings[0]!] : []))
    const [xs, ys] = [band!.map(([x]) => x), band!.map(([, y]) => y)]
    return [...xs.map((x) => (x - Math.min(...xs)) / (Math.max(...xs) - Math.min(...xs))), ...ys.map((y) => (y - Math.min(...ys)) / (Math.max(...ys) - Math.min(...ys)))]
  }
  const [film, paper] = [shares(pagesOf(card, context)[0]!.shapes), shares(drawCurve(figure, face, PAPER))]
  film.forEach((share, i) => expect(share).toBeCloseTo(paper[i]!, 9))
  expect(drawFrame(pictureOfShot(laid(card, breakdown), 3), context)).toEqual(pagesOf(card, context)[0]!.shapes)
})

it('stands as long as its words take to read, under a line of the author’s own', () => {
  const context = contextOf(breakdownOf())
  const [page] = pagesOf({ ...card, lines: ['How the elbow opens'] }, context)
  expect(textsOf(page!.shapes)[0]!.text).toBe('How the elbow opens')
  expect(page!.seconds).toBe(CURVE_SECONDS)
  expect(readingSeconds(textsOf(page!.shapes).map(({ text }) => text).join(' '))).toBeLessThanOrEqual(CURVE_SECONDS)
})

it('says why there is no curve, and is a use of its measure', () => {
  const breakdown = breakdownOf(undefined, { script: [{ id: 'p1', text: [], shots: [card] }] })
  const context = contextOf(breakdown)
  const words = (measure: string): string => textsOf(pagesOf({ card: 'curve', measure }, context)[0]!.shapes).map(({ text }) => text).join(' ')
  expect(words('gone')).toContain('No curve: its measure is not there any more.')
  expect(words('time')).toContain('fewer than three frames')
  expect(usersOf(breakdown, 'elbow')).toEqual([{ kind: 'mark', paragraph: 'p1', shot: 0 }])
  expect(usesOfMeasure('elbow', breakdown, context.readings)).toEqual([{ as: 'card', place: 'script[0].shots[0]', paragraph: 'p1', words: 'its curve' }])
})
