import { describe, expect, it } from 'vitest'
import { badgeText, drawBadges } from '../../../app/marks/badges'
import { clearance } from '../../../app/marks/box'
import { drawCaption } from '../../../app/marks/caption-plate'
import { letteringOf } from '../../../app/marks/lettering'
import type { Shape } from '../../../app/marks/shape'
import { drawCredit, drawTitle } from '../../../app/marks/titles'
import { typeface } from './scene'

const face = typeface()
const CANVASES = [
  { width: 1920, height: 1080 },
  { width: 1080, height: 1920 },
  { width: 1080, height: 1080 },
  { width: 640, height: 360 },
]
const texts = (shapes: readonly Shape[]) => shapes.flatMap((s) => (s.kind === 'text' ? [s] : []))
const edges = (shape: ReturnType<typeof texts>[number]): [number, number] => {
  const width = face.advance(shape.text, shape.size, shape.weight)
  const left = shape.at[0] - (shape.align === 'left' ? 0 : shape.align === 'middle' ? width / 2 : width)
  return [left, left + width]
}

describe("a badge's words", () => {
  it('have a fraction as one character only where the face has it', () => {
    expect(badgeText('1/4 speed', face)).toBe('¼ speed')
    expect(badgeText('¼ speed', face)).toBe('¼ speed')
    expect(badgeText('⅛ speed, both', face)).toBe('1/8 speed, both')
    expect(badgeText('1/8 speed', face)).toBe('1/8 speed')
    expect(badgeText('1/12 speed', face)).toBe('1/12 speed')
    expect(badgeText('11/4 speed', face)).toBe('11/4 speed')
    expect(badgeText('frozen', face)).toBe('frozen')
  })
})

describe.each(CANVASES)('on $width × $height', (canvas) => {
  const lettering = letteringOf(canvas.width, canvas.height)
  const badges = drawBadges(['in-between frames, synthetic', '¼ speed', 'mirrored'], face, lettering, canvas)
  const hostile = 'Donaudampfschifffahrtsgesellschaftskapitänswitwe von und zu Oberunterniedertupfingen am See'

  it('badges stand at the top right, apart, in type of 4 % at least', () => {
    expect(Math.max(...badges.boxes.map((b) => b.x + b.width))).toBeCloseTo(canvas.width - lettering.margin, 6)
    expect(Math.min(...badges.boxes.map((b) => b.y))).toBe(lettering.margin)
    badges.boxes.forEach((a, i) =>
      badges.boxes.slice(i + 1).forEach((b) => expect(clearance(a, { kind: 'box', box: b })).toBeGreaterThan(0)),
    )
    for (const box of badges.boxes) expect(box.x).toBeGreaterThanOrEqual(lettering.margin - 1e-6)
    for (const t of texts(badges.shapes)) expect(t.size).toBeGreaterThanOrEqual(0.04 * canvas.height)
  })

  it('names stand at the foot above the captions, and a long one is wrapped and cut, never run out of the plate', () => {
    for (const title of [
      { name: 'Nela Varga', line: 'Riverside Open, second bout' },
      { name: hostile, line: hostile },
      { name: 'Bo', line: '' },
    ]) {
      const block = drawTitle(title, face, lettering, canvas)
      const [box] = block.boxes as [(typeof block.boxes)[number]]
      expect(box.y + box.height).toBeLessThanOrEqual(0.82 * canvas.height)
      expect(box.y).toBeGreaterThan(0)
      expect(box.x + box.width).toBeLessThanOrEqual(canvas.width - lettering.margin + 1e-6)
      for (const t of texts(block.shapes)) {
        expect(t.size).toBeGreaterThanOrEqual(0.04 * canvas.height)
        expect(edges(t)[0]).toBeGreaterThanOrEqual(box.x)
        expect(edges(t)[1]).toBeLessThanOrEqual(box.x + box.width)
      }
    }
  })

  it('the credit keeps clear of the badges, whatever they are', () => {
    for (const credit of ['Film: Riverside Boxing Club', hostile])
      for (const others of [[], ['frozen'], ['frozen', 'mirrored'], ['in-between frames, synthetic', '¼ speed', 'left one mirrored']]) {
        const above = drawBadges(others, face, lettering, canvas)
        const block = drawCredit(credit, above.boxes, face, lettering, canvas)
        for (const box of block.boxes) {
          for (const badge of above.boxes) expect(clearance(box, { kind: 'box', box: badge })).toBeGreaterThan(0)
          expect(box.x + box.width).toBeLessThanOrEqual(canvas.width - lettering.margin + 1e-6)
        }
        for (const t of texts(block.shapes)) expect(t.size).toBeGreaterThanOrEqual(0.04 * canvas.height)
      }
  })

  it('a caption stands in the bottom 18 %, in two lines of 68 % of the width at most (three of 90 % on an upright canvas)', () => {
    const upright = canvas.height > canvas.width
    for (const lines of [['The rear knee is nearly straight when', 'the fist arrives, give or take.'], ['one'], [hostile, hostile]]) {
      const { shapes, boxes } = drawCaption(lines, face, canvas)
      const [box] = boxes as [(typeof boxes)[number]]
      expect(box.y).toBeGreaterThanOrEqual(0.82 * canvas.height)
      expect(box.y + box.height).toBeLessThanOrEqual(canvas.height)
      expect(box.width).toBeLessThanOrEqual((upright ? 0.9 : 0.68) * canvas.width + 1e-6)
      expect(texts(shapes).length).toBeLessThanOrEqual(upright ? 3 : 2)
      for (const t of texts(shapes)) expect(t.size).toBeGreaterThanOrEqual(0.04 * canvas.height)
    }
    const said = texts(drawCaption(['The rear knee is nearly straight when', 'the fist arrives, give or take.'], face, canvas).shapes).map(
      (t) => t.text,
    )
    expect(said.join(' ')).toBe('The rear knee is nearly straight when the fist arrives, give or take.')
    expect(drawCaption([''], face, canvas).boxes).toEqual([])
  })
})
