import { describe, expect, it } from 'vitest'
import { layOut, type LayOutContext } from '../../../app/programme/lay-out'
import { pictureAt } from '../../../app/programme/picture-at'
import { applyAffine } from '../../../app/programme/affine'
import type { Breakdown } from '../../../app/project/breakdown'
import type { Paragraph } from '../../../app/project/picture'
import { headingText } from '../../../app/script/heading-text'
import { evenFrameTable } from '../../../app/time/frame-table'
import { rational } from '../../../app/time/rational'

const context: LayOutContext = {
  film: () => ({ table: evenFrameTable(600, rational(60)), width: 1280, height: 720 }),
  cardSeconds: () => rational(4),
  takeSeconds: () => null,
  chapterTitle: (chapter) => headingText(chapter, new Map()),
  speakingSeconds: (paragraph) => paragraph.text.length * 5,
  cueSeconds: (paragraph, event) =>
    paragraph.text.some((piece) => typeof piece === 'object' && 'cue' in piece && piece.cue === event) ? 2 : null,
}

function breakdown(paragraphs: readonly Paragraph[], parts: Partial<Breakdown> = {}): Breakdown {
  return {
    format: 'claimframe-breakdown',
    version: 1,
    title: 'Two right hands',
    output: { width: 1920, height: 1080, rate: '30/1' },
    footage: [{ id: 'f1', file: 'a.mp4', source: { credit: 'Club archive' } }],
    subjects: [{ id: 's1', name: 'Nela Varga' }],
    clips: [
      { id: 'c1', footage: 'f1', from: 0, to: 600, capture: { factor: '1', u: 0 } },
      { id: 'c2', footage: 'f1', from: 0, to: 600, capture: { factor: '4', u: 0 } },
      { id: 'c3', footage: 'f1', from: 0, to: 600, capture: 'unknown' },
    ],
    events: [{ id: 'e1', clip: 'c1', name: 'contact', earliest: 100, latest: 101 }],
    script: [...paragraphs],
    ...parts,
  }
}

const p = (id: string, words: number, shots: NonNullable<Paragraph['shots']>): Paragraph => ({
  id,
  text: Array.from({ length: words }, () => 'Words.'),
  shots,
})

describe('a film laid out', () => {
  it('should open with a caution card when the script has none, and not when it has one', () => {
    const without = layOut(breakdown([p('p1', 0, [{ hold: 'c1', at: 10, seconds: '1' }])]), context)
    expect(without.shots[0]).toMatchObject({ kind: 'card', start: 0, frames: 120, index: -1 })
    const own = layOut(breakdown([p('p1', 0, [{ card: 'caution' }, { hold: 'c1', at: 10, seconds: '1' }])]), context)
    expect(own.shots.map((s) => s.kind)).toEqual(['card', 'hold'])
  })

  it('should follow shot upon shot without a gap or an overlap', () => {
    const { shots, frames } = layOut(
      breakdown([
        p('p1', 1, [
          { run: 'c1', from: 0, to: 60, speed: '1/4' },
          { hold: 'c1', at: 60, seconds: '2' },
        ]),
        p('p2', 2, [{ run: 'c1', from: 60, to: 120, speed: '1' }]),
      ]),
      context,
    )
    let at = 0
    for (const shot of shots) {
      expect(shot.start).toBe(at)
      for (const panel of shot.panels) expect(panel.frames.length).toBe(shot.frames)
      at += shot.frames
    }
    expect(at).toBe(frames)
  })

  it('should hold the last picture, badged frozen, while the words go on, and say by how much', () => {
    const { shots, findings } = layOut(breakdown([p('p1', 2, [{ run: 'c1', from: 0, to: 60, speed: '1' }])]), context)
    const [, run, held] = shots
    expect(run!.frames + held!.frames).toBe(Math.ceil((10 + 0.4) * 30))
    expect(held!.badges).toEqual(['frozen'])
    expect(new Set(held!.panels[0]!.frames)).toEqual(new Set([run!.panels[0]!.frames.at(-1)]))
    expect(findings.map((f) => [f.code, f.paragraph])).toContainEqual(['words-longer-than-picture', 'p1'])
  })

  it('should let a hold stand longer rather than be followed by another', () => {
    const { shots } = layOut(breakdown([p('p1', 2, [{ hold: 'c1', at: 60, seconds: '2' }])]), context)
    expect(shots).toHaveLength(2)
    expect(shots[1]!.frames).toBe(312)
  })

  it('should let the next paragraph wait while pictures go on, and say so', () => {
    const { paragraphs, findings } = layOut(
      breakdown([p('p1', 1, [{ run: 'c1', from: 0, to: 600, speed: '1' }]), p('p2', 1, [{ hold: 'c1', at: 1, seconds: '5' }])]),
      context,
    )
    expect(paragraphs[1]!.from).toBe(paragraphs[0]!.from + 300)
    expect(findings.map((f) => f.code)).toContain('picture-longer-than-words')
  })

  it('should run a replay of known rate at real-time speed, and name an unknown one', () => {
    const { shots } = layOut(
      breakdown([
        p('p1', 0, [
          { run: 'c2', from: 0, to: 240, speed: '1/2' },
          { run: 'c3', from: 0, to: 60, speed: '1' },
        ]),
      ]),
      context,
    )
    // 240 file frames at 60 a second, slowed four times by the replay, are one real second: two at half speed.
    expect(shots[1]).toMatchObject({ frames: 60, badges: ['½ speed'] })
    expect(shots[2]!.badges).toEqual(['speed not known'])
  })

  it('should put the event of every panel of a pair on one output frame, whatever the rates', () => {
    const rates = [rational(24000, 1001), rational(25), rational(30000, 1001), rational(50), rational(60), rational(120), rational(240)]
    for (const [i, first] of rates.entries())
      for (const second of rates.slice(i)) {
        const clips: Breakdown['clips'] = [
          { id: 'a', footage: 'fa', from: 0, to: 2000, capture: { factor: '1', u: 0 } },
          { id: 'b', footage: 'fb', from: 0, to: 2000, capture: { factor: '1', u: 0 } },
        ]
        const film = breakdown(
          [
            p('p1', 0, [
              {
                pair: [
                  { clip: 'a', event: 'ea' },
                  { clip: 'b', event: 'eb' },
                ],
                before: '1/2',
                after: '3/10',
                speed: '1/8',
                layout: 'beside',
              },
            ]),
          ],
          {
            footage: [
              { id: 'fa', file: 'a.mp4' },
              { id: 'fb', file: 'b.mp4' },
            ],
            clips,
            events: [
              { id: 'ea', clip: 'a', name: 'contact', earliest: 700, latest: 701 },
              { id: 'eb', clip: 'b', name: 'contact', earliest: 333, latest: 333 },
            ],
          },
        )
        const tables = { fa: evenFrameTable(2000, first), fb: evenFrameTable(2000, second) }
        const laid = layOut(film, { ...context, film: (f) => ({ table: tables[f as 'fa'], width: 640, height: 360 }) }).shots[1]!
        const contact = laid.eventAt.get('ea')!
        expect(laid.eventAt.get('eb')).toBe(contact)
        expect(laid.panels.map((panel) => panel.frames[contact])).toEqual([700, 333])
        expect(laid.panels.map((panel) => panel.frames[contact - 1]! < panel.frames[contact]!)).toEqual([true, true])
      }
  })

  it('should lay three and four clips in step, those over each other all as strong, and say how many are mirrored', () => {
    const ids = ['a', 'b', 'c', 'd']
    const pairOf = (count: number, layout: 'beside' | 'over') =>
      layOut(
        breakdown(
          [
            p('p1', 0, [
              {
                pair: ids.slice(0, count).map((clip) => ({ clip, event: `e${clip}` })),
                before: '1/2',
                after: '1/2',
                speed: '1/4',
                layout,
                ...(layout === 'over'
                  ? { over: { subjects: ids.slice(0, count).map(() => 's1'), points: ['hip.left', 'knee.left'] } }
                  : {}),
              },
            ]),
          ],
          {
            clips: ids.map((id, i) => ({ id, footage: 'f1', from: 0, to: 200, capture: { factor: '1', u: 0 }, mirrored: i > 1 })),
            events: ids.map((clip, i) => ({ id: `e${clip}`, clip, name: 'contact', earliest: 60 + i, latest: 60 + i })),
          },
        ),
        context,
      ).shots[1]!
    for (const count of [3, 4]) {
      const laid = pairOf(count, 'beside')
      const contact = laid.eventAt.get('ea')!
      expect(laid.panels.map((panel) => panel.frames[contact])).toEqual([60, 61, 62, 63].slice(0, count))
      const ends = laid.panels.map(({ place: [x, , width] }) => [x, x + width] as const)
      expect(ends.every(([from], i) => from >= (ends[i - 1]?.[1] ?? 0))).toBe(true)
      expect(laid.badges).toEqual(['¼ speed, all', count === 3 ? 'one mirrored' : '2 of 4 mirrored'])
      // Each covers what lies beneath it by its opacity: what is left of every picture is the same.
      const { panels } = pairOf(count, 'over')
      const left = panels.map(({ opacity }, i) => panels.slice(i + 1).reduce((rest, above) => rest * (1 - above.opacity), opacity))
      for (const share of left) expect(share).toBeCloseTo(1 / count, 9)
    }
    expect(pairOf(2, 'beside').badges).toEqual(['¼ speed, both'])
  })

  it('should bring an event’s marks when its frame is reached on a run, and when its word is said on a hold', () => {
    const cue: Paragraph = {
      id: 'p1',
      text: ['At ', { cue: 'e1', word: 'contact' }],
      shots: [
        { run: 'c1', from: 70, to: 130, speed: '1' },
        { hold: 'c1', at: 100, seconds: '9' },
      ],
    }
    const { shots } = layOut(breakdown([cue]), context)
    expect(shots[1]!.panels[0]!.frames[shots[1]!.eventAt.get('e1')!]).toBe(100)
    // The word is said 2 s after the paragraph begins; the hold begins after 1 s.
    expect(shots[2]!.eventAt.get('e1')).toBe(30)
  })

  it('should ask for a run at full speed and for an end card', () => {
    const { findings } = layOut(breakdown([p('p1', 0, [{ run: 'c1', from: 0, to: 60, speed: '1/4' }])]), context)
    expect(findings.map((f) => f.code).sort()).toEqual(['end-card-missing', 'no-full-speed-run'])
  })

  it('should show a credit with the first picture of its film, and titles for four seconds', () => {
    const { shots } = layOut(
      breakdown([
        {
          ...p('p1', 0, [
            { hold: 'c1', at: 1, seconds: '6' },
            { hold: 'c1', at: 2, seconds: '1' },
          ]),
          title: { name: 'Nela Varga' },
        },
      ]),
      context,
    )
    expect(shots[1]).toMatchObject({ credit: 'Club archive', title: { name: 'Nela Varga', line: '', frames: 120 } })
    expect(shots[2]).toMatchObject({ credit: null, title: null })
  })
})

describe('the picture of a frame', () => {
  it('should map the shown rectangle onto its place, mirrored or not', () => {
    for (const mirrored of [false, true]) {
      const film = breakdown([p('p1', 0, [{ hold: 'c1', at: 5, seconds: '1', frame: [320, 180, 640, 360] }])])
      film.clips[0]!.mirrored = mirrored
      const programme = layOut(film, context)
      const { panels } = pictureAt(programme, 130)
      const [left, right] = [applyAffine(panels[0]!.toCanvas, [320, 180]), applyAffine(panels[0]!.toCanvas, [960, 540])]
      expect(left).toEqual(mirrored ? [1920, 0] : [0, 0])
      expect(right).toEqual(mirrored ? [0, 1080] : [1920, 1080])
    }
  })

  it('should refuse a frame outside the film', () => {
    const programme = layOut(breakdown([p('p1', 0, [{ hold: 'c1', at: 5, seconds: '1' }])]), context)
    expect(() => pictureAt(programme, programme.frames)).toThrow(RangeError)
    expect(() => pictureAt(programme, -1)).toThrow(RangeError)
  })
})
