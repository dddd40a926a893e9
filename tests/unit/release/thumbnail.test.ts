import { expect, it } from 'vitest'
import { layOut } from '../../../app/programme/lay-out'
import type { Breakdown } from '../../../app/project/breakdown'
import { thumbnailOf, thumbnailTime } from '../../../app/release/thumbnail'
import { evenFrameTable } from '../../../app/time/frame-table'
import { rational } from '../../../app/time/rational'

/// Two seconds of a run, then two holds of three seconds; the first frame of the second hold is 150 at 30 a second.
function laid(rate: string, first = '3') {
  const breakdown: Breakdown = {
    format: 'claimframe-breakdown',
    version: 1,
    title: 'T',
    output: { width: 640, height: 360, rate },
    footage: [{ id: 'f1', file: 'a.mp4' }],
    subjects: [],
    clips: [{ id: 'c1', footage: 'f1', from: 0, to: 300, capture: { factor: '1', u: 0 } }],
    script: [
      {
        id: 'p1',
        text: [],
        shots: [
          { card: 'caution', seconds: '2' },
          { hold: 'c1', at: 10, seconds: first },
          { hold: 'c1', at: 20, seconds: '3' },
        ],
      },
    ],
  }
  return layOut(breakdown, {
    film: () => ({ table: evenFrameTable(300, rational(30)), width: 640, height: 360 }),
    cardSeconds: () => rational(2),
    takeSeconds: () => null,
    speakingSeconds: () => 0,
    cueSeconds: () => null,
    chapterTitle: () => '',
  })
}

it('should be the last frame of the first hold while none is chosen', () => {
  expect(thumbnailOf(laid('30/1'), {})).toEqual({ frame: 149, by: 'rule' })
})

it('should be the very frame that was chosen, at every rate', () => {
  for (const rate of ['24/1', '25/1', '30000/1001', '30/1', '50/1', '60000/1001', '60/1']) {
    const programme = laid(rate)
    for (let frame = 0; frame < programme.frames; frame++)
      expect(thumbnailOf(programme, { thumbnail: thumbnailTime(frame, programme) })).toEqual({ frame, by: 'choice' })
  }
})

it('should be what is on screen at the time that was chosen, also between two frames and at another rate', () => {
  expect(thumbnailOf(laid('30/1'), { thumbnail: '5.05' }).frame).toBe(151)
  expect(thumbnailOf(laid('60/1'), { thumbnail: thumbnailTime(151, laid('30/1')) }).frame).toBe(302)
})

it('should be as with none, and say so, once the film ends before the time that was chosen', () => {
  const thumbnail = thumbnailTime(200, laid('30/1'))
  expect(thumbnailOf(laid('30/1'), { thumbnail })).toEqual({ frame: 200, by: 'choice' })
  expect(thumbnailOf(laid('30/1', '1'), { thumbnail })).toEqual({ frame: 89, by: 'beyond' })
})
