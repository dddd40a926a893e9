import { describe, expect, it } from 'vitest'
import { intersection } from '../../../app/marks/box'
import { cardSeconds, pagesOf, CURVE_SECONDS } from '../../../app/marks/cards'
import { readingSeconds } from '../../../app/script/caution-text'
import { drawCurve } from '../../../app/marks/curve-drawing'
import { curveFigure } from '../../../app/marks/curve-figure'
import { PAPER } from '../../../app/marks/curve-page'
import { drawFrame } from '../../../app/marks/frame-drawing'
import { letteringOf } from '../../../app/marks/lettering'
import { palette } from '../../../app/marks/palette'
import { textBounds } from '../../../app/marks/set-text'
import type { Shape } from '../../../app/marks/shape'
import { overlayOf } from '../../../app/measure/curve-beside'
import { pictureOfShot } from '../../../app/programme/picture-at'
import type { Breakdown } from '../../../app/project/breakdown'
import type { Clip, Event, Landmark, Sample } from '../../../app/project/film'
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
const crowded = [
  ['step', 28],
  ['load', 29],
  ['plant', 31],
  ['hips turn', 33],
  ['rear heel leaves the floor', 58],
  ['contact', 60],
  ['shoulders overtake the hips', 61],
  ['end of the punch', 117],
] as const
const events = crowded.map(([name, frame], i) => ({ id: `n${i}`, clip: 'c1', name, earliest: frame, latest: frame }))

describe.each([
  { width: 1920, height: 1080 },
  { width: 1080, height: 1920 },
  { width: 1080, height: 1080 },
  { width: 640, height: 360 },
])('a curve on a card of $width × $height', (size) => {
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
      for (const other of boxes)
        if (other.text !== text) expect(intersection(box, other.box), `${text.text} / ${other.text.text}`).toBeNull()
      for (const ring of lines) {
        const [xs, ys] = [ring.map(([x]) => x), ring.map(([, y]) => y)]
        const line = {
          x: Math.min(...xs),
          y: Math.min(...ys),
          width: Math.max(...xs) - Math.min(...xs),
          height: Math.max(...ys) - Math.min(...ys),
        }
        expect(intersection(box, line), text.text).toBeNull()
      }
    }
    expect(
      labelRemarks(
        filmLabels(
          {
            width: size.width,
            height: size.height,
            rate: rational(60),
            frames: 600,
            shots: [laid({ ...card, seconds: '12' }, breakdown)],
            paragraphs: [],
            chapters: [],
            findings: [],
          },
          context,
        ),
        { width: size.width, height: size.height, rate: rational(60), frames: 600, shots: [], paragraphs: [], chapters: [], findings: [] },
      ).map(({ code }) => code),
    ).toEqual([])
  })

  it('shows the measure, its unit, its frames, the band, and a name for nearly every event', () => {
    const words = textsOf(shapes).map(({ text }) => text)
    expect(words.join(' ')).toContain('elbow angle')
    expect(words.join(' ')).toContain('band: our 95 % estimate')
    expect(words).toContain('100')
    expect(words.filter((word) => word.endsWith('°')).length).toBeGreaterThanOrEqual(3)
    expect(
      crowded.filter(([name]) => words.some((word) => word === name || (word.endsWith('…') && name.startsWith(word.slice(0, -1))))).length,
    ).toBeGreaterThanOrEqual(6)
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
    return [
      ...xs.map((x) => (x - Math.min(...xs)) / (Math.max(...xs) - Math.min(...xs))),
      ...ys.map((y) => (y - Math.min(...ys)) / (Math.max(...ys) - Math.min(...ys))),
    ]
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
  expect(
    readingSeconds(
      textsOf(page!.shapes)
        .map(({ text }) => text)
        .join(' '),
    ),
  ).toBeLessThanOrEqual(CURVE_SECONDS)
})

it('says why there is no curve, and is a use of its measure', () => {
  const breakdown = breakdownOf(undefined, { script: [{ id: 'p1', text: [], shots: [card] }] })
  const context = contextOf(breakdown)
  const words = (measure: string): string =>
    textsOf(pagesOf({ card: 'curve', measure }, context)[0]!.shapes)
      .map(({ text }) => text)
      .join(' ')
  expect(words('gone')).toContain('No curve: its measure is not there any more.')
  expect(words('time')).toContain('fewer than three frames')
  expect(usesOfMeasure('elbow', breakdown, context.readings)).toEqual([
    { as: 'card', place: 'script[0].shots[0]', paragraph: 'p1', words: 'its curve' },
  ])
})

/// Two knees that bend and straighten again, by 60° and by 20°, each about the event that both clips share; 2 px of shake, so that
/// the cut-offs part; frames 70 to 72 of the second not placed.
const kneeOf = (clip: string, middle: number, depth: number): Landmark[] =>
  (['hip.left', 'knee.left', 'ankle.left'] as const).map((point) => ({
    clip,
    subject: 's1',
    point,
    samples: Array.from({ length: 61 }, (_, i) => middle - 30 + i)
      .filter((frame) => clip === 'c1' || frame < 70 || frame > 72)
      .map((frame): Sample => {
        const bend = ((10 + depth * Math.exp(-(((frame - middle) / 9) ** 2))) * Math.PI) / 180
        const shake = 2 * Math.sin(2.4 * frame)
        return {
          frame,
          at:
            point === 'hip.left'
              ? [600, 200]
              : point === 'knee.left'
                ? [600, 400]
                : [600 + 200 * Math.sin(bend) + shake, 400 + 200 * Math.cos(bend)],
          sigma: 3,
          origin: 'tracked',
        }
      }),
  }))
const measured = { kind: 'joint-angle', subject: 's1', points: ['hip.left', 'knee.left', 'ankle.left'] } as const
const twoKnees = (size: { width: number; height: number }, more: readonly Event[] = []): Breakdown =>
  breakdownOf(size, {
    clips: ['c1', 'c2'].map((id, i) => ({
      id,
      footage: 'f1',
      from: 0,
      to: FRAMES,
      capture: { factor: '1', u: 0 },
      name: i === 0 ? 'first evening' : 'second evening',
    })),
    events: [
      { id: 'e1', clip: 'c1', name: 'load', earliest: 60, latest: 60 },
      { id: 'e2', clip: 'c2', name: 'load', earliest: 50, latest: 50 },
      ...more,
    ],
    landmarks: [...kneeOf('c1', 60, 60), ...kneeOf('c2', 50, 20)],
    measures: [
      { ...measured, points: [...measured.points], id: 'm1', clip: 'c1', frame: 60 },
      { ...measured, points: [...measured.points], id: 'm2', clip: 'c2', frame: 50 },
    ],
  })
const over: CurveCard = { card: 'curve', measure: 'm1', beside: 'm2', on: 'load' }
const fillsOf = (shapes: readonly Shape[], opacity: number) =>
  shapes.flatMap((shape) => (shape.kind === 'fill' && shape.opacity === opacity ? [shape] : []))

describe.each([
  { width: 1920, height: 1080 },
  { width: 1080, height: 1920 },
  { width: 1080, height: 1080 },
  { width: 640, height: 360 },
])('two curves on a card of $width × $height', (size) => {
  const context = contextOf(twoKnees(size))
  const page = pagesOf(over, context)[0]!
  const words = textsOf(page.shapes).map(({ text }) => text)

  it('say what may be said of the two, what each line is, and the peak with its error', () => {
    const all = words.join(' ')
    expect(all).toMatch(/at load: −\d+° ± \d+°, differs \(beyond our error\)/)
    expect(all).toContain('clip first evening; dashed: clip second evening; bands: our 95 % estimates; dotted: smoothed more')
    expect(words.filter((word) => /^1[01]\d° ± \d+°$/.test(word))).toHaveLength(1)
    expect(all).not.toContain('…')
  })

  it('draw both bands, the second broken where frames were not placed, and lines that differ in more than colour', () => {
    expect(fillsOf(page.shapes, 0.3).map(({ rings }) => rings[0]!.length)).toEqual([2 * 61])
    expect(fillsOf(page.shapes, 0.16).map(({ rings }) => rings[0]!.length)).toEqual([2 * 50, 2 * 8])
    const dashes = page.shapes.flatMap((shape) =>
      shape.kind === 'fill' && shape.opacity === 1 && shape.rings.length > 8 ? [shape.rings.length] : [],
    )
    // The other clip's long dashes, then the many dots of the lower cut-off.
    expect(dashes.length).toBeGreaterThanOrEqual(2)
    expect(Math.max(...dashes)).toBeGreaterThan(2.5 * Math.min(...dashes))
  })

  it('have no text over another, over a line of an event or off the page, and type and time to be read', () => {
    const crowd = contextOf(
      twoKnees(
        size,
        crowded
          .filter(([name]) => name !== 'load')
          .map(([name, frame], i) => ({ id: `n${i}`, clip: 'c1', name, earliest: frame, latest: frame })),
      ),
    )
    for (const shapes of [page.shapes, pagesOf(over, crowd)[0]!.shapes]) {
      const boxes = textsOf(shapes).map((text) => ({ text, box: textBounds(text, face) }))
      for (const { text, box } of boxes) {
        expect(text.size).toBeGreaterThanOrEqual(0.04 * Math.min(size.width, size.height))
        expect(box.x).toBeGreaterThanOrEqual(0)
        expect(box.x + box.width).toBeLessThanOrEqual(size.width)
        expect(box.y + box.height).toBeLessThanOrEqual(letteringOf(size.width, size.height).captionTop + 1)
        for (const other of boxes)
          if (other.text !== text) expect(intersection(box, other.box), `${text.text} / ${other.text.text}`).toBeNull()
        for (const { rings } of fillsOf(shapes, 0.7)) {
          const [xs, ys] = [rings[0]!.map(([x]) => x), rings[0]!.map(([, y]) => y)]
          expect(
            intersection(box, {
              x: Math.min(...xs),
              y: Math.min(...ys),
              width: Math.max(...xs) - Math.min(...xs),
              height: Math.max(...ys) - Math.min(...ys),
            }),
            text.text,
          ).toBeNull()
        }
      }
      const [axis] = shapes
        .filter((shape) => shape.kind === 'fill' && shape.colour === palette.text && shape.rings.length === 1 && shape.opacity === 1)
        .map((shape) => (shape.kind === 'fill' ? shape.rings[0]! : []))
      expect(Math.max(...axis!.map(([, y]) => y)) - Math.min(...axis!.map(([, y]) => y))).toBeGreaterThan(0.15 * size.height)
    }
    expect(page.seconds).toBe(cardSeconds(over, { title: '' }, face, size))
    expect(readingSeconds(words.join(' '))).toBeLessThanOrEqual(page.seconds)
  })
})

it('says on paper at which cut-offs it is smoothed, of real time or of the film’s own', () => {
  const saved = (capture: Clip['capture']): string => {
    const breakdown = twoKnees({ width: 1920, height: 1080 })
    const context = contextOf({ ...breakdown, clips: breakdown.clips.map((clip) => ({ ...clip, capture })) })
    const measure = context.measures.measure('m1')!
    return textsOf(
      drawCurve(
        curveFigure(measure, context.measures, context.readings.get('m1'), { overlay: overlayOf(measure, over, context.measures) })!,
        face,
      ),
    )
      .map(({ text }) => text)
      .join(' ')
  }
  expect(saved({ factor: '1', u: 0 })).toContain(
    'clip first evening; dashed: clip second evening; bands: our 95 % estimates; smoothed at 10 Hz, dotted at 7 Hz, thin: as placed',
  )
  expect(saved({ factor: '1', u: 0 })).toMatch(/at load: −\d+° ± \d+°, differs/)
  // Without both capture factors the two have no common time; the values at the event are compared all the same.
  expect(saved('unknown')).toContain(
    'clip first evening; band: our 95 % estimate; smoothed at 10 Hz, dotted at 7 Hz of film time, thin: as placed',
  )
  expect(saved('unknown')).toContain('not laid over: a capture factor is not known')
})

it('smooths nothing across contact, and says when nothing is smoothed', () => {
  const context = contextOf(twoKnees({ width: 1920, height: 1080 }, [{ id: 'e9', clip: 'c1', name: 'contact', earliest: 60, latest: 60 }]))
  const figure = (ids: readonly number[] | null) =>
    curveFigure(
      context.measures.measure('m1')!,
      context.measures,
      context.readings.get('m1'),
      ids ? { points: ids.map((frame) => ({ frame, value: 100, low: 90, high: 110 })) } : {},
    )!
  expect(figure(null).smooth.map((piece) => [piece[0]!.frame, piece.at(-1)!.frame])).toEqual([
    [30, 60],
    [61, 90],
  ])
  expect(
    textsOf(drawCurve(figure([30, 32, 34]), face))
      .map(({ text }) => text)
      .join(' '),
  ).toContain('not smoothed')
})

it('is a use of both measures, and says when the second is gone', () => {
  const breakdown = { ...twoKnees({ width: 1920, height: 1080 }), script: [{ id: 'p1', text: [], shots: [over] }] }
  expect(usesOfMeasure('m2', breakdown, contextOf(breakdown).readings)).toEqual([
    { as: 'card', place: 'script[0].shots[0]', paragraph: 'p1', words: 'its curve' },
  ])
})

/// A wrist that goes there and back, hips and shoulders that turn out of the picture, seen from the side.
const ways = (size: { width: number; height: number }): Breakdown => {
  const line = (deg: number, half: number, x: number, y: number) => ({
    left: [x + half * Math.cos((deg * Math.PI) / 180), y] as const,
    right: [x - half * Math.cos((deg * Math.PI) / 180), y] as const,
  })
  const places = (frame: number): Record<string, readonly [number, number]> => {
    const share = Math.max(0, frame - 20) / 100
    const [hips, shoulders] = [
      line(frame < 20 ? 0 : 35 + 10 * share, 55, 660, 400),
      line(frame < 20 ? 0 : 50 + 22 * Math.sin(Math.PI * share), 85, 680, 235),
    ]
    return {
      'hip.left': hips.left,
      'hip.right': hips.right,
      'shoulder.left': shoulders.left,
      'shoulder.right': shoulders.right,
      'head.top': [690, 105],
      'knee.left': [745, 500],
      'ankle.left': [735, 620],
      'wrist.right': [650 + 200 * Math.exp(-(((frame - 60) / 12) ** 2)) + 1.5 * Math.sin(2.4 * frame), 240],
    }
  }
  const shared = { clip: 'c1', subject: 's1' }
  return breakdownOf(size, {
    landmarks: Object.keys(places(0)).map((point) => ({
      ...shared,
      point,
      samples: Array.from({ length: FRAMES }, (_, frame): Sample => ({
        frame,
        at: [...places(frame)[point]!] as [number, number],
        sigma: 2,
        origin: 'tracked',
      })),
    })),
    clips: [
      {
        id: 'c1',
        footage: 'f1',
        from: 0,
        to: FRAMES,
        capture: { factor: '1', u: 0 },
        roll: { deg: 0, u: 1 },
        hall: { camera: 'still' },
        name: 'first evening',
      },
    ],
    events: [
      { id: 'e1', clip: 'c1', name: 'plant', earliest: 30, latest: 31 },
      { id: 'e2', clip: 'c1', name: 'contact', earliest: 100, latest: 100 },
    ],
    measures: [
      {
        ...shared,
        id: 'path',
        kind: 'path',
        points: ['wrist.right'],
        unit: { points: ['shoulder.mid', 'hip.mid'], frame: 60, name: 'trunk lengths' },
        fromFrame: 25,
        toFrame: 115,
      },
      {
        ...shared,
        id: 'separation',
        kind: 'separation',
        view: 'side',
        frame: 60,
        widths: { hipsFrame: 5, shouldersFrame: 5 },
        near: { hips: 'left', shoulders: 'left' },
      },
      { ...shared, id: 'peak', kind: 'peak-time', points: ['ankle.left', 'wrist.right'], fromFrame: 40, toFrame: 80, sign: '+' },
    ],
  })
}
const sizes = [
  { width: 1920, height: 1080 },
  { width: 1080, height: 1920 },
  { width: 1080, height: 1080 },
  { width: 640, height: 360 },
]

describe.each(sizes)('curves of other kinds on a card of $width × $height', (size) => {
  const context = contextOf(ways(size))
  const shapesOf = (measure: string): readonly Shape[] => pagesOf({ card: 'curve', measure }, context)[0]!.shapes
  const said = (measure: string): string =>
    textsOf(shapesOf(measure))
      .map(({ text }) => text)
      .join(' ')

  it('draw a way that ends at contact, not smoothed again', () => {
    expect(fillsOf(shapesOf('path'), 0.3).map(({ rings }) => rings[0]!.length)).toEqual([2 * 75])
    // The measure's own frames reach across contact, so it is refused; its curve goes by its full name all the same.
    expect(context.readings.get('path')!.verdict).toBe('refused')
    expect(said('path')).toContain(
      'path of rear wrist across the image in trunk lengths; clip first evening; band: our 95 % estimate; dotted: smoothed more',
    )
  })

  it('draw a range as a band without a line, and say so', () => {
    const shapes = shapesOf('separation')
    const [band] = fillsOf(shapes, 0.3)
    expect(band!.rings[0]!.length).toBeGreaterThan(100)
    expect(said('separation')).toContain('no line: range only')
    expect(said('separation')).not.toMatch(/smoothed|±/)
    // Its two edges are all that is drawn of it in its line's colour.
    const edges = shapes.filter((shape) => shape.kind === 'fill' && shape.colour === palette.hips && shape.opacity === 1)
    expect(edges).toHaveLength(2)
  })

  it('draw a peak’s time as its bracket on the rate, and tell it', () => {
    const { plate } = context.readings.get('peak')!
    expect(said('peak')).toContain(`turns fastest ${plate.value} after frame 40`)
    expect(said('peak')).toContain('apparent rate of')
    const [bracket] = fillsOf(shapesOf('peak'), 0.25)
    const xs = bracket!.rings[0]!.map(([x]) => x)
    const [line] = fillsOf(shapesOf('peak'), 0.7).filter(({ rings }) =>
      rings[0]!.every(([x]) => x > Math.min(...xs) && x < Math.max(...xs)),
    )
    expect(line).toBeDefined()
  })

  it.each(['path', 'separation', 'peak'])('have no text over another or off the page, and time to be read: %s', (measure) => {
    const boxes = textsOf(shapesOf(measure)).map((text) => ({ text, box: textBounds(text, face) }))
    for (const { text, box } of boxes) {
      expect(box.x).toBeGreaterThanOrEqual(0)
      expect(box.x + box.width).toBeLessThanOrEqual(size.width)
      expect(box.y + box.height).toBeLessThanOrEqual(letteringOf(size.width, size.height).captionTop + 1)
      for (const other of boxes)
        if (other.text !== text) expect(intersection(box, other.box), `${text.text} / ${other.text.text}`).toBeNull()
    }
    expect(readingSeconds(said(measure))).toBeLessThanOrEqual(
      cardSeconds({ card: 'curve', measure }, context.measures.breakdown, face, size),
    )
  })
})
