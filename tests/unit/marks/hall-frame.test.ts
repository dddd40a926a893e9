import { expect, it } from 'vitest'
import { followedWay } from '../../../app/marks/followed-point'
import { steadyAt } from '../../../app/marks/hall-frame'
import { measureLines } from '../../../app/marks/shot-scene'
import { letteringOf } from '../../../app/marks/lettering'
import { pictureOfShot } from '../../../app/programme/picture-at'
import type { Breakdown } from '../../../app/project/breakdown'
import type { Landmark } from '../../../app/project/film'
import type { Point } from '../../../app/project/fields'
import { breakdownOf, contextOf, laid } from './scene'

/// A camera that pans along with a boxer: a way that is drawn is the boxer's alone.

const PAN = 6
const seenAt = ([x, y]: Point, frame: number): [number, number] => [x - PAN * frame, y - 0.5 * frame]
const track = (point: string, at: (frame: number) => Point, from = 0, to = 61): Landmark => ({
  clip: 'c1',
  subject: 's1',
  point,
  samples: Array.from({ length: to - from }, (_, i) => ({
    frame: from + i,
    at: seenAt(at(from + i), from + i),
    sigma: 0.2,
    origin: 'tracked' as const,
  })),
})
const hall = [
  [500, 100],
  [900, 150],
  [700, 600],
  [1100, 500],
  [950, 650],
] as const
const walls = hall.map((at, i) => track(`background.${i + 1}`, () => at))
const landmarks = [...walls, track('ankle.left', () => [800, 620]), track('wrist.right', (n) => [700 + 2 * n, 300])]
const camera = { background: walls.map(({ point }) => point) }
const withWay = (parts: Partial<Breakdown> = {}): Breakdown =>
  breakdownOf(undefined, {
    landmarks,
    measures: [
      {
        id: 'way',
        kind: 'path',
        clip: 'c1',
        subject: 's1',
        points: ['wrist.right'],
        fromFrame: 10,
        toFrame: 50,
        unit: { points: ['background.1', 'background.2'], frame: 10, name: 'walls' },
        camera,
      },
      {
        id: 'seen',
        kind: 'path',
        clip: 'c1',
        subject: 's1',
        points: ['wrist.right'],
        fromFrame: 10,
        toFrame: 50,
        unit: { points: ['background.1', 'background.2'], frame: 10, name: 'walls' },
      },
    ],
    ...parts,
  })
const span = (points: readonly Point[]): number =>
  Math.max(...points.flatMap((p) => points.map((q) => Math.hypot(p[0] - q[0], p[1] - q[1]))))

it('a foot that stands has no way, however far the camera went; as it was seen it has a long one', () => {
  const { measures } = contextOf(withWay())
  const way = (camera: Parameters<typeof steadyAt>[3]) =>
    followedWay(measures, 'c1', 's1', 'ankle.left', 60, 0, steadyAt(measures, 'c1', 's1', camera, 60)).flat()
  expect(way(camera)).toHaveLength(61)
  expect(span(way(camera))).toBeLessThan(0.01)
  expect(span(way(undefined))).toBeGreaterThan(350)
})

it('a measured way is drawn in the hall’s frame, and measured there', () => {
  const breakdown = withWay()
  const context = contextOf(breakdown)
  const shown = pictureOfShot(laid({ hold: 'c1', at: 50, seconds: '1', marks: ['way'] }, breakdown), 0).panels[0]!
  const wide = (id: string): number => {
    const drawn = measureLines(
      breakdown.measures!.find((measure) => measure.id === id)!,
      shown,
      context,
      letteringOf(1920, 1080),
    )!
    return span(drawn.clear.flatMap((obstacle) => (obstacle.kind === 'segment' ? [obstacle.from, obstacle.to] : [])))
  }
  // 40 frames at 2 px, on a canvas 1.5 times the picture; as seen 40 at −4 px.
  expect(wide('way')).toBeCloseTo(120, -1)
  expect(wide('seen')).toBeGreaterThan(230)
  const length = Math.hypot(400, 50)
  expect(context.readings.get('way')!.value! * length).toBeCloseTo(80, -1)
  expect(context.readings.get('seen')!.value! * length).toBeGreaterThan(150)
})

it('what too few places of the hall bear out is not drawn at all', () => {
  const gone = walls.map((landmark, i) => (i < 3 ? { ...landmark, samples: landmark.samples.filter(({ frame }) => frame > 30) } : landmark))
  const { measures } = contextOf(withWay({ landmarks: [...gone, track('ankle.left', () => [800, 620])] }))
  const way = followedWay(measures, 'c1', 's1', 'ankle.left', 60, 0, steadyAt(measures, 'c1', 's1', camera, 60)).flat()
  expect(way).toHaveLength(30)
  expect(span(way)).toBeLessThan(0.01)
})
