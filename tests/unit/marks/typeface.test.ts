import { describe, expect, it } from 'vitest'
import { typeface } from './scene'

/// Numbers of Atkinson Hyperlegible 400 and 700, read from the files' own hmtx, OS/2 and GPOS tables.
describe('the face', () => {
  const face = typeface()

  it('tells its cell and its capitals in em', () => {
    expect([face.family, face.ascent, face.descent, face.capHeight]).toEqual(['Atkinson Hyperlegible', 0.95, 0.29, 0.668])
  })

  it('measures a line at any size, pairs kerned', () => {
    expect(face.advance('Tested AV To', 100, 400)).toBeCloseTo(564.1, 6)
    expect(face.advance('Tested AV To', 100, 700)).toBeCloseTo(617.3, 6)
    expect(face.advance('To', 1000, 400)).toBeCloseTo(1110 - 86, 6)
    expect(face.advance('To', 20, 400)).toBeCloseTo(20.48, 6)
    expect(face.advance('', 20, 400)).toBe(0)
  })

  it('measures composed and decomposed letters alike', () => {
    expect(face.advance('s\u030ca\u0301', 40, 400)).toBe(face.advance('šá', 40, 400))
  })

  it('has what values are written with, and names what it lacks', () => {
    expect(face.lacking('145° ± 12°, 0.300 s, ≈ × − – … ½ ¼ ¾ “Łukasz”')).toEqual([])
    expect(face.lacking('⅛ Ж⊘ЖΩ')).toEqual(['⅛', 'Ж', '⊘'])
  })

  it('gives no outline for a line with a character that it lacks, and leaves room enough for one in most faces', () => {
    expect(face.outline('Ж', 40, 400)).toBeNull()
    expect(face.advance('aЖ', 100, 400)).toBeCloseTo(face.advance('a', 100, 400) + 70, 6)
    expect(face.advance('中', 100, 400)).toBeCloseTo(100, 6)
    expect(face.advance('😀', 100, 400)).toBeCloseTo(100, 6)
  })

  it('outlines a line within its advance and its cell', () => {
    const steps = face.outline('142° ± 12°', 58, 700) ?? []
    expect(steps.length).toBeGreaterThan(50)
    expect(steps[0]?.to).toBe('move')
    for (const { at } of steps) {
      expect(at[0]).toBeGreaterThanOrEqual(0)
      expect(at[0]).toBeLessThanOrEqual(face.advance('142° ± 12°', 58, 700))
      expect(at[1]).toBeLessThanOrEqual(0.29 * 58)
      expect(at[1]).toBeGreaterThanOrEqual(-0.95 * 58)
    }
  })
})
