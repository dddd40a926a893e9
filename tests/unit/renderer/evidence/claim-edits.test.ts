import { describe, expect, it } from 'vitest'
import type { ClaimAnswer } from '../../../../app/contract/claim-calls'
import { applyEdit } from '../../../../app/edit/apply-edit'
import { completeEdit } from '../../../../app/edit/complete-edit'
import type { Edit, RecordDiff } from '../../../../app/edit/edit'
import { breakdownOf, stateOf, type ProjectState } from '../../../../app/edit/project-state'
import type { Breakdown } from '../../../../app/project/breakdown'
import { findingsOf } from '../../../../app/script/claims/findings'
import { statedClaims } from '../../../../app/script/claims/stated-claim'
import { overriding, stating, toggled, type Stated } from '../../../../renderer/evidence/claim-edits'
import { reading } from '../../script/sample-script'

const HEEL = 'The rear heel is up and the chin is down behind the lead shoulder.'
const DROP = 'The drop takes the power off the punch.'
const FRAME = { frame: 10, clip: 'c1' }
const CONFIRM: Stated = { state: 'confirmed' }
const readings = new Map([['m1', reading('m1', '142° ± 12°', 'about 142 degrees')]])

const film = (text: Breakdown['script'][number], claims: Breakdown['claims']): ProjectState =>
  stateOf({
    format: 'claimframe-breakdown',
    version: 1,
    title: 'T',
    output: { width: 640, height: 360, rate: '30/1' },
    footage: [{ id: 'f1', file: 'a.mp4' }],
    subjects: [{ id: 's1', name: 'Nela Varga' }],
    clips: [{ id: 'c1', footage: 'f1', from: 0, to: 100, capture: 'unknown' }],
    measures: [{ id: 'm1', kind: 'joint-angle', clip: 'c1', subject: 's1', frame: 10, points: ['hip.left', 'knee.left', 'ankle.left'] }],
    script: [text],
    claims,
  })
const on = (words: string) => ({ part: 'sentence' as const, paragraph: 'p1', words })

/// As the engine answers, the title left out.
const answers = (state: ProjectState): ClaimAnswer[] =>
  statedClaims(breakdownOf(state), readings)
    .claims.filter(({ saying }) => saying.on.part === 'sentence')
    .map(({ saying, classes, state: how, evidence, changed, records, because, byHand }) => ({
      on: saying.on,
      place: saying.place,
      paragraph: saying.paragraph,
      shown: saying.shown,
      classes: [...classes],
      state: how,
      evidence: [...evidence],
      values: [...saying.values],
      cites: [...saying.cites],
      changed: [...changed],
      records: records.map(({ id }) => id),
      because: [...because].map(([letter, words]) => ({ class: letter, words })),
      byHand: byHand && { ...byHand, suggested: [...byHand.suggested] },
    }))

function applied(state: ProjectState, diffs: RecordDiff[]): ProjectState {
  const edit: Edit = { id: 'e', label: 'Confirm', group: null, diffs, selection: null, base: state.version, steps: [] }
  const result = applyEdit(state, completeEdit(state, edit))
  if (!result.ok) throw result.error
  return result.value.state
}
const state = (now: ProjectState, list: readonly { answer: ClaimAnswer; change: Stated }[], all = answers(now)): ProjectState =>
  applied(now, stating(now, list, all, readings, '2026-11-26'))
const told = (now: ProjectState): unknown[] =>
  answers(now).map(({ shown, classes, state: how, evidence }) => [shown, classes.join(''), how, evidence])

describe('stating a weaker class than the rules suggest', () => {
  const mind = film({ id: 'p1', text: ['He wanted the counter all along.'] }, [])
  const letter = (now: ProjectState, key: 'A' | 'I') =>
    state(now, [{ answer: answers(now)[0]!, change: { classes: (before) => toggled(before, key) } }])

  it('should be taken, hold nothing back, and keep who did it, when, and what was suggested', () => {
    expect(answers(mind)[0]).toMatchObject({ classes: ['I'], byHand: null })
    const weaker = letter(letter(mind, 'A'), 'I')
    expect(answers(weaker)[0]).toMatchObject({
      classes: ['A'],
      state: 'suggested',
      byHand: { suggested: ['I'], by: 'the analyst', when: '2026-11-26' },
    })
    expect(findingsOf(breakdownOf(weaker), readings)).toEqual([])
    // Evidence that comes later takes nothing of that away, and is no new statement of the class.
    const later = applied(
      weaker,
      stating(weaker, [{ answer: answers(weaker)[0]!, change: { evidence: () => [FRAME] } }], answers(weaker), readings, '2027-01-01'),
    )
    expect(answers(later)[0]!.byHand).toEqual({ suggested: ['I'], by: 'the analyst', when: '2026-11-26' })
  })

  it('should not be said while the suggested class stands among those stated, nor of other words than it was stated of', () => {
    expect(answers(letter(mind, 'A'))[0]).toMatchObject({ classes: ['A', 'I'], byHand: null })
    const carried = film({ id: 'p1', text: ['He wanted the counter all along, and got it.'] }, [
      { id: 'a', on: on('He wanted the counter all along.'), classes: ['A'], state: 'suggested' },
    ])
    expect(answers(carried)[0]).toMatchObject({ state: 'to-confirm', byHand: null })
  })
})

describe('confirming', () => {
  const split = film({ id: 'p1', text: ['The rear heel is up. The chin is down behind the lead shoulder.'] }, [
    { id: 'a', on: on(HEEL), classes: ['A'], evidence: [FRAME], state: 'confirmed' },
  ])
  const halves = [
    ['The rear heel is up.', 'A', 'confirmed', [FRAME]],
    ['The chin is down behind the lead shoulder.', 'A', 'confirmed', [FRAME]],
  ]

  it('one half of a split sentence should leave the other half what it had', () => {
    const [first, second] = answers(split)
    const once = state(split, [{ answer: first!, change: CONFIRM }])
    expect(told(once)).toEqual([halves[0], ['The chin is down behind the lead shoulder.', 'A', 'to-confirm', [FRAME]]])
    expect(told(state(once, [{ answer: answers(once)[1]!, change: CONFIRM }]))).toEqual(halves)
    // A second key that came before the first was answered.
    const quick = state(once, [{ answer: second!, change: CONFIRM }], answers(split))
    expect(told(quick)).toEqual(halves)
    expect(quick.tables.claims.list().length).toBe(2)
  })

  it('both halves at once should confirm both', () => {
    const both = state(
      split,
      answers(split).map((answer) => ({ answer, change: CONFIRM })),
    )
    expect(told(both)).toEqual(halves)
    expect(both.tables.claims.list().length).toBe(2)
  })

  it('a merged sentence should keep the stronger class and all evidence, in one record', () => {
    const words = 'The rear heel is up and the chin is down behind the lead shoulder, and the drop takes the power off the punch.'
    const merged = film({ id: 'p1', text: [words] }, [
      { id: 'a', on: on(HEEL), classes: ['A'], evidence: [FRAME], state: 'confirmed' },
      { id: 'g', on: on(DROP), classes: ['G'], evidence: ['opinion'], state: 'confirmed' },
    ])
    const confirmed = state(merged, [{ answer: answers(merged)[0]!, change: CONFIRM }])
    expect(told(confirmed)).toEqual([[words, 'GA', 'confirmed', [FRAME, 'opinion']]])
    expect(confirmed.tables.claims.list().length).toBe(1)
  })

  it('should keep what the values read then, until it is confirmed anew', () => {
    const said = film({ id: 'p1', text: ['Nearly straight, ', { value: 'm1' }, '.'] }, [
      { id: 'a', on: on('Nearly straight, {m1}.'), classes: ['B'], state: 'confirmed', values: [{ measure: 'm1', reads: '170° ± 12°' }] },
    ])
    const [answer] = answers(said)
    expect(answer).toMatchObject({ state: 'to-confirm', changed: [{ measure: 'm1', was: '170° ± 12°', now: '142° ± 12°' }] })
    const lettered = state(said, [{ answer: answer!, change: { classes: (before) => toggled(before, 'A') } }])
    expect(answers(lettered)[0]).toMatchObject({ classes: ['A', 'B'], state: 'to-confirm', changed: [{ was: '170° ± 12°' }] })
    const confirmed = state(said, [{ answer: answer!, change: CONFIRM }])
    expect(answers(confirmed)[0]).toMatchObject({ state: 'confirmed', changed: [] })
    expect(confirmed.tables.claims.get('a')).toMatchObject({ values: [{ measure: 'm1', reads: '142° ± 12°' }] })
  })
})

it('letting a finding stand should close it, and it alone, where it is on a take or a paragraph', () => {
  const row = (id: string) => ({
    id,
    text: ['It reads ', { value: 'm1' }, '.'],
    take: `${id}.wav`,
    narration: { words: ['it', 'reads', 'ninety', 'degrees'] },
  })
  const breakdown: Breakdown = { ...breakdownOf(film({ id: 'p1', text: ['.'] }, [])), script: [row('p1'), row('p2')] }
  const open = (now: Breakdown): string[] =>
    findingsOf(now, readings)
      .filter(({ code, override }) => code === 'take-older' && override === null)
      .map(({ paragraph }) => paragraph)
  const start = stateOf(breakdown)
  expect(open(breakdown)).toEqual(['p1', 'p2'])
  const [first] = findingsOf(breakdown, readings).filter(({ code }) => code === 'take-older')
  const stood = applied(start, [...overriding(first!, 'Said so on purpose.', 'the analyst', '2026-11-26')(start).diffs])
  expect(open(breakdownOf(stood))).toEqual(['p2'])

  const gone: Breakdown = {
    ...breakdown,
    script: [{ id: 'p1', text: ['Look at that. Now here.'] }],
    claims: [{ id: 'g', on: on(DROP), classes: ['G'], state: 'confirmed' }],
  }
  const [lost] = findingsOf(gone, readings).filter(({ code }) => code === 'claim-gone')
  expect(lost).toMatchObject({ on: null, paragraph: 'p1', override: null })
  const state = stateOf(gone)
  const standing = breakdownOf(applied(state, [...overriding(lost!, 'It is elsewhere.', 'the analyst', '2026-11-26')(state).diffs]))
  expect(
    findingsOf(standing, readings)
      .filter(({ code }) => code === 'claim-gone')
      .map(({ override }) => override?.reason),
  ).toEqual(['It is elsewhere.'])
})
