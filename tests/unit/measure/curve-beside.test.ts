import { expect, it } from 'vitest'
import { measureContext, type MeasureContext } from '../../../app/measure/context'
import { readingOf } from '../../../app/measure/readings'
import type { Breakdown } from '../../../app/project/breakdown'
import type { Measure } from '../../../app/project/question'
import { curveBeside, measuresBeside, sharedEvents } from '../../../app/measure/curve-beside'
import { knee, scene, table60 } from './scene'

/// The same knee in two clips, on the frames around contact, bent by so many degrees in the second.
const points = { 'hip.left': [600, 300], 'knee.left': [600, 400], 'hip.right': [700, 300], 'knee.right': [700, 400] } as const
const bentBy = (clip: string, middle: number, degrees: number) => {
  const bend = (degrees * Math.PI) / 180
  const ankles = {
    'ankle.left': [600 + 100 * Math.sin(bend), 400 + 100 * Math.cos(bend)],
    'ankle.right': [700 + 100 * Math.sin(bend), 400 + 100 * Math.cos(bend)],
  } as const
  return Object.entries({ ...points, ...ankles }).map(([point, [x, y]]) => ({
    clip,
    subject: 's1',
    point,
    samples: [-1, 0, 1].map((by) => ({ frame: middle + by, at: [x, y] as [number, number], sigma: 2 })),
  }))
}
const there: Measure = { ...knee, id: 'm2', clip: 'c2', frame: 960 }
const view = (clip: string, yaw: number, lead: 'left' | 'right' = 'left') => ({
  clip,
  subject: 's1',
  from: 0,
  to: 2000,
  lead,
  yaw: { deg: yaw, u: 3 },
})
function contextOf(degrees: number, views: Breakdown['views'], more: readonly Measure[] = []): MeasureContext {
  const clips: Breakdown['clips'] = [
    { id: 'c1', footage: 'f1', from: 400, to: 830, capture: { factor: '1', u: 0 } },
    { id: 'c2', footage: 'f1', from: 900, to: 1200, capture: { factor: '1', u: 0 } },
  ]
  return measureContext(
    scene([knee, there, ...more], { more: { clips, views, landmarks: [...bentBy('c1', 460, 40), ...bentBy('c2', 960, degrees)] } }),
    () => table60,
  )
}
const said = (context: MeasureContext): string => curveBeside(knee, there, 'contact', context).words

it('should say of two curves what the measure of comparison says of them at their event', () => {
  for (const degrees of [42, 80]) {
    const [a, b] = [
      { ...knee, id: 'a', frame: 460, event: 'contact' },
      { ...there, id: 'b', event: 'replayed' },
    ] as const
    const context = contextOf(degrees, [view('c1', 0), view('c2', 8)], [a, b])
    const compared = readingOf({ id: 'm9', kind: 'comparison', measures: ['a', 'b'] }, context)
    expect(said(context)).toBe(`at contact: ${compared.plate.value}`)
    expect(said(context)).toContain(degrees === 80 ? 'differs' : 'cannot tell apart')
  }
})

it('should take the camera from the other side as the same view, and refuse one that looks from elsewhere', () => {
  expect(said(contextOf(80, [view('c1', 0), view('c2', 180)]))).toContain('differs')
  expect(said(contextOf(80, [view('c1', 0), view('c2', 20)]))).toContain('◐ the cameras look from directions 10° to 25° apart')
  expect(said(contextOf(80, [view('c1', 0), view('c2', 50)]))).toBe(
    'at contact: no decision, the two cameras look from directions more than 25° apart',
  )
})

it('should refuse a lean to the picture’s right where the other camera looks from the other side', () => {
  const lean = { kind: 'line-lean', subject: 's1', points: ['hip.left', 'knee.left'] } as const
  const [a, b]: Measure[] = [
    { ...lean, points: [...lean.points], id: 'a', clip: 'c1', frame: 460 },
    { ...lean, points: [...lean.points], id: 'b', clip: 'c2', frame: 960 },
  ]
  const leant = (yaw: number): string => curveBeside(a!, b!, 'contact', contextOf(40, [view('c1', 0), view('c2', yaw)], [a!, b!])).words
  expect(leant(5)).toContain('cannot tell apart')
  expect(leant(180)).toContain('no decision, the two cameras look from directions more than 25° apart')
})

it('should call similar only what a comparison of the two wrote a margin down for', () => {
  const margin = { delta: 40, before: true }
  expect(said(contextOf(42, [view('c1', 0), view('c2', 0)], [{ id: 'm9', kind: 'comparison', measures: ['m1', 'm2'], margin }]))).toContain(
    'similar within 40',
  )
  expect(said(contextOf(42, [view('c1', 0), view('c2', 0)]))).toContain('cannot tell apart')
})

it('should offer only the same joint of another clip, by lead and rear, and the event nearest to what is measured first', () => {
  const right: Measure = { ...there, id: 'm3', points: ['hip.right', 'knee.right', 'ankle.right'] }
  const ids = (views: Breakdown['views']): string[] => measuresBeside(knee, contextOf(40, views, [right])).map(({ id }) => id)
  expect(ids([view('c1', 0), view('c2', 0)])).toEqual(['m2'])
  expect(ids([view('c1', 0), view('c2', 0, 'right')])).toEqual(['m3'])
  expect(sharedEvents(knee, there, contextOf(40, []))).toEqual(['contact', 'plant'])
})
