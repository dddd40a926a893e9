import { expect, it } from 'vitest'
import type { Breakdown } from '../../../app/project/breakdown'
import type { Sample } from '../../../app/project/film'
import { measureContext } from '../../../app/measure/context'
import { readingsOf } from '../../../app/measure/readings'
import { evenFrameTable } from '../../../app/time/frame-table'

const leg = (ankle: readonly Sample[]): Breakdown => ({
  format: 'claimframe-breakdown',
  version: 1,
  title: 'A suggestion',
  output: { width: 1280, height: 720, rate: '30/1' },
  footage: [{ id: 'f1', file: 'film.mp4' }],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: 30, capture: 'unknown' }],
  landmarks: [
    { clip: 'c1', subject: 's1', point: 'hip.left', samples: [{ frame: 3, at: [600, 200] }] },
    { clip: 'c1', subject: 's1', point: 'knee.left', samples: [{ frame: 3, at: [600, 400] }] },
    { clip: 'c1', subject: 's1', point: 'ankle.left', samples: [...ankle] },
  ],
  measures: [{ id: 'm1', kind: 'joint-angle', clip: 'c1', subject: 's1', frame: 3, points: ['hip.left', 'knee.left', 'ankle.left'] }],
  script: [],
})
const read = (ankle: readonly Sample[]) => {
  const breakdown = leg(ankle)
  const context = measureContext(breakdown, () => evenFrameTable(30, { n: 30, d: 1 }))
  return { reading: readingsOf(breakdown, () => evenFrameTable(30, { n: 30, d: 1 }))[0]!, context }
}

it('a suggested point counts for nothing until it is accepted', () => {
  expect(read([{ frame: 3, at: [800, 400], origin: 'suggested' }]).reading).toMatchObject({
    verdict: 'refused',
    value: null,
    reasons: ['suggested-point'],
  })
  expect(read([{ frame: 3, at: [800, 400], origin: 'placed' }]).reading.value).toBeCloseTo(90)
})

it('a suggestion beside a placing does not move it', () => {
  expect(
    read([
      { frame: 3, at: [800, 400], origin: 'placed' },
      { frame: 3, at: [700, 600], origin: 'suggested' },
    ]).reading.value,
  ).toBeCloseTo(90)
})
