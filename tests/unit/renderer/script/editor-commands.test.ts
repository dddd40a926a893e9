import type { Node } from 'prosemirror-model'
import { EditorState, TextSelection, type Command } from 'prosemirror-state'
import { describe, expect, it } from 'vitest'
import { nodeToScript } from '../../../../app/script/conversion'
import { scriptSchema } from '../../../../app/script/schema'
import {
  cueAtHand,
  joinAbove,
  moveRow,
  moveRowBy,
  putCite,
  putCue,
  putValue,
  splitParagraph,
  takeCueAway,
  toggleHeading,
  toggleNote,
  wordAtHand,
  type Told,
} from '../../../../renderer/script/editor-commands'
import { findPlugin, findWords, foundIn, goToFound, replaceAllFound, replaceFound, seek } from '../../../../renderer/script/find-words'
import { paragraphIds } from '../../../../renderer/script/paragraph-ids'

const { paragraph, chapter, doc, value } = scriptSchema.nodes
const row = (id: string, ...content: (string | Node)[]): Node =>
  paragraph.create(
    { id },
    content.map((each) => (typeof each === 'string' ? scriptSchema.text(each) : each)),
  )
const heading = (text: string): Node => chapter.create(null, text === '' ? [] : [scriptSchema.text(text)])

/// A state with its caret (or selection) `at` characters into the row of this index.
const stateOf = (rows: readonly Node[], index: number, at: number, to = at): EditorState => {
  const whole = doc.create(null, rows)
  const start = rows.slice(0, index).reduce((sum, node) => sum + node.nodeSize, 0) + 1
  return EditorState.create({
    doc: whole,
    plugins: [paragraphIds(), findPlugin()],
    selection: TextSelection.create(whole, start + at, start + to),
  })
}
const run = (state: EditorState, command: Command): { state: EditorState; told: Told | undefined; done: boolean } => {
  let next = state
  let told: Told | undefined
  const done = command(state, (tr) => {
    told = tr.getMeta('told') as Told | undefined
    next = state.apply(tr)
  })
  return { state: next, told, done }
}
const words = (state: EditorState): string[] => state.doc.children.map((node) => node.textContent)
const ids = (state: EditorState): unknown[] => state.doc.children.map((node) => node.attrs['id'] ?? null)

describe('splitting a paragraph', () => {
  it('leaves the id, and with it the pictures, to the words before the caret', () => {
    const { state, told } = run(stateOf([row('p1', 'Left. Right.')], 0, 6), splitParagraph)
    expect(words(state)).toEqual(['Left. ', 'Right.'])
    expect(ids(state)[0]).toBe('p1')
    expect(ids(state)[1]).not.toBe('p1')
    expect(told?.label).toBe('Split the paragraph')
  })

  it('puts an empty one above where the caret stands before the first word', () => {
    const { state } = run(stateOf([row('p1', 'Words')], 0, 0), splitParagraph)
    expect(words(state)).toEqual(['', 'Words'])
    expect(ids(state)[1]).toBe('p1')
  })

  it('begins a paragraph behind a heading, and never cuts one', () => {
    expect(words(run(stateOf([heading('The load'), row('p1', 'x')], 0, 8), splitParagraph).state)).toEqual(['The load', '', 'x'])
    expect(run(stateOf([heading('The load'), row('p1', 'x')], 0, 3), splitParagraph).done).toBe(false)
  })
})

describe('joining paragraphs', () => {
  it('keeps the one above, and says what becomes of both records', () => {
    const { state, told } = run(stateOf([row('p1', 'One.'), row('p2', 'Two.')], 1, 0), joinAbove)
    expect(words(state)).toEqual(['One.Two.'])
    expect(ids(state)).toEqual(['p1'])
    expect(told?.diffs).not.toBeNull()
  })

  it('does nothing within words, nor into a heading with words', () => {
    expect(run(stateOf([row('p1', 'One.'), row('p2', 'Two.')], 1, 2), joinAbove).done).toBe(false)
    expect(run(stateOf([heading('The load'), row('p2', 'Two.')], 1, 0), joinAbove).done).toBe(false)
    expect(words(run(stateOf([heading(''), row('p2', 'Two.')], 1, 0), joinAbove).state)).toEqual(['Two.'])
  })
})

describe('moving rows', () => {
  const rows = [row('p1', 'One.'), row('p2', 'Two.'), row('p3', 'Three.')]
  it('moves by one, up and down, with the caret', () => {
    const down = run(stateOf(rows, 0, 2), moveRowBy(1)).state
    expect(ids(down)).toEqual(['p2', 'p1', 'p3'])
    expect(down.selection.$from.parent.attrs['id']).toBe('p1')
    expect(ids(run(down, moveRowBy(-1)).state)).toEqual(['p1', 'p2', 'p3'])
  })
  it('moves to either end, and stays where it stands already', () => {
    expect(ids(run(stateOf(rows, 0, 0), moveRow(0, 3)).state)).toEqual(['p2', 'p3', 'p1'])
    expect(ids(run(stateOf(rows, 0, 0), moveRow(2, 0)).state)).toEqual(['p3', 'p1', 'p2'])
    expect(run(stateOf(rows, 0, 0), moveRow(1, 2)).done).toBe(false)
    expect(run(stateOf(rows, 0, 0), moveRowBy(-1)).done).toBe(false)
  })
})

describe('headings and notes', () => {
  it('makes a heading of a row without pictures, and a paragraph of it again', () => {
    const made = run(
      stateOf([row('p1', 'The load'), row('p2', 'x')], 0, 3),
      toggleHeading(() => false),
    ).state
    expect(made.doc.firstChild?.type.name).toBe('chapter')
    expect(
      run(
        made,
        toggleHeading(() => false),
      ).state.doc.firstChild?.type.name,
    ).toBe('paragraph')
  })
  it('puts a heading above a row that has pictures, which stay', () => {
    const made = run(
      stateOf([row('p1', 'Words')], 0, 3),
      toggleHeading(() => true),
    ).state
    expect(ids(made)).toEqual([null, 'p1'])
  })
  it('takes a live value into a heading, and keeps it as the row becomes a heading or a paragraph', () => {
    const put = run(stateOf([heading('The knee at ')], 0, 12), putValue('m1'))
    expect(nodeToScript(put.state.doc)[0]).toEqual({ chapter: ['The knee at ', { value: 'm1' }] })
    const back = run(
      put.state,
      toggleHeading(() => false),
    ).state
    expect(nodeToScript(back.doc)[0]).toMatchObject({ text: ['The knee at ', { value: 'm1' }] })
    const tied = run(stateOf([row('p1', 'At contact ', value.create({ measure: 'm1' }))], 0, 5), putCue('e1')).state
    expect(
      nodeToScript(
        run(
          tied,
          toggleHeading(() => false),
        ).state.doc,
      )[0],
    ).toEqual({ chapter: ['At contact ', { value: 'm1' }] })
  })
  it('keeps words unspoken, and says them again', () => {
    const noted = run(stateOf([row('p1', 'say this')], 0, 0, 3), toggleNote).state
    expect(noted.doc.rangeHasMark(1, 4, scriptSchema.marks.note)).toBe(true)
    expect(run(noted, toggleNote).state.doc.rangeHasMark(1, 4, scriptSchema.marks.note)).toBe(false)
  })
})

describe('cues and values', () => {
  it('ties the word at the caret, and unties it', () => {
    const tied = run(stateOf([row('p1', 'At contact he stands.')], 0, 5), putCue('e1')).state
    expect(cueAtHand(tied)?.event).toBe('e1')
    expect(tied.doc.textBetween(cueAtHand(tied)!.from, cueAtHand(tied)!.to)).toBe('contact')
    expect(cueAtHand(run(tied, takeCueAway).state)).toBeNull()
  })
  it('knows no word in an empty row, across rows, or beside a value', () => {
    expect(wordAtHand(stateOf([row('p1')], 0, 0))).toBeNull()
    expect(wordAtHand(stateOf([row('p1', value.create({ measure: 'm1' }), ' x')], 0, 1))).toBeNull()
    expect(wordAtHand(stateOf([heading('The load')], 0, 2))).toBeNull()
  })
  it('puts a value at the caret', () => {
    const put = run(stateOf([row('p1', 'At .')], 0, 3), putValue('m1')).state
    expect(put.doc.firstChild?.child(1).attrs['measure']).toBe('m1')
  })
})

describe('a cite', () => {
  const spoken = (rows: readonly Node[], index: number, at: number, to = at): unknown =>
    nodeToScript(run(stateOf(rows, index, at, to), putCite('ref1')).state.doc)[index]
  it('goes behind the word that the caret touches, and never behind the space after it', () => {
    const rows = [row('p1', 'It turns. Then it lands.')]
    expect(spoken(rows, 0, 5)).toMatchObject({ text: ['It turns', { cite: 'ref1' }, '. Then it lands.'] })
    expect(spoken(rows, 0, 9)).toMatchObject({ text: ['It turns.', { cite: 'ref1' }, ' Then it lands.'] })
    expect(spoken(rows, 0, 10)).toMatchObject({ text: ['It turns.', { cite: 'ref1' }, ' Then it lands.'] })
    expect(spoken(rows, 0, 0)).toMatchObject({ text: ['It', { cite: 'ref1' }, ' turns. Then it lands.'] })
  })

  it('leaves the words of the selection, and the caret goes on behind it', () => {
    expect(spoken([row('p1', 'It turns.')], 0, 3, 9)).toMatchObject({ text: ['It turns.', { cite: 'ref1' }] })
    const { state, told } = run(stateOf([row('p1', 'It turns.')], 0, 9), putCite('ref1'))
    expect(state.selection.$from.parentOffset).toBe(10)
    expect(told?.label).toBe('Put a reference in')
  })

  it('has no place in a heading', () => {
    expect(run(stateOf([heading('The load')], 0, 3), putCite('ref1')).done).toBe(false)
  })
})

describe('finding words', () => {
  const rows = [row('p1', 'The hip turns, the HIP leads.'), row('p2', 'hip', value.create({ measure: 'm1' }), ' hip')]
  it('finds them whatever their capitals, and never inside a value', () => {
    expect(findWords(doc.create(null, rows), 'hip')).toHaveLength(4)
    expect(findWords(doc.create(null, rows), 'm1')).toEqual([])
    expect(findWords(doc.create(null, rows), '')).toEqual([])
  })
  it('goes round, and replaces one after the other or all at once', () => {
    const sought = run(stateOf(rows, 0, 0), seek('hip')).state
    expect(foundIn(sought)).toHaveLength(4)
    const first = run(sought, goToFound(1)).state
    expect(first.doc.textBetween(first.selection.from, first.selection.to)).toBe('hip')
    const last = run(sought, goToFound(-1)).state
    expect(last.selection.from).toBeGreaterThan(first.selection.from)
    const one = run(first, replaceFound('pelvis')).state
    expect(words(one)[0]).toBe('The pelvis turns, the HIP leads.')
    expect(one.doc.textBetween(one.selection.from, one.selection.to)).toBe('HIP')
    const all = run(sought, replaceAllFound('pelvis'))
    expect(words(all.state)).toEqual(['The pelvis turns, the pelvis leads.', 'pelvis pelvis'])
    expect(all.told?.label).toBe('Replace words in 4 places')
  })
})

it('paragraph ids stay those of the rows that had them, and every other row gets its own', () => {
  const state = stateOf([row('p1', 'One.')], 0, 0)
  const pasted = state.apply(state.tr.insert(state.doc.content.size, [row('p1', 'Pasted.'), row('', 'Bare.')]))
  expect(ids(pasted)[0]).toBe('p1')
  expect(new Set(ids(pasted)).size).toBe(3)
  const emptied = state.apply(state.tr.delete(0, state.doc.content.size))
  expect(emptied.doc.childCount).toBe(1)
})
