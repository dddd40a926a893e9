import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { applyEdit } from '../../../../app/edit/apply-edit'
import { breakdownOf, stateOf, type ProjectState } from '../../../../app/edit/project-state'
import type { Breakdown } from '../../../../app/project/breakdown'
import type { Sample } from '../../../../app/project/film'
import { changeSamples, moved, samplesOf, withHandChanged, withoutHand, withPlacing, withSample } from '../../../../renderer/bench/placing'
import { copyPoints } from '../../../../renderer/bench/point-edits'

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Placing',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [{ id: 'f1', file: 'a.mp4' }],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: 1000, capture: 'unknown' }],
  script: [],
}
const of = { clip: 'c1', subject: 's1', point: 'knee.left' }

function put(state: ProjectState, next: readonly Sample[]): ProjectState {
  const change = changeSamples(state, samplesOf(breakdownOf(state), of), of, next, 'Place')
  if (!change) return state
  const applied = applyEdit(state, { ...change, selection: null, id: 'e', group: null, base: state.version })
  if (!applied.ok) throw applied.error
  const undone = applyEdit(applied.value.state, applied.value.inverse)
  if (!undone.ok) throw undone.error
  expect(breakdownOf(undone.value.state)).toEqual(breakdownOf(state))
  return applied.value.state
}

const sample = fc.record({
  frame: fc.integer({ min: 0, max: 999 }),
  at: fc.tuple(fc.double({ min: 0, max: 300, noNaN: true }), fc.double({ min: 0, max: 180, noNaN: true })),
})

describe('samples through the gate', () => {
  it('should lead from any samples to any others, packs and all', () => {
    fc.assert(
      fc.property(fc.array(sample, { maxLength: 12 }), fc.array(sample, { maxLength: 12 }), (before, after) => {
        const byFrame = (a: Sample, b: Sample): number => a.frame - b.frame
        const first = put(stateOf(breakdown), before)
        const second = put(first, after)
        expect(samplesOf(breakdownOf(second), of)).toEqual([...after].sort(byFrame))
      }),
      { numRuns: 60 },
    )
  })

  it('should change nothing where nothing differs', () => {
    const state = put(stateOf(breakdown), [{ frame: 3, at: [1, 2] }])
    expect(changeSamples(state, samplesOf(breakdownOf(state), of), of, [{ frame: 3, at: [1, 2] }], 'Place')).toBeNull()
  })

  it('should put a repeat behind those of its frame, and change or take back the one that is meant alone', () => {
    const two = withSample(withSample([{ frame: 4, at: [9, 9] }], { frame: 3, at: [1, 1] }), { frame: 3, at: [2, 2] })
    expect(two.map(({ frame, at }) => [frame, at[0]])).toEqual([
      [3, 1],
      [3, 2],
      [4, 9],
    ])
    expect(withHandChanged(two, 3, 1, (s) => ({ ...s, seen: 'occluded' })).map((s) => s.seen)).toEqual([undefined, 'occluded', undefined])
    expect(withoutHand(two, 3, 1).map((s) => s.at[0])).toEqual([1, 9])
    expect(withoutHand(two, 3, 2)).toEqual(two)
    expect(withPlacing(two, { frame: 3, at: [5, 5] }, 1).map((s) => s.at[0])).toEqual([1, 5, 9])
    expect(withPlacing(two, { frame: 3, at: [5, 5] }, 2).map((s) => s.at[0])).toEqual([1, 2, 5, 9])
  })

  it('should let a placing stand for what was followed or suggested on its frame, and on no other', () => {
    const before: Sample[] = [
      { frame: 3, at: [1, 1], origin: 'suggested' },
      { frame: 4, at: [2, 2], origin: 'tracked' },
    ]
    expect(withPlacing(before, { frame: 3, at: [5, 5], origin: 'placed' }, 0)).toEqual([
      { frame: 3, at: [5, 5], origin: 'placed' },
      before[1],
    ])
    expect(withPlacing(before, { frame: 4, at: [5, 5], origin: 'placed' }, 0)).toEqual([
      before[0],
      { frame: 4, at: [5, 5], origin: 'placed' },
    ])
  })

  it('should move all repeats alike, and call a tracked one corrected', () => {
    const after = moved(
      [
        { frame: 3, at: [1, 1], origin: 'tracked' },
        { frame: 3, at: [3, 1] },
        { frame: 4, at: [0, 0] },
      ],
      3,
      0.25,
      -1,
    )
    expect(after).toEqual([
      { frame: 3, at: [1.25, 0], origin: 'corrected' },
      { frame: 3, at: [3.25, 0] },
      { frame: 4, at: [0, 0] },
    ])
  })

  it('should copy points to the next frame as suggestions, where none is placed', () => {
    const state = put(stateOf(breakdown), [
      { frame: 255, at: [10, 20] },
      { frame: 255, at: [12, 22] },
    ])
    const change = copyPoints(state, breakdownOf(state), { clip: 'c1', subject: 's1', frame: 255 }, 256)
    const applied = change && applyEdit(state, { ...change, selection: null, id: 'e', group: null, base: state.version })
    if (!applied?.ok) throw new Error('it was refused')
    expect(samplesOf(breakdownOf(applied.value.state), of).at(-1)).toEqual({ frame: 256, at: [11, 21], origin: 'suggested' })
    expect(copyPoints(applied.value.state, breakdownOf(applied.value.state), { clip: 'c1', subject: 's1', frame: 255 }, 256)).toBeNull()
  })
})
