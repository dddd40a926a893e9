import { describe, expect, it } from 'vitest'
import { layOut, type LayOutContext } from '../../../app/programme/lay-out'
import { threadsOf } from '../../../app/programme/threads'
import type { Breakdown } from '../../../app/project/breakdown'
import type { Shot } from '../../../app/project/picture'
import { evenFrameTable } from '../../../app/time/frame-table'
import { rational } from '../../../app/time/rational'

/// A film of 60 frames a second whose event is on frame 60; a paragraph of 6 s, whose word is said after `said` seconds.
function threads(shots: readonly Shot[], said: number | null) {
  const breakdown: Breakdown = {
    format: 'claimframe-breakdown',
    version: 1,
    title: 'Threads',
    output: { width: 320, height: 180, rate: '30/1' },
    footage: [{ id: 'f1', file: 'a.mp4' }],
    subjects: [],
    clips: [{ id: 'c1', footage: 'f1', from: 0, to: 600, capture: { factor: '1', u: 0 } }],
    events: [{ id: 'e1', clip: 'c1', name: 'contact', earliest: 60, latest: 61 }],
    script: [{ id: 'p1', text: ['At ', { cue: 'e1', word: 'contact' }, '.'], shots: [{ card: 'caution', seconds: '1' }, ...shots] }],
  }
  const context: LayOutContext = {
    film: () => ({ table: evenFrameTable(600, rational(60)), width: 320, height: 180 }),
    cardSeconds: () => rational(1),
    takeSeconds: () => null,
    speakingSeconds: () => 6,
    cueSeconds: () => said,
    chapterTitle: () => '',
  }
  return threadsOf(breakdown, layOut(breakdown, context), () => said)
}

describe('a cue’s thread', () => {
  const run: Shot = { run: 'c1', from: 0, to: 120, speed: '1' }

  it('should be level where the word begins as its frame is reached', () => {
    // After a card of 30 output frames, frame 60 of a film of 60 a second is output frame 60: 2 s.
    expect(threads([run], 2)).toEqual([{ paragraph: 'p1', event: 'e1', word: 'contact', said: 60, shown: 60, late: 0 }])
    expect(threads([run], 2.03)[0]?.late).toBe(0)
  })

  it('should say by how many frames the word is late or early', () => {
    expect(threads([run], 2.5)[0]).toMatchObject({ shown: 60, late: 15 })
    expect(threads([run], 1.8)[0]).toMatchObject({ shown: 60, late: -6 })
  })

  it('should follow the reach of a slowed run', () => {
    expect(threads([{ ...run, speed: '1/2' }], 3)[0]).toMatchObject({ shown: 90, late: 0 })
  })

  it('should be level anywhere on a hold of the event’s frame, and measured from its nearest end', () => {
    const hold: Shot = { hold: 'c1', at: 60, seconds: '2' }
    const tail: Shot = { hold: 'c1', at: 300, seconds: '4' }
    expect(threads([hold, tail], 2.4)[0]?.late).toBe(0)
    expect(threads([hold, tail], 4)[0]).toMatchObject({ shown: 89, late: 31 })
    expect(threads([hold, tail], 0.5)[0]).toMatchObject({ shown: 30, late: -15 })
  })

  it('should have no frame where the pictures never show the event', () => {
    expect(threads([{ hold: 'c1', at: 10, seconds: '2' }], 1)[0]).toMatchObject({ shown: null, late: 0 })
    expect(threads([{ run: 'c1', from: 70, to: 120, speed: '1' }], 1)[0]?.shown).toBe(null)
  })

  it('should be left out where its word has no time', () => {
    expect(threads([run], null)).toEqual([])
  })
})
