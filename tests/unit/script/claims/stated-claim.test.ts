import { Transform } from 'prosemirror-transform'
import { describe, expect, it } from 'vitest'
import { applyEdit } from '../../../../app/edit/apply-edit'
import { completeEdit } from '../../../../app/edit/complete-edit'
import type { Edit } from '../../../../app/edit/edit'
import { breakdownOf, stateOf, type ProjectState } from '../../../../app/edit/project-state'
import type { Breakdown } from '../../../../app/project/breakdown'
import { scriptSchema } from '../../../../app/script/schema'
import { holdsBack } from '../../../../app/script/claims/finding'
import { findingsOf } from '../../../../app/script/claims/findings'
import { statedClaims, type StatedClaim } from '../../../../app/script/claims/stated-claim'
import { validDocument } from '../../../valid-document'

const FIRST = 'The rear heel is up and the chin is down behind the lead shoulder.'
const SECOND = 'The drop takes the power off the punch.'

const document = (): Breakdown =>
  ({
    ...validDocument(),
    script: [{ id: 'p1', text: [`${FIRST} ${SECOND} He looks left.`] }],
    claims: [
      {
        id: 'a',
        on: { part: 'sentence', paragraph: 'p1', words: FIRST },
        classes: ['A'],
        evidence: [{ clip: 'c1', frame: 460 }],
        state: 'confirmed',
      },
      { id: 'g', on: { part: 'sentence', paragraph: 'p1', words: SECOND }, classes: ['G'], evidence: ['opinion'], state: 'confirmed' },
    ],
  }) as unknown as Breakdown

const claimsOf = (state: ProjectState): StatedClaim[] =>
  [...statedClaims(breakdownOf(state), new Map()).claims].filter(({ saying }) => saying.on.part === 'sentence')
const told = (state: ProjectState): [string, string, string][] =>
  claimsOf(state).map(({ saying, classes, state: how }) => [saying.shown.split(' ').slice(0, 3).join(' '), classes.join(''), how])

function change(state: ProjectState, verb: (tr: Transform) => void): { state: ProjectState; inverse: Edit } {
  const transform = new Transform(state.script)
  verb(transform)
  const edit: Edit = {
    id: 'e',
    label: 'Type',
    group: null,
    diffs: [],
    selection: null,
    base: state.version,
    steps: transform.steps.map((step) => step.toJSON() as Edit['steps'][number]),
  }
  const applied = applyEdit(state, completeEdit(state, edit))
  if (!applied.ok) throw applied.error
  return applied.value
}
const at = (state: ProjectState, text: string): number => {
  let found = -1
  state.script.descendants((node, position) => {
    const index = node.isText ? (node.text ?? '').indexOf(text) : -1
    if (index >= 0 && found < 0) found = position + index
  })
  return found
}

describe('claims under edits', () => {
  const start = stateOf(document())

  it('should stay confirmed while their words stay, wherever words around them change', () => {
    expect(told(start)).toEqual([
      ['The rear heel', 'A', 'confirmed'],
      ['The drop takes', 'G', 'confirmed'],
      ['He looks left.', 'A', 'suggested'],
    ])
    const { state } = change(start, (tr) => tr.insert(1, scriptSchema.text('Look here. ')))
    expect(told(state).slice(1, 3)).toEqual([
      ['The rear heel', 'A', 'confirmed'],
      ['The drop takes', 'G', 'confirmed'],
    ])
  })

  it('should lapse to be confirmed when words change, with class and evidence kept, and come back with undo', () => {
    const typed = change(start, (tr) => tr.insert(at(start, 'power off'), scriptSchema.text('whole ')))
    expect(told(typed.state)[1]).toEqual(['The drop takes', 'G', 'to-confirm'])
    expect(claimsOf(typed.state)[1]!.evidence).toEqual(['opinion'])
    const undone = applyEdit(typed.state, typed.inverse)
    if (!undone.ok) throw undone.error
    expect(told(undone.value.state)).toEqual(told(start))
  })

  it('changed words should take on what the rules find strong in them, and be nobody’s view until they are confirmed anew', () => {
    const holding = (state: ProjectState): string[] =>
      findingsOf(breakdownOf(state), new Map())
        .filter(holdsBack)
        .map(({ code, sentence }) => `${code}: ${sentence.split(' ').slice(0, 3).join(' ')}`)
    expect(holding(start)).toEqual([])
    const why = change(start, (tr) => tr.insert(at(start, '. The drop'), scriptSchema.text(' because he wanted to knock him unconscious')))
    expect(told(why.state)[0]).toEqual(['The rear heel', 'JIGA', 'to-confirm'])
    expect(holding(why.state)).toEqual(['cause-open: The rear heel', 'intent: The rear heel', 'medical: The rear heel'])
    // "My view" was said of the words as they were.
    const whole = change(start, (tr) => tr.insert(at(start, 'power off'), scriptSchema.text('whole ')))
    expect(holding(whole.state)).toEqual(['cause-open: The drop takes'])
    expect(findingsOf(breakdownOf(whole.state), new Map()).find(({ code }) => code === 'cause-open')!.wayOut).toContain(
      'confirm it again as your view',
    )
    // A reference clears what it was given for, not what came in later.
    const cited = stateOf({
      ...document(),
      references: [{ id: 'r1', csl: { type: 'book' } }],
      claims: [
        {
          id: 'f',
          on: { part: 'sentence', paragraph: 'p1', words: FIRST },
          classes: ['F'],
          evidence: [{ reference: 'r1' }],
          state: 'confirmed',
        },
        document().claims![1]!,
      ],
    })
    const hurt = change(cited, (tr) => tr.insert(at(cited, '. The drop'), scriptSchema.text(' and he was concussed')))
    expect(holding(hurt.state)).toEqual(['medical: The rear heel'])
  })

  it('should leave class and evidence on both halves of a sentence that is split, to be confirmed', () => {
    const { state } = change(start, (tr) => tr.replaceWith(at(start, ' and the chin'), at(start, 'chin is'), scriptSchema.text('. The ')))
    expect(told(state).slice(0, 2)).toEqual([
      ['The rear heel', 'A', 'to-confirm'],
      ['The chin is', 'A', 'to-confirm'],
    ])
    expect(
      claimsOf(state)
        .slice(0, 2)
        .map(({ evidence }) => evidence),
    ).toEqual([[{ clip: 'c1', frame: 460 }], [{ clip: 'c1', frame: 460 }]])
  })

  it('should take the stronger class and all evidence when two sentences are merged', () => {
    const { state } = change(start, (tr) => tr.replaceWith(at(start, '. The drop'), at(start, 'The drop'), scriptSchema.text(', and ')))
    expect(told(state)[0]).toEqual(['The rear heel', 'GA', 'to-confirm'])
    expect(claimsOf(state)[0]!.evidence).toEqual([{ clip: 'c1', frame: 460 }, 'opinion'])
  })

  it('should go along whole when a paragraph is split between sentences, and when the paragraphs are merged again', () => {
    const split = change(start, (tr) => tr.split(at(start, 'The drop'), 1, [{ type: scriptSchema.nodes.paragraph, attrs: { id: 'p2' } }]))
    expect(claimsOf(split.state).map(({ saying, classes, state }) => [saying.paragraph, classes.join(''), state])).toEqual([
      ['p1', 'A', 'confirmed'],
      ['p2', 'G', 'confirmed'],
      ['p2', 'A', 'suggested'],
    ])
    const merged = change(split.state, (tr) => tr.join(at(split.state, 'The drop') - 1))
    expect(told(merged.state)).toEqual(told(start))
  })

  it('should keep a claim whose words are gone apart, until they come back', () => {
    const cut = change(start, (tr) => tr.delete(at(start, 'The drop'), at(start, 'He looks')))
    const { lost, claims } = statedClaims(breakdownOf(cut.state), new Map())
    expect(lost.map(({ id }) => id)).toEqual(['g'])
    expect(claims.filter(({ saying }) => saying.on.part === 'sentence')).toHaveLength(2)
    const undone = applyEdit(cut.state, cut.inverse)
    if (!undone.ok) throw undone.error
    expect(told(undone.value.state)).toEqual(told(start))
  })

  it('should take the same words twice for two sentences', () => {
    const twice = document()
    twice.script = [{ id: 'p1', text: ['Again. Again.'] }]
    twice.claims = [{ id: 'x', on: { part: 'sentence', paragraph: 'p1', words: 'Again.', nth: 1 }, classes: ['D'], state: 'confirmed' }]
    expect(claimsOf(stateOf(twice)).map(({ state }) => state)).toEqual(['suggested', 'confirmed'])
  })

  it('typed over as a whole should be said, until the new words are stated or the old claim is let go', () => {
    const state = stateOf(document())
    const typed = change(state, (tr) =>
      tr.replaceWith(at(state, SECOND), at(state, SECOND) + SECOND.length, scriptSchema.text('Look at that.')),
    )
    const gone = (breakdown: Breakdown): (readonly [string, unknown, boolean])[] =>
      findingsOf(breakdown, new Map())
        .filter(({ code }) => code === 'claim-gone')
        .map(({ problem, on, holds }) => [problem, on, holds] as const)
    const now = breakdownOf(typed.state)
    expect(gone(now)).toEqual([
      [
        `“${SECOND}” was confirmed as cause, with what it rests on; these words are gone from the paragraph, and nothing of that stands for them`,
        null,
        false,
      ],
    ])
    const stated = (words: string): NonNullable<Breakdown['claims']>[number] => ({
      id: words,
      on: { part: 'sentence', paragraph: 'p1', words },
      classes: ['A'],
      state: 'confirmed',
    })
    // Only one unstated sentence is left: it is the one that stands in the old one's place.
    expect(gone({ ...now, claims: [...now.claims!, stated('He looks left.')] })).toEqual([
      [expect.stringContaining('other words stand in its place'), { part: 'sentence', paragraph: 'p1', words: 'Look at that.' }, false],
    ])
    expect(gone({ ...now, claims: [...now.claims!, stated('He looks left.'), stated('Look at that.')] })).toEqual([])
    expect(gone({ ...now, claims: now.claims!.filter(({ id }) => id !== 'g') })).toEqual([])
    // Words half of which are left keep what was stated; a paragraph that is gone takes the question with it.
    expect(gone(breakdownOf(state))).toEqual([])
    expect(gone({ ...now, script: [{ id: 'other', text: ['Something else.'] }] })).toEqual([])
  })
})
