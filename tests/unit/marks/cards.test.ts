import { describe, expect, it } from 'vitest'
import { cardPageAt, cardPages, cardSeconds } from '../../../app/marks/cards'
import { CAUTION_DRAFT, cautionText, readingSeconds } from '../../../app/script/caution-text'
import type { Shape } from '../../../app/marks/shape'
import type { WordCard } from '../../../app/project/picture'
import { typeface } from './scene'

const face = typeface()
const project = { title: 'Two right hands', question: 'Does the rear knee straighten before the fist arrives?' }
const CANVASES = [
  { width: 1920, height: 1080 },
  { width: 1080, height: 1920 },
  { width: 1080, height: 1080 },
  { width: 640, height: 360 },
]
const texts = (shapes: readonly Shape[]) => shapes.flatMap((s) => (s.kind === 'text' ? [s] : []))
const said = (shapes: readonly Shape[]): string =>
  texts(shapes)
    .map((t) => t.text)
    .join(' ')

const CARDS: WordCard[] = [
  { card: 'title' },
  { card: 'caution' },
  { card: 'end' },
  { card: 'text', lines: ['What I looked for', 'Two clips, one camera each.', 'Six more bouts were looked at; two could not be used.'] },
  { card: 'title', lines: ['by Nela Varga'] },
  { card: 'text', lines: [] },
  { card: 'end', lines: [Array.from({ length: 400 }, (_, i) => `word${i}`).join(' ')] },
]

describe.each(CANVASES)('cards on $width × $height', (canvas) => {
  it.each(CARDS)('$card: every page in type of 4 % at least, inside the canvas, lines apart, long enough to read', (card) => {
    for (const { shapes, seconds } of cardPages(card, project, face, canvas)) {
      const lines = texts(shapes)
      lines.forEach((line, i) => {
        expect(line.size).toBeGreaterThanOrEqual(0.04 * canvas.height)
        expect(line.at[0]).toBeGreaterThanOrEqual(0.05 * canvas.width)
        expect(line.at[0] + face.advance(line.text, line.size, line.weight)).toBeLessThanOrEqual(0.95 * canvas.width)
        expect(line.at[1] - face.capHeight * line.size).toBeGreaterThanOrEqual(0.05 * canvas.height)
        expect(line.at[1] + face.descent * line.size).toBeLessThanOrEqual(0.95 * canvas.height)
        const before = lines[i - 1]
        if (before) expect(line.at[1] - before.at[1]).toBeGreaterThanOrEqual(1.1 * Math.min(line.size, before.size))
      })
      const words = said(shapes)
        .replace(CAUTION_DRAFT, '')
        .split(' ')
        .filter((w) => /[\p{L}\p{N}]/u.test(w)).length
      expect(seconds).toBeGreaterThanOrEqual(0.33 * words + 0.5 - 1e-9)
    }
  })

  it('carry the notices whole, marked as drafts on every page', () => {
    const opening = cardPages({ card: 'caution' }, project, face, canvas)
    expect(opening.map((p) => said(p.shapes)).join(' ')).toContain(cautionText.start)
    const closing = cardPages({ card: 'end' }, project, face, canvas)
    const whole = closing.map((p) => said(p.shapes)).join(' ')
    for (const text of [cautionText.practice, cautionText.estimates, cautionText.health])
      for (const word of text.split(' ')) expect(whole).toContain(word)
    for (const page of [...opening, ...closing]) expect(said(page.shapes)).toContain(CAUTION_DRAFT)
    expect(opening.reduce((sum, p) => sum + p.seconds, 0)).toBeGreaterThanOrEqual(4)
  })

  it('lose no word of a long text, in order', () => {
    const words = cardPages(CARDS[6]!, project, face, canvas).flatMap((p) =>
      said(p.shapes)
        .split(' ')
        .filter((w) => /^word\d+$/.test(w)),
    )
    expect(words).toEqual(Array.from({ length: 400 }, (_, i) => `word${i}`))
  })

  it('hold a title of any length, and twenty long lines, in a bounded time', () => {
    const long = { title: 'Überlang '.repeat(220), question: 'W'.repeat(2000) }
    const pages = cardPages(
      { card: 'text', lines: Array.from({ length: 20 }, () => 'so it goes on and on '.repeat(95)) },
      long,
      face,
      canvas,
    )
    expect(pages.length).toBeGreaterThan(10)
    for (const { shapes } of [...pages, ...cardPages({ card: 'title' }, long, face, canvas)])
      for (const t of texts(shapes)) expect(t.at[1]).toBeLessThanOrEqual(canvas.height)
  })

  it('break no sentence of a notice that fits a page', () => {
    for (const { shapes } of cardPages({ card: 'end' }, project, face, canvas)) {
      const body = said(shapes).replace(CAUTION_DRAFT, '').trim()
      expect(body).toMatch(canvas.height > canvas.width ? /[.,;]$/ : /\.$/)
    }
  })
})

describe('the pages of a card', () => {
  const pages = [
    { shapes: [], seconds: 4 },
    { shapes: [], seconds: 8 },
    { shapes: [], seconds: 4 },
  ]
  it('have their share of the shot, whatever its length, and all of them their turn', () => {
    const turns = (frames: number): number[] => Array.from({ length: frames }, (_, at) => cardPageAt(pages, at, frames))
    expect(turns(16)).toEqual([0, 0, 0, 0, 1, 1, 1, 1, 1, 1, 1, 1, 2, 2, 2, 2])
    expect(turns(1000).filter((p) => p === 1)).toHaveLength(500)
    expect(turns(1)).toEqual([1])
  })

  it('take the time of all their words', () => {
    expect(readingSeconds('one two three — 45° ± 12°')).toBeCloseTo(0.5 + 5 * 0.33, 9)
    expect(cardSeconds({ card: 'end' }, project, face, { width: 1920, height: 1080 })).toBeGreaterThan(
      readingSeconds(cautionText.health) + readingSeconds(cautionText.practice),
    )
  })
})
