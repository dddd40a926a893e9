import { Transform } from 'prosemirror-transform'
import { describe, expect, it } from 'vitest'
import { applyEdit } from '../../../app/edit/apply-edit'
import { completeEdit } from '../../../app/edit/complete-edit'
import type { Edit } from '../../../app/edit/edit'
import { breakdownOf, stateOf, type ProjectState } from '../../../app/edit/project-state'
import type { Breakdown } from '../../../app/project/breakdown'
import { scriptSchema } from '../../../app/script/schema'
import { checkEdit } from '../../check-edit'
import { validDocument } from '../../valid-document'

const breakdown = { ...validDocument(), cueTimes: [{ paragraph: 'p1', event: 'e1', seconds: 1.5, u: 0.02 }] } as unknown as Breakdown
const before = stateOf({ ...breakdown, script: [...breakdown.script, { id: 'p2', text: ['And again.'], take: 'p2.wav' }] })

const words = (state: ProjectState, change: (tr: Transform) => void): Edit => {
  const tr = new Transform(state.script)
  change(tr)
  return {
    id: 'x',
    label: 'Delete',
    group: null,
    steps: tr.steps.map((step) => step.toJSON() as Edit['steps'][number]),
    diffs: [],
    selection: null,
    base: 0,
  }
}
const startOf = (state: ProjectState, index: number): number =>
  state.script.children.slice(0, index).reduce((at, node) => at + node.nodeSize, 0)

describe('words that take paragraphs away', () => {
  it('should be refused alone, for pictures and cue times would be left hanging', () => {
    const edit = words(before, (tr) => tr.delete(startOf(before, 1), startOf(before, 2)))
    const applied = applyEdit(before, edit)
    expect(applied.ok ? '' : applied.error.message).toBe(
      '“Delete” cannot be done:\n  paragraphs p1: its words are gone; remove its pictures with them\n  cueTimes p1/e1: its paragraph is gone',
    )
  })

  it('should take pictures, take, title and cue times along once completed, and bring them back', () => {
    const completed = completeEdit(
      before,
      words(before, (tr) => tr.delete(startOf(before, 1), startOf(before, 2))),
    )
    checkEdit(before, completed, (b) => {
      expect(b.script.map((row) => ('chapter' in row ? row.chapter : row.id))).toEqual(['The load', 'p2'])
      expect(b.cueTimes).toEqual([])
    })
  })

  it('should take a merged paragraph’s take along and leave the first one’s', () => {
    const completed = completeEdit(
      before,
      words(before, (tr) => tr.join(startOf(before, 2))),
    )
    expect(completed.diffs.map((d) => `${d.change} ${d.table} ${d.key}`)).toEqual(['removed paragraphs p2'])
    checkEdit(before, completed, (b) => expect(b.script).toHaveLength(2))
  })

  it('should leave steps that do not fit for the gate to refuse', () => {
    const edit: Edit = { ...words(before, () => undefined), steps: [{ stepType: 'replace', from: 100_000, to: 100_001 }] }
    expect(completeEdit(before, edit)).toBe(edit)
  })

  it('should leave an edit that says itself what becomes of the record', () => {
    const record = before.tables.paragraphs.get('p2')!
    const edit: Edit = {
      ...words(before, (tr) => tr.join(startOf(before, 2))),
      diffs: [{ table: 'paragraphs', key: 'p2', change: 'removed', record, after: null }],
    }
    expect(completeEdit(before, edit)).toBe(edit)
  })
})

describe('what the gate keeps out of the script', () => {
  const refusal = (change: (tr: Transform) => void): string => {
    const applied = applyEdit(before, words(before, change))
    return applied.ok ? '' : applied.error.message
  }
  const p1 = startOf(before, 1) + 1

  it('should refuse two paragraphs of one id, and paragraphs without one', () => {
    expect(refusal((tr) => tr.split(p1 + 3))).toContain('script[2].id: p1 is taken by an earlier paragraph')
    expect(refusal((tr) => tr.split(p1 + 3, 1, [{ type: scriptSchema.nodes.paragraph, attrs: { id: '' } }]))).toContain(
      'an id is letters, digits',
    )
  })

  it('should refuse a value inside a cue, an id that is none, and text that cannot be kept', () => {
    const value = scriptSchema.node('value', { measure: 'm1', form: null })
    expect(refusal((tr) => tr.insert(p1 + 2, value.mark([scriptSchema.mark('cue', { event: 'e1' })])))).toContain(
      'a value or cite cannot be part of a cue or a note',
    )
    expect(refusal((tr) => tr.insert(p1 + 2, scriptSchema.node('value', { measure: '../m', form: null })))).toContain(
      'script[1].text[1].value: an id is letters',
    )
    expect(refusal((tr) => tr.insert(p1 + 2, scriptSchema.node('value', { measure: 'm1', form: 'loud' })))).toContain(
      'script[1].text[1].form: must be "label" or "spoken" or "value"',
    )
    expect(refusal((tr) => tr.insert(p1 + 2, scriptSchema.text('a\0b')))).toContain('holds a character that cannot be kept')
    expect(refusal((tr) => tr.insert(p1 + 2, scriptSchema.text('a\nb', [scriptSchema.mark('cue', { event: 'e1' })])))).toContain(
      'script[1].text[1].word: one line of text',
    )
  })

  it('should let a value outlive its measure, and say so nowhere but in the breakdown itself', () => {
    const measure = before.tables.measures.get('m1')!
    const applied = applyEdit(before, {
      id: 'x',
      label: 'Remove',
      group: null,
      steps: [],
      selection: null,
      base: 0,
      diffs: [{ table: 'measures', key: 'm1', change: 'removed', record: measure, after: null }],
    })
    if (!applied.ok) throw applied.error
    expect(breakdownOf(applied.value.state).measures!.map((m) => m.id)).toEqual(['m2'])
    expect(breakdownOf(applied.value.state).script).toEqual(breakdownOf(before).script)
  })
})
