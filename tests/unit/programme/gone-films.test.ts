import { describe, expect, it } from 'vitest'
import { withoutFilms } from '../../../app/programme/gone-films'
import type { Breakdown } from '../../../app/project/breakdown'
import { Shot, type Paragraph } from '../../../app/project/picture'

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Two angles',
  output: { width: 1280, height: 720, rate: '25/1' },
  footage: [
    { id: 'f1', file: 'a.mp4' },
    { id: 'f2', file: 'b.mp4' },
  ],
  subjects: [],
  clips: [
    { id: 'c1', footage: 'f1', from: 0, to: 100, capture: { factor: '1', u: 0 } },
    { id: 'c2', footage: 'f2', from: 0, to: 100, capture: { factor: '2', u: 0 } },
  ],
  script: [
    { chapter: 'One' },
    {
      id: 'p1',
      text: ['Words.'],
      shots: [
        { run: 'c1', from: 0, to: 50, speed: '1' },
        { run: 'c2', from: 0, to: 50, speed: '1/2' },
        { hold: 'c2', at: 3, seconds: '3/2' },
        {
          pair: [
            { clip: 'c1', event: 'e1' },
            { clip: 'c2', event: 'e2' },
          ],
          before: '1/2',
          after: '1',
          speed: '1/2',
          still: '1',
          layout: 'beside',
        },
        { card: 'end' },
      ],
    },
  ],
}
const shotsOf = ({ script }: Breakdown) => (script[1] as Paragraph).shots!

describe('a breakdown of which a film is gone', () => {
  it('should have a card of the same length in place of each shot of it, and all else as it was', () => {
    const words = ['The film “b.mp4” is not there', 'Find it.']
    const shown = withoutFilms(breakdown, new Map([['f2', words]]))
    const [run, own] = [shotsOf(shown), shotsOf(breakdown)]
    expect(run[0]).toBe(own[0])
    expect(run[4]).toBe(own[4])
    expect(run.slice(1, 4)).toEqual(['2', '3/2', '4'].map((seconds) => ({ card: 'text', lines: words, seconds })))
    for (const shot of run) expect(Shot.safeParse(shot).success).toBe(true)
    expect({ ...shown, script: [] }).toEqual({ ...breakdown, script: [] })
  })

  it('should name both films of a pair, and be the breakdown itself while none is gone', () => {
    expect(
      shotsOf(
        withoutFilms(
          breakdown,
          new Map([
            ['f1', ['a']],
            ['f2', ['b']],
          ]),
        ),
      )[3],
    ).toMatchObject({ card: 'text', lines: ['a', 'b'] })
    expect(withoutFilms(breakdown, new Map())).toBe(breakdown)
  })
})
