import { expect, it } from 'vitest'
import { stateOf } from '../../../../app/edit/project-state'
import type { Clip } from '../../../../app/project/film'
import type { Measure } from '../../../../app/project/question'
import { frameOf, inMetres, isLong, removeLine, stateHall, statePlane, stateRoll } from '../../../../renderer/bench/hall-edits'
import { checkEdit } from '../../../check-edit'
import { knee, read, scene } from '../../measure/scene'

const clip: Clip = { id: 'c1', footage: 'f1', from: 400, to: 830, capture: { factor: '1', u: 0 } }
const next = ({ diffs }: { readonly diffs: readonly unknown[] }): unknown => (diffs[0] as { to: unknown }).to

it('should state one thing of the hall beside the others, and leave no empty hall behind', () => {
  const still = next(stateHall(clip, 'camera', 'still', 'The camera stood still')) as Clip
  expect(still).toEqual({ ...clip, hall: { camera: 'still' } })
  const scale = { subject: 's1', points: ['length.1', 'length.2'], frame: 460, metres: 2, u: 0.05 }
  const both = next(stateHall(still, 'scale', scale, 'State a length in metres')) as Clip
  expect(both.hall).toEqual({ camera: 'still', scale })
  const without = next(stateHall(both, 'camera', undefined, 'The camera may have moved')) as Clip
  expect(without.hall).toEqual({ scale })
  expect(next(stateHall(without, 'scale', undefined, 'Take the length back'))).toEqual(clip)
})

it('should make an apparent angle a joint’s own by its limb’s plane, warned of from 20° and refused above 35°, and back', () => {
  const planes = [10, 25, 40].map((deg) => read(next(statePlane(knee, { deg, u: 3 })) as Measure))
  expect(planes.map(({ verdict, reasons }) => [verdict, reasons.filter((code) => code.startsWith('plane'))])).toEqual([
    ['good', []],
    ['warned', ['plane-20-to-35']],
    ['refused', ['plane-over-35']],
  ])
  expect(planes[0]!.U!).toBeGreaterThan(read(knee).U!)
  expect(next(statePlane({ ...knee, plane: { deg: 10, u: 3 } }, undefined))).toEqual(knee)
})

it('should tell a length by the clip’s metres instead of a length of the body', () => {
  const way: Measure = {
    id: 'm2',
    kind: 'displacement',
    clip: 'c1',
    subject: 's1',
    frame: 460,
    fromFrame: 450,
    points: ['wrist.left'],
    unit: { points: ['hip.mid', 'shoulder.mid'], frame: 460, name: 'trunk lengths' },
  }
  expect(isLong(way) && next(inMetres(way))).toEqual({
    id: 'm2',
    kind: 'displacement',
    clip: 'c1',
    subject: 's1',
    frame: 460,
    fromFrame: 450,
    points: ['wrist.left'],
  })
  expect(isLong(knee)).toBe(false)
})

it('should keep a roll to a tenth, and never say that it is known without error', () => {
  expect(next(stateRoll(clip, { deg: -2.8624, u: 0.012 }))).toMatchObject({ roll: { deg: -2.9, u: 0.1 } })
})

it('should find the frame that bears all the points: the one in hand, else the first', () => {
  const sample = (frame: number) => ({ frame, at: [1, 1] as [number, number] })
  const breakdown = scene([], {
    points: {},
    more: {
      landmarks: [
        { clip: 'c1', subject: 's1', point: 'upright.1', samples: [sample(410), sample(420), sample(430)] },
        { clip: 'c1', subject: 's1', point: 'upright.2', samples: [sample(420), sample(430)] },
      ],
    },
  })
  expect([430, 410, 500].map((frame) => frameOf(breakdown, 'c1', 's1', ['upright.1', 'upright.2'], frame))).toEqual([430, 420, 420])
  expect(frameOf(breakdown, 'c1', 's2', ['upright.1', 'upright.2'], 430)).toBeNull()
})

it('should take a line away with both its ends, on every frame, as one edit, and leave the others', () => {
  const sample = (frame: number) => ({ frame, at: [1, 1] as [number, number] })
  const landmarks = ['across.1', 'across.2', 'across.3', 'across.4'].map((point) => ({
    clip: 'c1',
    subject: 's1',
    point,
    samples: [sample(410), sample(420)],
  }))
  const breakdown = scene([], { points: {}, more: { landmarks } })
  const state = stateOf(breakdown)
  const change = removeLine(state, breakdown, { clip: 'c1', subject: 's1' }, 'across', 1)!
  expect(change.label).toBe('Take line 2 across away')
  checkEdit(state, { ...change, id: 'e', group: null, selection: null, base: 0 }, (after) =>
    expect((after.landmarks ?? []).filter(({ samples }) => samples.length > 0).map(({ point }) => point)).toEqual(['across.1', 'across.2']),
  )
  expect(removeLine(state, breakdown, { clip: 'c1', subject: 's1' }, 'along', 0)).toBeNull()
})
