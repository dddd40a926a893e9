import { describe, expect, it } from 'vitest'
import type { Breakdown } from '../../../../app/project/breakdown'
import { onlyNames } from '../../../../app/script/claims/only-names'
import { statedClaims } from '../../../../app/script/claims/stated-claim'

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'She drops the hand',
  output: { width: 640, height: 360, rate: '30/1' },
  footage: [
    {
      id: 'f1',
      file: 'a.mp4',
      source: { owner: 'Lantern Yard Boxing Club', where: 'club ring, far side', when: 'late show', credit: 'Lantern Yard archive' },
    },
  ],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [
    {
      id: 'c1',
      footage: 'f1',
      from: 0,
      to: 300,
      capture: 'unknown',
      name: 'Varga, ringside',
      bout: 'open evening',
      technique: 'lead right hand',
    },
  ],
  script: [
    { id: 'p1', text: ['Nela Varga lands the lead right hand.'], title: { name: 'Nela Varga', line: 'Lantern Yard, open evening' } },
    { id: 'p2', text: ['Lead right hand. Varga always lands it.'] },
  ],
} as unknown as Breakdown

describe('words that only name', () => {
  const names = onlyNames(breakdown)
  it.each([
    'Nela Varga',
    'Varga',
    'NELA VARGA',
    'Lantern Yard, open evening',
    'Lantern Yard · late show',
    'Lead right hand.',
    'Varga: far side',
  ])('should know %s for names', (text) => expect(names(text)).toBe(true))
  it.each([
    '',
    ' — ',
    'Nela Varga lands',
    'right hands',
    'antern Yard',
    'Varga Nela',
    'Nela Varga, the better one',
    'She drops the hand',
    'open evening lead',
  ])('should not take “%s” for names', (text) => expect(names(text)).toBe(false))
})

it('should suggest of names that they are about the film, and leave the other words, and the title, what they are', () => {
  expect(statedClaims(breakdown, new Map()).claims.map(({ saying, classes }) => [saying.shown, classes[0]])).toEqual([
    ['She drops the hand', 'A'],
    ['Nela Varga lands the lead right hand.', 'A'],
    ['Nela Varga', 'L'],
    ['Lantern Yard, open evening', 'L'],
    ['Lead right hand.', 'L'],
    ['Varga always lands it.', 'D'],
  ])
})
