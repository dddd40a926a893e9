import { describe, expect, it } from 'vitest'
import { opennessOf } from '../../../../app/script/claims/openness'

describe('words that say that something cannot be told', () => {
  it.each<[string, string[]]>([
    ['The hip turns before the shoulder, but how far it turns cannot be told.', ['The hip turns before the shoulder']],
    ['The hip turns before the shoulder and how far is unclear.', ['The hip turns before the shoulder']],
    ['The hip turns before the shoulder, by how much cannot be told.', ['The hip turns before the shoulder']],
    ['The hip turns before the shoulder; the angle of the knee could not be measured.', ['The hip turns before the shoulder']],
    ['How far the knee bends is unclear: the hip turns before the shoulder.', ['the hip turns before the shoulder.']],
    ['The hip turns first, and the angle of the knee is not known.', ['The hip turns first']],
    ['In the first the hip leads; in the second it is unclear.', ['In the first the hip leads']],
    [
      'Whether the foot lands before the hand cannot be told, but the hip turns before the shoulder.',
      ['but the hip turns before the shoulder.'],
    ],
  ])('should leave the other clauses firm: “%s”', (text, firm) => expect(opennessOf(text).firm).toEqual(firm))

  it.each([
    'Whether the hip turns before the shoulder cannot be told.',
    'Whether the hip turns before the shoulder, cannot be told.',
    'Whether the hip turns before the shoulder and whether the knee bends more cannot be told.',
    'The order, and the amount, cannot be told.',
    'It cannot be told, from this side, whether the hip turns before the shoulder.',
    'Hip before shoulder: unclear.',
    'The hip seems to turn before the shoulder, but that cannot be told.',
    'The hip turns before the shoulder, though the order is unclear.',
    'The hip turns before the shoulder, or after it; which came first is unclear.',
    'Matched on contact, \uFFFC and \uFFFC at the lead knee: at this precision I cannot tell them apart.',
    'From hip turn to contact: how long that took, this film cannot tell.',
    'In what order they turn, and how far, cannot be told.',
    'One is more bent, but from this camera nothing tells the two apart.',
  ])('should leave nothing firm where they are about it all: “%s”', (text) =>
    expect(opennessOf(text).firm.filter((clause) => /before|first|more|hip/iu.test(clause) && !/^From hip turn/u.test(clause))).toEqual([]),
  )

  it('should be told to be of another case', () => {
    expect(opennessOf('In the first the hip leads; in the second it is unclear.').elsewhere).toEqual(['in the second it is unclear.'])
    expect(opennessOf('In the first the hip leads; in the second how far it turns is unclear.').elsewhere).toEqual([])
    expect(opennessOf('The hip leads.')).toEqual({ firm: ['The hip leads.'], open: [], elsewhere: [] })
  })
})
