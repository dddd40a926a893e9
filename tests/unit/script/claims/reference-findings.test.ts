import { describe, expect, it } from 'vitest'
import type { Breakdown } from '../../../../app/project/breakdown'
import type { Reference } from '../../../../app/project/reference'
import { findingsOf } from '../../../../app/script/claims/findings'

const SAID = 'A quick stretch before a muscle shortens can add to its force.'
const film = (references: Reference[], { cite, evidence }: { cite?: string; evidence?: string }): Breakdown => ({
  format: 'claimframe-breakdown',
  version: 1,
  title: 'T',
  output: { width: 640, height: 360, rate: '30/1' },
  footage: [],
  subjects: [],
  clips: [],
  script: [{ id: 'p1', text: [SAID, ...(cite === undefined ? [] : [{ cite }])] }],
  references,
  claims: [
    {
      id: 'k',
      on: { part: 'sentence', paragraph: 'p1', words: SAID },
      classes: ['F'],
      ...(evidence === undefined ? {} : { evidence: [{ reference: evidence }] }),
      state: 'confirmed',
    },
  ],
})
const made = (notes: Partial<Reference>): Reference => ({
  id: 'r1',
  csl: { type: 'book', title: 'B', author: [{ family: 'Made' }], issued: { 'date-parts': [[2020]] } },
  ...notes,
})
const found = (breakdown: Breakdown) =>
  findingsOf(breakdown, new Map())
    .filter(({ code }) => code.startsWith('reference'))
    .map(({ code, problem, holds }) => [code, problem, holds])

describe('what a sentence leans on', () => {
  it('should be noted with whom it holds for and how far, be it cited in the words or given as evidence', () => {
    expect(found(film([made({})], { cite: 'r1' }))).toEqual([
      ['reference-blank', 'it leans on Made 2020, of which it is not noted in whom it was found and how far it holds', false],
    ])
    expect(found(film([made({ population: '12 boxers', limits: '  ' })], { evidence: 'r1' }))).toEqual([
      ['reference-blank', 'it leans on Made 2020, of which it is not noted how far it holds', false],
    ])
    expect(found(film([made({ population: '12 boxers', limits: 'jumps only' })], { cite: 'r1', evidence: 'r1' }))).toEqual([])
    // One that nothing leans on is nobody's finding.
    expect(found(film([made({ population: '12 boxers', limits: 'jumps only' }), { ...made({}), id: 'r2' }], { cite: 'r1' }))).toEqual([])
  })

  it('should hold the film back when it is gone, and clear nothing any more', () => {
    expect(found(film([], { cite: 'r1' }))).toEqual([['reference-gone', 'it cites the reference r1, which is not there', true]])
    expect(found(film([made({ population: 'a', limits: 'b' })], { cite: 'r1', evidence: 'gone' }))).toEqual([
      ['reference-gone', 'it cites the reference gone, which is not there', true],
    ])
    expect(found(film([], {}))).toEqual([['reference-missing', expect.stringContaining('no reference is cited'), false]])
    const cause: Breakdown = { ...film([], { cite: 'r1' }), claims: [] }
    const [row] = cause.script
    const said = {
      ...cause,
      script: [{ ...row!, text: ['This is consistent with the floor causing the power.', { cite: 'r1' }] }],
      claims: [
        {
          id: 'k',
          on: { part: 'sentence', paragraph: 'p1', words: 'This is consistent with the floor causing the power.' },
          classes: ['G'],
          state: 'confirmed',
        },
      ],
    } as Breakdown
    expect(findingsOf(said, new Map()).map(({ code }) => code)).toEqual(expect.arrayContaining(['reference-gone', 'cause-open']))
  })
})
