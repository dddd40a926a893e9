import { describe, expect, it } from 'vitest'
import { contrastRatio } from '../../../app/marks/contrast'
import { letteringOf } from '../../../app/marks/lettering'
import { leastPlateWidth, plateContent, setPlate, splitValue, type PlateContent } from '../../../app/marks/plate'
import type { Colour, Shape } from '../../../app/marks/shape'
import { wrapAtMost, wrapEvenly, wrapText } from '../../../app/marks/set-text'
import type { Reading } from '../../../app/measure/reading'
import { typeface } from './scene'

const reading = (changes: Partial<Reading>): Reading => ({
  id: 'm1',
  kind: 'joint-angle',
  clip: 'c1',
  frame: 60,
  value: 142,
  u: 6,
  U: 12,
  low: 130,
  high: 154,
  unit: '°',
  plane: 'image',
  verdict: 'good',
  reasons: [],
  parts: [],
  label: 'apparent rear knee angle, image plane: 142° ± 12°',
  plate: { value: '142° ± 12°', what: 'apparent rear knee angle, image plane' },
  spoken: 'about 140 degrees',
  ...changes,
})
const refused = reading({
  verdict: 'refused',
  value: null,
  reasons: ['figure-too-small'],
  plate: { value: 'not measured', what: 'rear knee angle' },
})
const range = reading({
  verdict: 'range',
  reasons: ['uncertainty-over-20'],
  plate: { value: 'roughly 95–150°', what: 'apparent elbow angle, image plane' },
})
const warned = reading({ verdict: 'warned', reasons: ['occluded'] })

const texts = (shapes: readonly Shape[]) => shapes.filter((s) => s.kind === 'text')
const fills = (shapes: readonly Shape[]) => shapes.filter((s) => s.kind === 'fill')
const CANVASES = [
  { width: 1920, height: 1080 },
  { width: 1080, height: 1920 },
  { width: 1080, height: 1080 },
  { width: 640, height: 360 },
]

describe('what a plate says', () => {
  it('parts the value from its error', () => {
    expect(splitValue('142° ± 12°')).toEqual({ value: '142°', error: '± 12°' })
    expect(splitValue('0.300 s ± 0.027 s')).toEqual({ value: '0.300 s', error: '± 0.027 s' })
    expect(splitValue('roughly 20–70°')).toEqual({ value: 'roughly 20–70°', error: '' })
  })

  it('is plain for a good value, and a sign and words for every other verdict', () => {
    expect(plateContent(reading({}), '', false).reason).toBe('')
    expect(plateContent(warned, '', false).reason).toBe('a body point was hidden and its place inferred')
    expect(plateContent(range, '', false).reason).toMatch(/^range\u00a0only/)
    expect(plateContent(reading({ verdict: 'range', reasons: ['order-not-resolved'] }), '', false).reason).toMatch(
      /^range\u00a0only: the two brackets overlap/,
    )
    expect(plateContent(refused, '', false).reason).toBe('the figure is less than 150 pixels tall')
  })

  it('explains the error once, and never beside a refusal', () => {
    expect(plateContent(reading({}), '', true).note.replaceAll('\u00a0', ' ')).toBe('± = our 95 % estimate')
    expect(plateContent(refused, '', true).note).toBe('')
  })
})

describe.each(CANVASES)('a plate on $width × $height', (canvas) => {
  const lettering = letteringOf(canvas.width, canvas.height)
  const setAll = (wide: number): { content: PlateContent; shapes: Shape[]; width: number; height: number }[] =>
    [reading({}), warned, range, refused].map((r) => {
      const content = plateContent(r, 'at contact', true)
      const set = setPlate(content, typeface(), lettering, Math.max(wide, leastPlateWidth(content, typeface(), lettering)))
      return { content, shapes: set.draw([100, 100]), width: set.width, height: set.height }
    })

  it('has its value in 5 % of the height at least, bold, its error lighter beside or beneath, nothing under 4 %', () => {
    for (const { content, shapes } of setAll(0.4 * canvas.width)) {
      const [value] = texts(shapes)
      expect(value?.weight).toBe(700)
      expect(value!.size).toBeGreaterThanOrEqual(0.05 * canvas.height)
      expect(content.value.startsWith(value!.text)).toBe(true)
      const error = texts(shapes).find((t) => t.text.startsWith('±') && t.text === content.error)
      if (content.error) expect([error?.weight, error!.size]).toEqual([400, value!.size])
      for (const { size } of texts(shapes)) expect(size).toBeGreaterThanOrEqual(0.04 * canvas.height)
    }
  })

  it('holds all its words within its padding, whatever width it is set to, and breaks none', () => {
    for (const share of [0.1, 0.3, 0.5, 1])
      for (const { content, shapes, width, height } of setAll(share * canvas.width)) {
        for (const line of texts(shapes)) {
          expect(line.at[0]).toBeGreaterThanOrEqual(100 + lettering.padding - 1e-6)
          expect(line.at[0] + typeface().advance(line.text, line.size, line.weight)).toBeLessThanOrEqual(
            100 + width - lettering.padding + 1e-6,
          )
          expect(line.at[1] - 0.668 * line.size).toBeGreaterThanOrEqual(100 + lettering.padding - 1e-6)
          expect(line.at[1]).toBeLessThanOrEqual(100 + height - lettering.padding + 1e-6)
        }
        const said = texts(shapes)
          .map((t) => t.text)
          .join(' ')
          .split(' ')
        for (const word of [content.value, content.error, content.what, content.instant, content.reason, content.note]
          .join(' ')
          .split(' ')
          .filter(Boolean))
          expect(said.map((w) => w.replace(/,$/, ''))).toContain(word.replace(/,$/, ''))
      }
  })

  it('shows every verdict in shape, not in colour alone, and every word at 4.5 or more', () => {
    const shapes = setAll(0.4 * canvas.width).map((s) => s.shapes)
    const forms = shapes.map((s) =>
      JSON.stringify(
        fills(s)
          .slice(1)
          .map((f) => f.rings.map((ring) => ring.length)),
      ),
    )
    expect(new Set(forms).size).toBe(4)
    for (const s of shapes) {
      const ground = fills(s)[0]!.colour as Colour
      for (const { colour } of texts(s)) expect(contrastRatio(colour, ground)).toBeGreaterThanOrEqual(4.5)
    }
  })
})

describe('wrapping', () => {
  const face = typeface()
  it('keeps every line within the width and loses no word', () => {
    for (const width of [60, 150, 400]) {
      const lines = wrapText(face, 'the camera looks at the body more than 20° from side-on', 20, 400, width)
      for (const line of lines) expect(face.advance(line, 20, 400)).toBeLessThanOrEqual(width)
      if (width > 100) expect(lines.join(' ')).toBe('the camera looks at the body more than 20° from side-on')
    }
  })

  it('breaks a word only where it is wider than the line by itself, and comes to an end in no width at all', () => {
    expect(wrapText(face, 'Donaudampfschifffahrt', 20, 400, 90).length).toBeGreaterThan(1)
    expect(wrapText(face, 'abc', 20, 400, 0)).toEqual(['a', 'b', 'c'])
    expect(wrapText(face, '', 20, 400, 100)).toEqual([''])
  })

  it('evens lines out without adding one', () => {
    const text = 'apparent rear knee angle, image plane'
    const [greedy, even] = [wrapText(face, text, 40, 400, 600), wrapEvenly(face, text, 40, 400, 600)]
    const spread = (lines: string[]): number =>
      Math.max(...lines.map((l) => face.advance(l, 40, 400))) - Math.min(...lines.map((l) => face.advance(l, 40, 400)))
    expect(even).toHaveLength(greedy.length)
    expect(spread(even)).toBeLessThanOrEqual(spread(greedy))
  })

  it('marks what it leaves out', () => {
    const lines = wrapAtMost(face, 'one two three four five six seven eight', 20, 400, 110, 2)
    expect(lines).toHaveLength(2)
    expect(lines[1]).toMatch(/…$/)
    expect(face.advance(lines[1]!, 20, 400)).toBeLessThanOrEqual(110)
  })
})
