import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { nodeToScript, scriptToNode } from '../../../app/script/conversion'
import { scriptSchema } from '../../../app/script/schema'
import { scriptFromJson, takeSteps } from '../../../app/script/script-json'
import type { ScriptRow } from '../../../app/project/picture'
import { breakdownArbitrary } from '../../breakdown-arbitrary'

const wordsOf = (script: readonly ScriptRow[]): unknown[] => script.map((row) => ('chapter' in row ? row : { id: row.id, text: row.text }))

describe('a script as a document', () => {
  it('should come back exactly, both ways, through JSON too', () => {
    fc.assert(
      fc.property(breakdownArbitrary, ({ script }) => {
        const node = scriptToNode(script)
        node.check()
        expect(nodeToScript(node)).toEqual(wordsOf(script))
        expect(scriptToNode(nodeToScript(node) as ScriptRow[]).eq(node)).toBe(true)
        expect(scriptFromJson(JSON.parse(JSON.stringify(node.toJSON()))).eq(node)).toBe(true)
      }),
      { numRuns: 200 },
    )
  })

  it('should keep neighbouring texts, cues of one event and notes apart as they were written', () => {
    const text = [
      'a',
      'b',
      'c',
      { cue: 'e1', word: 'd' },
      { cue: 'e1', word: 'e' },
      { cue: 'e2', word: 'f' },
      { note: 'g' },
      { note: 'h' },
      { value: 'm1' },
      { value: 'm1' },
    ]
    expect(nodeToScript(scriptToNode([{ id: 'p1', text }]))).toEqual([{ id: 'p1', text }])
  })

  it('should hold a live value as one atom that nothing can be typed into', () => {
    expect(scriptSchema.nodes.value.isAtom).toBe(true)
    expect(scriptSchema.nodes.value.isLeaf).toBe(true)
    expect(() => scriptSchema.node('value', { measure: 'm1', form: null }, [scriptSchema.text('45')]).check()).toThrow()
  })

  it('should refuse steps that do not fit or cannot be read, and never throw', () => {
    const node = scriptToNode([{ id: 'p1', text: ['abc'] }])
    for (const step of [
      { stepType: 'replace', from: 900, to: 901 },
      { stepType: 'replace', from: 1, to: 2, slice: { content: [{ type: 'image' }] } },
      { stepType: 'replace', from: 3, to: 1 },
      { stepType: 'attr', pos: 77, attr: 'id', value: 'x' },
      { stepType: 'addMark', from: 0, to: 2, mark: { type: 'bold' } },
      { stepType: 'nothing' },
      { stepType: '__proto__' },
    ])
      expect(takeSteps(node, [step]).ok, JSON.stringify(step)).toBe(false)
  })

  it('should take a mark back exactly, also where the mark was already or drove another out', () => {
    const node = scriptToNode([{ id: 'p1', text: ['plain ', { cue: 'e1', word: 'cue' }, { note: 'note' }] }])
    for (const step of [
      { stepType: 'addMark', from: 1, to: 12, mark: { type: 'cue', attrs: { event: 'e1' } } },
      { stepType: 'addMark', from: 5, to: 14, mark: { type: 'note' } },
      { stepType: 'removeMark', from: 1, to: 12, mark: { type: 'cue', attrs: { event: 'e1' } } },
    ]) {
      const taken = takeSteps(node, [step])
      if (!taken.ok) throw taken.error
      expect(taken.value.script.eq(node)).toBe(false)
      const back = takeSteps(taken.value.script, taken.value.inverse)
      expect(back.ok && back.value.script.eq(node), JSON.stringify(step)).toBe(true)
    }
  })
})
