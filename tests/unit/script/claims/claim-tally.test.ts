import { expect, it } from 'vitest'
import { ClaimClass } from '../../../../app/project/claim'
import { tallyClaims } from '../../../../app/script/claims/claim-tally'

it('should count every class in one group, each sentence once', () => {
  for (const letter of ClaimClass.options) {
    const tally = tallyClaims([{ classes: [letter] }])
    expect(tally.filter(({ count }) => count === 1).map(({ letters }) => letters.includes(letter as never))).toEqual([true])
  }
  const all = ClaimClass.options.map((letter) => ({ classes: [letter, 'A'] as const }))
  expect(tallyClaims(all).reduce((sum, { count }) => sum + count, 0)).toBe(13)
})

it('should count a medical sentence as one, whichever of its classes leads', () => {
  const tally = tallyClaims([{ classes: ['J', 'G'] }, { classes: ['A', 'J'] }, { classes: ['A'] }])
  expect(tally.filter(({ count }) => count > 0).map(({ name, count }) => [name, count])).toEqual([
    ['measured or shown', 1],
    ['medical', 2],
  ])
})
