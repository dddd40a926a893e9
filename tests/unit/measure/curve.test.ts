import { expect, it } from 'vitest'
import { measureContext } from '../../../app/measure/context'
import { curveOf, leftOut, MOST_FRAMES } from '../../../app/measure/curve'
import { impactBreaks } from '../../../app/measure/run-of-frames'
import { evenFrameTable } from '../../../app/time/frame-table'
import { knee, scene, standing, table60 } from './scene'

const followed = (from: number, to: number) =>
  Object.entries(standing).map(([point, [x, y]]) => ({
    clip: 'c1',
    subject: 's1',
    point,
    samples: Array.from({ length: to - from }, (_, i) => ({ frame: from + i, at: [x, y] as [number, number], sigma: 3 })),
  }))
const rear = { ...knee, points: ['hip.rear', 'knee.rear', 'ankle.rear'] }

it('should follow the rear knee through a change of the lead side, and leave the part out where none is stated', () => {
  const views = [
    { clip: 'c1', subject: 's1', from: 450, to: 460, lead: 'left' as const },
    { clip: 'c1', subject: 's1', from: 460, to: 470, lead: 'right' as const },
  ]
  const context = measureContext(scene([rear], { more: { views, landmarks: followed(440, 480) } }), () => table60)
  const [right, left] = ['right', 'left'].map(
    (side) => curveOf({ ...knee, points: [`hip.${side}`, `knee.${side}`, `ankle.${side}`] }, context)[0]!.value,
  )
  const curve = curveOf(rear, context)
  expect(curve.map(({ frame }) => frame)).toEqual(Array.from({ length: 20 }, (_, i) => 450 + i))
  for (const { frame, value } of curve) expect(value).toBe(frame < 460 ? right : left)
  expect(right).not.toBe(left)
})

it('should take the frames around the measure’s own where there are too many, and tell how many it leaves out', () => {
  const clips = [{ id: 'c1', footage: 'f1', from: 0, to: 4000, capture: { factor: '1', u: 0 } }]
  const context = measureContext(scene([], { more: { clips, views: [], events: [], landmarks: followed(0, 4000) } }), () =>
    evenFrameTable(4000, { n: 60, d: 1 }),
  )
  const at = (frame: number): [number, number, number] => {
    const curve = curveOf({ ...knee, frame }, context)
    return [curve.length, curve[0]!.frame, curve.at(-1)!.frame]
  }
  expect(at(2000)).toEqual([MOST_FRAMES, 2000 - MOST_FRAMES / 2, 2000 + MOST_FRAMES / 2 - 1])
  expect(at(10)).toEqual([MOST_FRAMES, 0, MOST_FRAMES - 1])
  expect(at(3990)).toEqual([MOST_FRAMES, 4000 - MOST_FRAMES, 3999])
  expect(leftOut({ ...knee, frame: 10 }, context)).toBe(4000 - MOST_FRAMES)
  expect(
    leftOut(
      knee,
      measureContext(scene([knee]), () => table60),
    ),
  ).toBe(0)
})

it('should break at every frame that an impact may fall on, by contact or by impact, and at nothing else', () => {
  const event = (name: string, earliest: number, latest: number) => ({ id: name, clip: 'c1', name, earliest, latest })
  expect(
    impactBreaks([event('contact', 20, 20), event('second impact', 30, 33), event('contacts', 40, 40), event('load', 50, 50)]),
  ).toEqual([20, 30, 31, 32])
})
