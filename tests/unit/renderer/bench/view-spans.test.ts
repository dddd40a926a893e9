import { expect, it } from 'vitest'
import { stateOf } from '../../../../app/edit/project-state'
import type { View } from '../../../../app/project/film'
import { joinView, spanOn, stateAngle, stateView, viewSpans, viewWords } from '../../../../renderer/bench/view-spans'
import { checkEdit } from '../../../check-edit'
import { scene } from '../../measure/scene'

const clip = { id: 'c1', from: 10, to: 90 }
const state = (views: readonly View[]) =>
  stateOf(scene([], { points: {}, more: { clips: [{ ...clip, footage: 'f1', capture: 'unknown' }], events: [], views: [...views] } }))
const edit = (diffs: ReturnType<typeof stateView>) => ({
  id: 'e',
  label: 'State the view',
  group: null,
  steps: [],
  diffs,
  selection: null,
  base: 0,
})

it('should state a whole clip at first, and from a frame on leave what was stated before it', () => {
  const first = state([])
  const [whole] = viewSpans([], clip, 's1')
  let after = checkEdit(first, edit(stateView(first, 'c1', 's1', whole!, 10, { lead: 'left', yaw: { deg: 5, u: 3 } })), ({ views }) =>
    expect(views).toEqual([{ clip: 'c1', subject: 's1', from: 10, to: 90, lead: 'left', yaw: { deg: 5, u: 3 } }]),
  )
  const span = spanOn(viewSpans(after.tables.views.list(), clip, 's1'), 40)!
  after = checkEdit(after, { ...edit(stateView(after, 'c1', 's1', span, 40, { lead: 'right' })), base: 1 }, ({ views }) =>
    expect(views).toEqual([
      { clip: 'c1', subject: 's1', from: 10, to: 40, lead: 'left', yaw: { deg: 5, u: 3 } },
      { clip: 'c1', subject: 's1', from: 40, to: 90, lead: 'right' },
    ]),
  )
  const spans = viewSpans(after.tables.views.list(), clip, 's1')
  expect(spans.map(({ from, to, view }) => [from, to, viewWords(view)])).toEqual([
    [10, 40, 'left leads, yaw 5°'],
    [40, 90, 'right leads'],
  ])
  const joined = joinView(after, spans, spans[1]!)
  checkEdit(after, { ...edit([...joined!.diffs]), base: 2 }, ({ views }) =>
    expect(views).toEqual([{ clip: 'c1', subject: 's1', from: 10, to: 90, lead: 'left', yaw: { deg: 5, u: 3 } }]),
  )
})

it('should state a gap between two spans as one of its own, and of one person alone', () => {
  const views: View[] = [
    { clip: 'c1', subject: 's1', from: 50, to: 90, lead: 'right' },
    { clip: 'c1', subject: 's1', from: 10, to: 20, lead: 'left' },
    { clip: 'c1', subject: 's2', from: 10, to: 90 },
  ]
  const spans = viewSpans(views, clip, 's1')
  expect(spans.map(({ from, to }) => [from, to])).toEqual([
    [10, 20],
    [20, 50],
    [50, 90],
  ])
  expect(spanOn(spans, 19)?.view?.lead).toBe('left')
  expect(spanOn(spans, 20)?.view).toBeNull()
  expect(spanOn(spans, 90)).toBeNull()
  expect(joinView(state([]), spans, spans[0]!)).toBeNull()
  // The gap has no statement of its own to take away.
  expect(joinView(state([]), spans, spans[1]!)).toBeNull()
  expect(stateView(state(views.slice(0, 2)), 'c1', 's1', spans[1]!, 30, { lead: 'left' })).toEqual([
    expect.objectContaining({ change: 'added', record: { clip: 'c1', subject: 's1', from: 30, to: 50, lead: 'left' } }),
  ])
})

it('should take an angle from the floor for a whole span, and leave what else is stated of it', () => {
  const view: View = { clip: 'c1', subject: 's1', from: 10, to: 90, lead: 'left', elevation: { deg: 20, u: 4 }, yaw: { deg: 5, u: 3 } }
  const before = state([view])
  const [span] = viewSpans([view], clip, 's1')
  checkEdit(before, edit([...stateAngle(before, 'c1', 's1', span!, 'elevation', { deg: 23.4567, u: 0.01 }).diffs]), ({ views }) =>
    expect(views).toEqual([{ ...view, elevation: { deg: 23.5, u: 0.1 } }]),
  )
  expect(stateAngle(before, 'c1', 's1', span!, 'yaw', { deg: 1, u: 6 }, 'lines').label).toBe('Take the yaw from the lines')
})
