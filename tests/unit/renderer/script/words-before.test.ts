import { expect, it } from 'vitest'
import type { Inline } from '../../../../app/project/picture'
import { scriptToNode } from '../../../../app/script/conversion'
import { wordsBefore } from '../../../../renderer/script/words-before'

/// The words before the last value of a paragraph.
function before(...text: Inline[]): string {
  const doc = scriptToNode([{ id: 'p1', text }])
  let at = 0
  doc.descendants((node, position) => void (node.type.name === 'value' && (at = position)))
  return wordsBefore(doc.resolve(at))
}

it('takes the words that are said before a value, over cues, notes and cites, as far as the next value', () => {
  expect(before('It is ', { cue: 'e1', word: 'about' }, ' ', { value: 'm1' })).toBe('It is about ')
  expect(before('It is about ', { note: 'check this, roughly ' }, { cite: 'r1' }, { value: 'm1' })).toBe('It is about ')
  expect(before('About ', { value: 'm1' }, ' and ', { value: 'm2' })).toBe('\uFFFC and ')
  expect(before({ value: 'm1' })).toBe('')
  expect(before('A sentence that is a good deal longer than any hedge, roughly ', { value: 'm1' })).toMatch(/^.{24}$/)
})
