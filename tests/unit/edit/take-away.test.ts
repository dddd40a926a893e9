import { describe, expect, it } from 'vitest'
import { applyEdit } from '../../../app/edit/apply-edit'
import { breakdownOf, stateOf } from '../../../app/edit/project-state'
import { takeAway, whatGoes, type Goes } from '../../../app/edit/take-away'
import type { Breakdown } from '../../../app/project/breakdown'

const LEG = ['hip.left', 'knee.left', 'ankle.left']
const landmarks = (clip: string, frame: number) =>
  LEG.map((point, i) => ({
    clip,
    subject: 's1',
    point,
    samples: [
      { frame, at: [10 * i, 20 * i] as [number, number] },
      { frame: frame + 300, at: [1, 2] as [number, number] },
    ],
  }))
const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'What goes',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [
    { id: 'f1', file: 'a.mp4' },
    { id: 'f2', file: 'b.mp4' },
  ],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [
    { id: 'c1', footage: 'f1', from: 0, to: 400, capture: { factor: '1', u: 0 } },
    {
      id: 'c2',
      footage: 'f2',
      from: 0,
      to: 400,
      capture: {
        factor: '4',
        u: 0.1,
        link: {
          shared: 'c1',
          pairs: [
            ['e3', 'e1'],
            ['e4', 'e2'],
          ],
        },
      },
    },
  ],
  views: [{ clip: 'c1', subject: 's1', from: 0, to: 400, lead: 'left' }],
  events: [
    { id: 'e1', clip: 'c1', name: 'plant', earliest: 10, latest: 11 },
    { id: 'e2', clip: 'c1', name: 'contact', earliest: 20, latest: 21 },
    { id: 'e3', clip: 'c2', name: 'plant', earliest: 10, latest: 11 },
    { id: 'e4', clip: 'c2', name: 'contact', earliest: 20, latest: 21 },
  ],
  landmarks: [...landmarks('c1', 5), ...landmarks('c2', 7)],
  measures: [
    { id: 'm1', kind: 'joint-angle', clip: 'c1', subject: 's1', frame: 5, points: LEG as [string, string, string] },
    { id: 'm2', kind: 'joint-angle', clip: 'c2', subject: 's1', frame: 7, points: LEG as [string, string, string] },
    { id: 'm3', kind: 'comparison', measures: ['m1', 'm2'] },
    { id: 'm4', kind: 'time-between', clip: 'c1', from: 'e1', to: 'e2' },
    {
      id: 'm5',
      kind: 'count',
      what: 'heel up',
      set: 'both',
      cases: [
        { clip: 'c1', holds: true },
        { clip: 'c2', holds: false },
      ],
    },
  ],
  script: [
    { id: 'p1', text: ['The knee is at ', { value: 'm1' }, ' as it ', { cue: 'e1', word: 'plants' }, '.'] },
    { id: 'p2', text: ['And from above.'], shots: [{ hold: 'c2', at: 7, seconds: '1' }] },
  ],
}

function taken(goes: Goes): { readonly after: Breakdown; readonly back: Breakdown } {
  const state = stateOf(breakdown)
  const done = applyEdit(state, {
    id: 'x',
    label: 'Take it away',
    group: null,
    steps: [],
    diffs: takeAway(state, breakdown, new Map(), goes),
    selection: null,
    base: 0,
  })
  if (!done.ok) throw done.error
  const undone = applyEdit(done.value.state, done.value.inverse)
  if (!undone.ok) throw undone.error
  return { after: breakdownOf(done.value.state), back: breakdownOf(undone.value.state) }
}

describe('taking a clip away', () => {
  it('should say all that goes with it, and which words name it', () => {
    const what = whatGoes(breakdown, new Map(), { table: 'clips', id: 'c1' })
    expect(what).toMatchObject({ views: 1, points: 3, placings: 6, shownIn: [] })
    expect(what.events.map(({ id }) => id)).toEqual(['e1', 'e2'])
    expect(what.measures.map(({ id }) => id)).toEqual(['m1', 'm3', 'm4'])
    expect(what.counts.map(({ id }) => id)).toEqual(['m5'])
    expect(what.links.map(({ id }) => id)).toEqual(['c2'])
    expect(what.uses.map(({ as, paragraph }) => [as, paragraph])).toEqual([['sentence', 'p1']])
  })

  it('should take all of it in one edit that is taken back whole, and leave the words', () => {
    const { after, back } = taken({ table: 'clips', id: 'c1' })
    expect(back).toEqual(breakdown)
    expect(after.clips).toEqual([{ id: 'c2', footage: 'f2', from: 0, to: 400, capture: { factor: '4', u: 0.1 } }])
    expect(after.landmarks).toEqual(landmarks('c2', 7))
    expect(after.measures?.map(({ id }) => id)).toEqual(['m2', 'm5'])
    expect(after.measures?.[1]).toMatchObject({ cases: [{ clip: 'c2', holds: false }] })
    expect([after.views, after.events?.map(({ id }) => id)]).toEqual([[], ['e3', 'e4']])
    expect(after.script).toEqual(breakdown.script)
  })

  it('should change nothing while a shot shows it, and name the paragraph', () => {
    for (const goes of [
      { table: 'clips', id: 'c2' },
      { table: 'footage', id: 'f2' },
    ] as const) {
      expect(whatGoes(breakdown, new Map(), goes).shownIn).toEqual(['p2'])
      expect(takeAway(stateOf(breakdown), breakdown, new Map(), goes)).toEqual([])
    }
  })
})

it('should take a film away with its clips, and an event with the measures that need it', () => {
  const film = taken({ table: 'footage', id: 'f1' })
  expect([film.after.footage.map(({ id }) => id), film.after.clips.map(({ id }) => id)]).toEqual([['f2'], ['c2']])
  expect(film.back).toEqual(breakdown)
  const event = taken({ table: 'events', id: 'e2' })
  expect(event.after.measures?.map(({ id }) => id)).toEqual(['m1', 'm2', 'm3', 'm5'])
  expect(event.after.clips[1]?.capture).toEqual({ factor: '4', u: 0.1 })
  expect(event.back).toEqual(breakdown)
})
