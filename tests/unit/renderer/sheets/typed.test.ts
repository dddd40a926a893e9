import { expect, it } from 'vitest'
import { answered, setBy, shownIn, takenBack, typing, untouched, type Typed } from '../../../../renderer/sheets/typed'

const set = (typed: Typed, value: string, mayStand: (text: string) => boolean = () => true) =>
  setBy(typed, value, mayStand, (text) => text.trim())

it('should keep what is typed after it was set, whatever arrives meanwhile, and set it against what arrived', () => {
  const first = set(typing(untouched, 'Guard'), 'Old')
  expect(first.send).toBe('Guard')
  expect(shownIn(first.typed, 'Old')).toBe('Guard')
  const since = typing(first.typed, 'Guard pass')
  // Guard arrives and is answered.
  expect(shownIn(since, 'Guard')).toBe('Guard pass')
  const there = answered(since, first.typed.turn)
  expect(shownIn(there, 'Guard')).toBe('Guard pass')
  expect(set(there, 'Guard').send).toBe('Guard pass')
  // Taken back to what arrived, there is nothing to set.
  expect(shownIn(takenBack(there), 'Guard')).toBe('Guard')
  expect(set(typing(there, 'Guard'), 'Guard').send).toBeNull()
})

it('should show what is kept once a refusal comes, or what was typed since', () => {
  const { typed } = set(typing(untouched, 'Guard'), 'Old')
  expect(shownIn(answered(typed, typed.turn), 'Old')).toBe('Old')
  const since = answered(typing(typed, 'Guard pass'), typed.turn)
  expect(shownIn(since, 'Old')).toBe('Guard pass')
  expect(shownIn(takenBack(since), 'Old')).toBe('Old')
})

it('should set one change once, and the first value again where another is on its way', () => {
  const { typed } = set(typing(untouched, ' Guard '), 'Old')
  // The hand leaves behind Enter.
  expect(set(typed, 'Old').send).toBeNull()
  expect(set(typing(typed, 'Guard'), 'Old').send).toBeNull()
  expect(set(typing(typed, 'Old'), 'Old').send).toBe('Old')
})

it('should heed the answer to what was set last alone', () => {
  const first = set(typing(untouched, 'a'), '').typed
  const second = set(typing(first, 'ab'), '').typed
  expect(shownIn(answered(second, first.turn), 'a')).toBe('ab')
  expect(shownIn(answered(second, second.turn), 'ab')).toBe('ab')
  expect(shownIn(answered(second, second.turn), 'a')).toBe('a')
})

it('should take back what may not stand, and what is kept already', () => {
  const wrong = set(typing(untouched, 'none'), '3', (text) => /^\d+$/.test(text))
  expect([wrong.send, shownIn(wrong.typed, '3')]).toEqual([null, '3'])
  const same = set(typing(untouched, '3 '), '3')
  expect([same.send, shownIn(same.typed, '3')]).toEqual([null, '3'])
})

it('should follow a value that is changed elsewhere while nothing is typed', () => {
  expect(shownIn(untouched, 'Old')).toBe('Old')
  expect(shownIn(untouched, 'New')).toBe('New')
})
