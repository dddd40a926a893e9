import { describe, expect, it } from 'vitest'
import type { Breakdown } from '../../../../app/project/breakdown'
import type { Sample } from '../../../../app/project/film'
import { trackPlan, trackWords } from '../../../../renderer/bench/track-plan'

const placed = (frame: number, x: number): Sample => ({ frame, at: [x, 10], origin: 'placed' })
const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Plans',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [{ id: 'f1', file: 'film.mp4' }],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [{ id: 'c1', footage: 'f1', from: 10, to: 1000, capture: { factor: '4', u: 0 } }],
  landmarks: [
    {
      clip: 'c1',
      subject: 's1',
      point: 'knee.left',
      samples: [placed(20, 1), placed(20, 3), { frame: 22, at: [5, 10], origin: 'tracked', sigma: 3 }, placed(40, 21)],
    },
    { clip: 'c1', subject: 's1', point: 'ring.corner', samples: [placed(20, 7)] },
    { clip: 'c1', subject: 's1', point: 'hip.left', samples: [{ frame: 20, at: [9, 9], origin: 'suggested' }] },
  ],
  script: [],
}
const from = { clip: breakdown.clips[0]!, subject: 's1', frame: 20, way: 1 } as const

describe('a plan to follow points', () => {
  it('should lead to where a hand placed the point next, past what was only followed', () => {
    expect(trackPlan(breakdown, from, ['knee.left'], 400, 30)).toEqual({
      from: 20,
      last: 40,
      figureHeight: 400,
      rate: 120,
      points: [{ point: 'knee.left', kind: 'joint', at: [2, 10], to: { frame: 40, at: [21, 10] } }],
    })
  })

  it('should go on to the end of the clip or of the longest run where nothing is placed ahead', () => {
    expect(trackPlan(breakdown, from, ['ring.corner'], null, 30)).toMatchObject({ last: 320, points: [{ kind: 'mark', to: null }] })
    expect(trackPlan(breakdown, { ...from, way: -1 }, ['ring.corner'], null, 30)).toMatchObject({ last: 10 })
  })

  it('should begin only where a hand placed the point: not on a suggestion, not on a followed place', () => {
    expect(trackPlan(breakdown, from, ['hip.left'], null, 30)).toBeNull()
    expect(trackPlan(breakdown, { ...from, frame: 22 }, ['knee.left'], null, 30)).toBeNull()
  })

  it('should ask for the point and frame nearest to where it began', () => {
    const plan = trackPlan(breakdown, from, ['knee.left', 'ring.corner'], null, 30)!
    const found = [
      { point: 'knee.left', places: [], stopped: null, ask: 30 },
      {
        point: 'ring.corner',
        places: [{ frame: 21, at: [7, 10] as const, sigma: 1, unsure: false }],
        stopped: { frame: 22, why: 'looks-different' as const },
        ask: 22,
      },
    ]
    expect(trackWords(plan, found, null)).toEqual({
      words: 'Followed to one place. Please place the ring corner on frame 22: it no longer looks like what was placed.',
      ask: { frame: 22, point: 'ring.corner' },
    })
  })
})
