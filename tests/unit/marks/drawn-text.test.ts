import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { escapeText } from '../../../app/marks/ass'
import { drawnText } from '../../../app/marks/drawn-text'

describe('text as it is drawn', () => {
  it('is one line without anything that turns, hides or breaks it', () => {
    expect(drawnText('  two\nlines\tand\u2028three  ')).toBe('two lines and three')
    expect(drawnText('\u202e45° ± 12°\u202c')).toBe('45° ± 12°')
    expect(drawnText('a\u200bb\ufeffc\u2066d\u00ade\ufe0f')).toBe('abcde')
    expect(drawnText('e\u0301')).toBe('é')
    expect(drawnText('half \ud800 a pair')).toBe('half \ufffd a pair')
    expect(drawnText('')).toBe('')
  })

  it('keeps the joiners that scripts spell with, and every letter', () => {
    expect(drawnText('می‌خواهم')).toBe('می‌خواهم')
    expect(drawnText('Šárka Ødegård 中村 Олег')).toBe('Šárka Ødegård 中村 Олег')
  })

  it('stays the same when drawn again, whatever it was', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        expect(drawnText(drawnText(text))).toBe(drawnText(text))
      }),
    )
  })
})

describe('text written for the renderer', () => {
  it('opens no override, escapes nothing into a break, keeps its spaces', () => {
    expect(escapeText('{\\p1}x')).toBe('\\{\\\u2060p1\\}x')
    expect(escapeText('a\\Nb \\h')).toBe('a\\\u2060Nb\u00a0\\\u2060h')
  })

  it('never leaves a brace bare, a backslash before a letter, or a break, whatever the text', () => {
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom('\\', '{', '}', 'N', 'n', 'h', 'p', ' ', '\n', 'é', '\u2060') }), (text) => {
        const rest = escapeText(text)
          .replace(/\\\u2060/g, '')
          .replace(/\\[{}]/g, '')
        expect(rest).not.toMatch(/[\\{}\n\r ]/)
      }),
    )
  })
})
