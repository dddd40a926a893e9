import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { clearance, type Box } from '../../../app/marks/box'
import { burnCaptions } from '../../../app/marks/burned-caption'
import { drawFrame, drawShot } from '../../../app/marks/frame-drawing'
import { letteringOf } from '../../../app/marks/lettering'
import { shotsWritten } from './written'
import { contextOf, breakdownOf, laid } from './scene'
import type { Caption } from '../../../app/programme/caption'
import { pictureOfShot } from '../../../app/programme/picture-at'
import type { LaidShot, Programme } from '../../../app/programme/programme'
import type { Shot } from '../../../app/project/picture'
import { rational } from '../../../app/time/rational'
import { ticksOfFrame } from '../../../app/time/ticks'

const RATE = rational(60)
const CANVASES = [
  { width: 1920, height: 1080 },
  { width: 1080, height: 1920 },
  { width: 1080, height: 1080 },
  { width: 640, height: 360 },
]

function film(canvas: { width: number; height: number }, shots: readonly Shot[]) {
  const breakdown = breakdownOf(canvas)
  let start = 0
  const placed = shots.map((shot): LaidShot => {
    const each = laid(shot, breakdown, { start, badges: ['frozen'], credit: 'Film: Lantern Yard' })
    start += each.frames
    return each
  })
  const programme: Programme = { ...canvas, rate: RATE, frames: start, shots: placed, paragraphs: [], chapters: [], findings: [] }
  return { programme, context: contextOf(breakdown) }
}
const caption = (from: number, to: number, ...lines: string[]): Caption => ({
  paragraph: 'p1',
  from: ticksOfFrame(from, RATE),
  to: ticksOfFrame(to, RATE),
  lines,
  flags: [],
})
const SAID = ['The rear knee is nearly straight when', 'the fist arrives, give or take.']
const hold = (...marks: { word: string; at: [number, number] }[]): Shot => ({ hold: 'c1', at: 60, seconds: '2', marks: ['knee', ...marks] })
const overlapping = (box: Box, others: readonly Box[]): Box[] => others.filter((other) => clearance(box, { kind: 'box', box: other }) < 0)

describe.each(CANVASES)('captions burned in on $width × $height', (canvas) => {
  it('stand in their zone where nothing is in the way, on exactly their frames', () => {
    const { programme, context } = film(canvas, [hold(), { run: 'c1', from: 0, to: 60, speed: '1' }])
    const [burned] = burnCaptions([caption(30, 150, ...SAID)], programme, context)
    expect(burned).toMatchObject({ from: 30, to: 150, clear: true })
    expect(burned!.block.boxes[0]!.y).toBeGreaterThanOrEqual(letteringOf(canvas.width, canvas.height).captionTop)
    const drawn = { ...context, captions: [burned!] }
    const says = (frame: number): boolean => {
      const shot = programme.shots.find((each) => each.start <= frame && frame < each.start + each.frames)!
      return drawFrame(pictureOfShot(shot, frame - shot.start), drawn).some(
        (shape) => shape.kind === 'text' && SAID[0]!.startsWith(shape.text.slice(0, 10)),
      )
    }
    expect([29, 30, 119, 120, 149, 150].map(says)).toEqual([false, true, true, true, true, false])
    // A film's spans are its frames'.
    for (const shot of programme.shots) {
      const spans = drawShot(shot, drawn)
      for (let at = 0; at < shot.frames; at += 7)
        expect(spans.filter(({ from, to }) => from <= at && at < to).flatMap(({ shapes }) => shapes)).toEqual(
          drawFrame(pictureOfShot(shot, at), drawn),
        )
    }
  })

  it('keep clear of words wherever these stand', () => {
    const word = fc.record({
      word: fc.constantFrom('hidden', 'speed not stated', 'the rear heel is off the floor as the hip turns'),
      at: fc.tuple(fc.integer({ min: 20, max: 1260 }), fc.integer({ min: 20, max: 700 })) as fc.Arbitrary<[number, number]>,
    })
    let cramped = 0
    fc.assert(
      fc.property(fc.array(word, { maxLength: 4 }), (words) => {
        const { programme, context } = film(canvas, [hold(...words), hold()])
        const [burned] = burnCaptions([caption(60, 200, ...SAID)], programme, context)
        const [box] = burned!.block.boxes as [Box]
        const others = shotsWritten(programme, context, 60, 200)
        expect(box.y + box.height).toBeLessThanOrEqual(canvas.height)
        if (burned!.clear) {
          expect(overlapping(box, others)).toEqual([])
          return
        }
        cramped++
        for (let y = letteringOf(canvas.width, canvas.height).margin; y + box.height < canvas.height; y += 5)
          expect(
            others.some(
              (other) =>
                clearance({ ...box, y }, { kind: 'box', box: other }) <
                8 * letteringOf(canvas.width, canvas.height).unit + 0.011 * canvas.height,
            ),
          ).toBe(true)
      }),
      { numRuns: 15 },
    )
    expect(cramped).toBeLessThan(5)
  })

  it('stand beneath a card’s words', () => {
    for (const card of [{ card: 'caution' as const }, { card: 'end' as const }, { card: 'title' as const }]) {
      const { programme, context } = film(canvas, [card])
      const [burned] = burnCaptions([caption(0, programme.frames, ...SAID)], programme, context)
      expect(burned!.clear).toBe(true)
      expect(overlapping(burned!.block.boxes[0]!, shotsWritten(programme, context, 0, programme.frames))).toEqual([])
    }
  })
})
