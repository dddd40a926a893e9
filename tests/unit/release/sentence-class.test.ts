import { expect, it } from 'vitest'
import type { Breakdown } from '../../../app/project/breakdown'
import type { Claim } from '../../../app/project/claim'
import { classIn } from '../../../main/release/evidence-files'

const stated = (id: string, words: string, state: Claim['state']): Claim => ({
  id,
  on: { part: 'sentence', paragraph: 'p1', words },
  classes: ['G', 'A'],
  state,
  evidence: ['opinion'],
})

const breakdown = {
  title: 'One heel',
  footage: [],
  clips: [],
  subjects: [],
  script: [
    {
      id: 'p1',
      text: ['The heel is up. The hip turns before the fist lands. The rest is rhythm. The rear foot pivots all the way round.'],
    },
  ],
  claims: [
    stated('k1', 'The heel is up.', 'confirmed'),
    stated('k2', 'The rear foot pivots the whole way round.', 'confirmed'),
    stated('k3', 'The rest is rhythm.', 'suggested'),
  ],
} as unknown as Breakdown

it('tells what a sentence claims and whether that was confirmed of its very words, of others, or only suggested', () => {
  const classOf = classIn(breakdown, new Map())
  const of = (words: string, nth = 0) => classOf({ paragraph: 'p1', words, nth })
  expect(of('The heel is up.')).toEqual({ classes: ['G', 'A'], state: 'confirmed', evidence: ['opinion'], byHand: null })
  // What the rules find in the words as they are now comes to what was stated.
  expect(of('The rear foot pivots all the way round.')).toEqual({
    classes: ['G', 'D', 'A'],
    state: 'to-confirm',
    evidence: ['opinion'],
    byHand: null,
  })
  expect(of('The rest is rhythm.')).toMatchObject({ classes: ['G', 'A'], state: 'suggested' })
  expect(of('The hip turns before the fist lands.')).toMatchObject({ state: 'suggested', evidence: [] })
  expect(of('The hip turns before the fist lands.')?.classes).toContain('C')
  expect(of('Nobody said this.')).toBeNull()
  expect(of('The heel is up.', 1)).toBeNull()
})
