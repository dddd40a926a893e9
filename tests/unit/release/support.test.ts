import { describe, expect, it } from 'vitest'
import type { Breakdown } from '../../../app/project/breakdown'
import type { Release } from '../../../app/project/release'
import { keptStill, supportsOf, wantedBehind, withoutSupport } from '../../../app/release/support'

const LEG = ['hip.left', 'knee.left', 'ankle.left']
const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'T',
  output: { width: 640, height: 360, rate: '30/1' },
  footage: [{ id: 'f1', file: 'a.mp4', sha256: 'a'.repeat(64) }],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: 100, capture: 'unknown' }],
  events: [
    { id: 'e1', clip: 'c1', name: 'plant', earliest: 10, latest: 12 },
    { id: 'e2', clip: 'c1', name: 'contact', earliest: 40, latest: 40 },
  ],
  measures: [
    { id: 'm1', kind: 'joint-angle', clip: 'c1', subject: 's1', frame: 40, points: LEG },
    { id: 'm2', kind: 'joint-angle', clip: 'c1', subject: 's1', frame: 50, points: LEG },
    { id: 'm3', kind: 'comparison', measures: ['m1', 'm2'] },
    { id: 'm4', kind: 'time-between', clip: 'c1', from: 'e1', to: 'e2' },
  ],
  references: [{ id: 'r1', csl: { type: 'book' } }],
  script: [],
}
const told = (claim: Partial<Parameters<typeof supportsOf>[0]>) =>
  supportsOf({ values: [], cites: [], evidence: [], ...claim }, breakdown).map(({ of, id, beneath, gone, stills }) => [
    of,
    id,
    beneath,
    gone,
    stills.map(({ clip, frame, measure }) => `${clip} ${frame}${measure === null ? '' : ` ${measure}`}`).join(', '),
  ])

describe('what a sentence rests on', () => {
  it('should follow a comparison to both its readings, each with its own frame and lines', () => {
    expect(told({ evidence: [{ reading: 'm3' }] })).toEqual([
      ['value', 'm3', null, false, ''],
      ['value', 'm1', 'm3', false, 'c1 40 m1'],
      ['value', 'm2', 'm3', false, 'c1 50 m2'],
    ])
  })

  it('should follow a time to its events, each with both ends of its bracket', () => {
    expect(told({ values: ['m4'] })).toEqual([
      ['value', 'm4', null, false, ''],
      ['event', 'e1', 'm4', false, 'c1 10, c1 12'],
      ['event', 'e2', 'm4', false, 'c1 40'],
    ])
  })

  it('should name each thing once, and as stated where it stands beneath something as well', () => {
    expect(
      told({
        values: ['m1', 'm1'],
        cites: ['r1'],
        evidence: [{ readings: ['m1', 'm2'] }, { reference: 'r1', at: 'p. 3' }, { frame: 40, clip: 'c1' }],
      }),
    ).toEqual([
      ['value', 'm1', null, false, 'c1 40 m1'],
      ['value', 'm2', null, false, 'c1 50 m2'],
      ['frame', 'c1', null, false, 'c1 40'],
      ['reference', 'r1', null, false, ''],
    ])
    const [first] = supportsOf({ values: ['m4'], cites: [], evidence: [{ events: ['e1'] }] }, breakdown).filter(({ id }) => id === 'e1')
    expect(first).toMatchObject({ evidence: { events: ['e1'] }, beneath: null })
  })

  it('should say of what is named and is not there that it is gone', () => {
    expect(told({ values: ['x'], cites: ['y'], evidence: [{ events: ['z'] }, { frame: 3, clip: 'w' }] })).toEqual([
      ['value', 'x', null, true, ''],
      ['event', 'z', null, true, ''],
      ['frame', 'w', null, true, ''],
      ['reference', 'y', null, true, ''],
    ])
  })

  it('should take one of several events away and leave the others', () => {
    const evidence = [{ events: ['e1', 'e2'] }, 'opinion' as const]
    const [plant, , view] = supportsOf({ values: [], cites: [], evidence }, breakdown)
    expect(withoutSupport(evidence, plant!)).toEqual([{ events: ['e2'] }, 'opinion'])
    expect(withoutSupport(evidence, view!)).toEqual([{ events: ['e1', 'e2'] }])
  })

  it('should want nothing behind an opinion, advice or words about the film', () => {
    expect(wantedBehind(['H', 'L', 'M'])).toEqual([])
    expect(wantedBehind(['A', 'F'])).toEqual(['a frame that shows it', 'a reference, with whom it holds for and how far'])
  })
})

describe('a still that a version kept', () => {
  const version = (id: string, footageSha256: string): Release => ({
    id,
    film: 'T',
    version: id,
    date: '2026-11-20',
    project: 1,
    footage: [],
    values: [],
    events: [],
    said: [],
    files: [{ name: 'stills/c1-40-m1.jpg', sha256: 'b'.repeat(64), still: { clip: 'c1', frame: 40, footageSha256 } }],
  })
  const still = { name: 'c1-40-m1', clip: 'c1', frame: 40, measure: 'm1', event: null }

  it('should come from the latest version that kept that frame with those marks', () => {
    expect(keptStill(still, { ...breakdown, releases: [version('1', 'a'.repeat(64)), version('2', 'a'.repeat(64))] })).toMatchObject({
      release: { id: '2' },
      name: 'stills/c1-40-m1.jpg',
    })
    expect(keptStill({ ...still, name: 'c1-40', measure: null }, { ...breakdown, releases: [version('1', 'a'.repeat(64))] })).toBeNull()
  })

  it('should never be one of another film', () => {
    expect(keptStill(still, { ...breakdown, releases: [version('1', 'c'.repeat(64))] })).toBeNull()
  })
})
