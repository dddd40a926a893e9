import { expect, it } from 'vitest'
import { measureContext } from '../../../app/measure/context'
import { askAlike } from '../../../app/measure/likeness'
import type { MeasureOf } from '../../../app/measure/kind'
import type { Measure } from '../../../app/project/question'
import { knee, scene, table60 } from './scene'

const view = (clip: string, lead?: 'left' | 'right') => ({ clip, subject: 's1', from: 0, to: 2000, ...(lead ? { lead } : {}) })
const contextOf = (...leads: ('left' | 'right' | undefined)[]) =>
  measureContext(scene([], { more: { views: leads.map((lead, i) => view(`c${i + 1}`, lead)) } }), () => table60)
const there = (side: string): Measure => ({
  ...knee,
  id: 'm2',
  clip: 'c2',
  frame: 960,
  points: [`hip.${side}`, `knee.${side}`, `ankle.${side}`],
})

it('should match points by lead and rear where both lead sides are stated, else by left and right', () => {
  const [stated, unstated] = [contextOf('left', 'right'), contextOf('left')]
  expect([askAlike(knee, there('left'), stated), askAlike(knee, there('right'), stated), askAlike(knee, there('lead'), stated)]).toEqual([
    false,
    true,
    true,
  ])
  expect([askAlike(knee, there('left'), unstated), askAlike(knee, there('right'), unstated)]).toEqual([true, false])
})

it('should take a joint from either end as the same, and another joint, unit, plane or direction as another', () => {
  const context = contextOf('left', 'left')
  const turned: MeasureOf['joint-angle'] = { ...knee, id: 'm2', points: ['ankle.left', 'knee.left', 'hip.left'] }
  expect(askAlike(knee, turned, context)).toBe(true)
  expect(askAlike(knee, { ...turned, plane: { deg: 10, u: 5 } }, context)).toBe(false)
  expect(askAlike(knee, { ...turned, points: ['shoulder.left', 'elbow.left', 'wrist.left'] }, context)).toBe(false)
  const lean: MeasureOf['line-lean'] = {
    id: 'm4',
    kind: 'line-lean',
    clip: 'c1',
    subject: 's1',
    frame: 460,
    points: ['hip.mid', 'shoulder.mid'],
  }
  expect(askAlike(lean, { ...lean, id: 'm5', toward: 'lead' as const }, context)).toBe(false)
  const width: MeasureOf['distance'] = {
    id: 'm6',
    kind: 'distance',
    clip: 'c1',
    subject: 's1',
    frame: 460,
    points: ['ankle.left', 'ankle.right'],
    unit: { points: ['hip.mid', 'shoulder.mid'], frame: 460, name: 'trunk lengths' },
  }
  expect(askAlike(width, { ...width, id: 'm7', unit: { ...width.unit, name: 'thigh lengths' } }, context)).toBe(false)
})

it('should match times by the names of their events, and never what is no quantity', () => {
  const context = contextOf('left', 'left')
  const time: MeasureOf['time-between'] = { id: 'm2', kind: 'time-between', clip: 'c1', from: 'plant', to: 'contact' }
  expect(askAlike(time, { ...time, id: 'm3', clip: 'c2', from: 'again', to: 'replayed' }, context)).toBe(true)
  expect(askAlike(time, { ...time, id: 'm3', to: 'landing' }, context)).toBe(false)
  const order: MeasureOf['order'] = { id: 'm4', kind: 'order', clip: 'c1', from: 'plant', to: 'contact' }
  expect(askAlike(order, { ...order, id: 'm5' }, context)).toBe(false)
})
