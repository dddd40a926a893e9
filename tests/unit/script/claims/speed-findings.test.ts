import { describe, expect, it } from 'vitest'
import type { Breakdown } from '../../../../app/project/breakdown'
import type { Shot } from '../../../../app/project/picture'
import { isSlow, speedFindings } from '../../../../app/script/claims/speed-findings'

const film = (...shots: Shot[]): Breakdown => ({
  format: 'claimframe-breakdown',
  version: 1,
  title: 'T',
  output: { width: 640, height: 360, rate: '30/1' },
  footage: [{ id: 'f1', file: 'a.mp4' }],
  subjects: [],
  clips: [
    { id: 'live', footage: 'f1', from: 0, to: 300, capture: { factor: '1', u: 0 }, bout: 'open evening' },
    { id: 'side', footage: 'f1', from: 0, to: 300, capture: { factor: '1', u: 0 }, bout: 'open evening' },
    { id: 'replay', footage: 'f1', from: 0, to: 300, capture: 'unknown', bout: 'open evening' },
    { id: 'other', footage: 'f1', from: 0, to: 300, capture: { factor: '1', u: 0 } },
  ],
  events: [
    { id: 'e1', clip: 'live', name: 'contact', earliest: 120, latest: 121 },
    { id: 'e2', clip: 'side', name: 'contact', earliest: 90, latest: 91 },
    { id: 'e3', clip: 'replay', name: 'contact', earliest: 50, latest: 52 },
    { id: 'e4', clip: 'other', name: 'contact', earliest: 60, latest: 61 },
  ],
  script: [{ id: 'p1', text: ['Look.'], shots }],
})
const run = (clip: string, from: number, to: number, speed: string): Shot => ({ run: clip, from, to, speed })
const pair = (clips: [string, string][], speed: string): Shot => ({
  pair: clips.map(([clip, event]) => ({ clip, event })),
  before: '1/2',
  after: '1/2',
  speed,
  layout: 'beside',
})
const never = (...shots: Shot[]): string[] =>
  speedFindings(film(...shots))
    .filter(({ code }) => code === 'no-full-speed')
    .map(({ problem }) => problem.split(/ (?:are|is) shown/)[0]!)

describe('an action that is shown slowed', () => {
  it('should be seen at full speed in the same frames', () => {
    expect(never(run('live', 100, 160, '1/4'), run('live', 0, 3, '1'))).toEqual(['frames 100 to 159 of “live”'])
    expect(never(run('live', 100, 160, '1/4'), run('live', 100, 159, '1'))).toEqual(['frames 100 to 159 of “live”'])
    expect(never(run('live', 100, 160, '1/4'), run('live', 90, 130, '1'), run('live', 130, 170, '2'))).toEqual([])
    expect(never(run('live', 100, 160, '1/4'), run('live', 90, 130, '1'), run('live', 131, 170, '1'))).toHaveLength(1)
    expect(never(run('live', 100, 101, '1/4'))).toEqual(['frame 100 of “live”'])
  })

  it('or, on another clip of its bout, at the same event', () => {
    expect(never(run('live', 100, 160, '1/4'), run('side', 80, 120, '1'))).toEqual([])
    expect(never(run('live', 100, 160, '1/4'), run('side', 95, 120, '1'))).toHaveLength(1)
    // The slowed frames hold no event that the other clip has too; a clip of no bout shares none.
    expect(never(run('live', 130, 160, '1/4'), run('side', 80, 120, '1'))).toHaveLength(1)
    expect(never(run('live', 100, 160, '1/4'), run('other', 0, 300, '1'))).toHaveLength(1)
  })

  it('should be asked of pairs, and of replays whose speed is not known', () => {
    expect(
      never(
        pair(
          [
            ['live', 'e1'],
            ['other', 'e4'],
          ],
          '1/8',
        ),
      ),
    ).toEqual(['frames 120 to 121 of “live”', 'frames 60 to 61 of “other”'])
    expect(
      never(
        pair(
          [
            ['live', 'e1'],
            ['other', 'e4'],
          ],
          '1/8',
        ),
        run('live', 110, 130, '1'),
        run('other', 0, 100, '1'),
      ),
    ).toEqual([])
    expect(
      never(
        pair(
          [
            ['live', 'e1'],
            ['other', 'e4'],
          ],
          '1/8',
        ),
        pair(
          [
            ['live', 'e1'],
            ['other', 'e4'],
          ],
          '1',
        ),
      ),
    ).toEqual([])
    // A replay at speed 1 is no full speed, not for itself either.
    expect(never(run('replay', 0, 100, '1'))).toEqual(['frames 0 to 99 of “replay”'])
    expect(never(run('replay', 0, 100, '1'), run('live', 110, 130, '1'))).toEqual([])
  })
})

it('pairs with a clip whose speed is not known should count as slow beside words', () => {
  expect(
    isSlow(
      film(
        pair(
          [
            ['live', 'e1'],
            ['replay', 'e3'],
          ],
          '1',
        ),
      ),
      'p1',
    ),
  ).toBe(true)
  expect(
    isSlow(
      film(
        pair(
          [
            ['live', 'e1'],
            ['side', 'e2'],
          ],
          '1',
        ),
      ),
      'p1',
    ),
  ).toBe(false)
})
