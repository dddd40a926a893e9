import type { Fragment, Node } from 'prosemirror-model'
import { NodeSelection, TextSelection, type Command, type EditorState, type Transaction } from 'prosemirror-state'
import type { RecordDiff } from '../../app/edit/edit'
import type { ProjectState } from '../../app/edit/project-state'
import type { ParagraphRecord } from '../../app/edit/records'
import type { ValueForm } from '../../app/project/picture'
import { scriptSchema } from '../../app/script/schema'
import { freshId } from './paragraph-ids'

/// What can be done to the script's words beside typing. Each says in its transaction what it is called, and which
/// records change with it.

const { paragraph, chapter, value, cite } = scriptSchema.nodes
const { cue, note } = scriptSchema.marks

export interface Told {
  readonly label: string
  readonly diffs: ((state: ProjectState) => RecordDiff[]) | null
}

/// Says what a transaction is called, for Undo, and what records change with it.
export const tell = (transaction: Transaction, label: string, diffs: Told['diffs'] = null): Transaction =>
  transaction.setMeta('told', { label, diffs } satisfies Told)

/// Enter: words behind the caret become a paragraph of their own. The pictures stay with the words before it, or with
/// all of them where the caret stands before the first.
export const splitParagraph: Command = (state, dispatch) => {
  const { $from, empty } = state.selection
  if ($from.depth !== 1) return false
  const tr = empty ? state.tr : state.tr.deleteSelection()
  const $at = tr.doc.resolve(tr.mapping.map($from.pos))
  const fresh = paragraph.create({ id: freshId() })
  if ($at.parentOffset === 0 && $at.parent.content.size > 0) tr.insert($at.before(1), fresh)
  else if ($at.parent.type === chapter && $at.parentOffset < $at.parent.content.size) return false
  else if ($at.parentOffset === $at.parent.content.size) {
    const after = $at.after(1)
    tr.insert(after, fresh).setSelection(TextSelection.create(tr.doc, after + 1))
  } else tr.split($at.pos, 1, [{ type: paragraph, attrs: fresh.attrs }])
  dispatch?.(tell(tr.scrollIntoView(), 'Split the paragraph'))
  return true
}

/// To the script's first word. The editor's library takes a caret that comes there within a fifth of a second after the
/// keys for the browser's doing, and puts it back where it was.
export const toFirstWord: Command = (state, dispatch) => {
  dispatch?.(state.tr.setSelection(TextSelection.atStart(state.doc)).scrollIntoView())
  return true
}

/// Backspace before the first word: the paragraph joins the one above it, and brings its pictures along.
export const joinAbove: Command = (state, dispatch) => {
  const { $from, empty } = state.selection
  if (!empty || $from.depth !== 1 || $from.parentOffset > 0) return false
  return join(state, $from.index(0) - 1, dispatch)
}

/// Delete behind the last word: the paragraph below joins this one.
export const joinBelow: Command = (state, dispatch) => {
  const { $from, empty } = state.selection
  if (!empty || $from.depth !== 1 || $from.parentOffset < $from.parent.content.size) return false
  return join(state, $from.index(0), dispatch)
}

/// Joins the row at `index` with the one below it.
function join(state: EditorState, index: number, dispatch?: (tr: Transaction) => void): boolean {
  const above = state.doc.maybeChild(index)
  const below = state.doc.maybeChild(index + 1)
  if (!above || !below) return false
  if (above.type !== paragraph || below.type !== paragraph) {
    // A heading and a paragraph do not run into each other; an empty one of the two goes.
    const gone = [above, below].find((node) => node.type === chapter && node.content.size === 0)
    if (!gone) return false
    const from = placeOf(state.doc, gone)
    dispatch?.(tell(state.tr.delete(from, from + gone.nodeSize), 'Take the heading away'))
    return true
  }
  const at = placeOf(state.doc, below)
  dispatch?.(
    tell(state.tr.join(at).scrollIntoView(), 'Join the paragraphs', (known) =>
      joined(known, idOf(above), idOf(below), above.content.size === 0),
    ),
  )
  return true
}

/// The records of two paragraphs become one's: their shots one after the other.
function joined(state: ProjectState, kept: string, gone: string, keptIsEmpty: boolean): RecordDiff[] {
  const { paragraphs } = state.tables
  const from = paragraphs.get(kept)
  const lost = paragraphs.get(gone)
  if (!lost) return []
  const shots = [...(from?.shots ?? []), ...(lost.shots ?? [])]
  const take = from?.take ?? (keptIsEmpty ? lost.take : undefined)
  const title = from?.title ?? lost.title
  const to: ParagraphRecord = {
    id: kept,
    ...(shots.length > 0 ? { shots } : {}),
    ...(take === undefined ? {} : { take }),
    ...(title ? { title } : {}),
  }
  const removed: RecordDiff = { table: 'paragraphs', key: gone, change: 'removed', record: lost, after: null }
  if (from) return [removed, { table: 'paragraphs', key: kept, change: 'updated', from, to }]
  return Object.keys(to).length > 1 ? [removed, { table: 'paragraphs', key: kept, change: 'added', record: to, after: null }] : [removed]
}

/// A heading of a paragraph's words and live values; what else stands among them is for paragraphs alone.
export const headingOf = (content: Fragment): Node =>
  chapter.create(
    null,
    content.content.flatMap((node) =>
      node.isText ? [scriptSchema.text((node.text ?? '').replaceAll(/\s+/g, ' '))] : node.type === value ? [node] : [],
    ),
  )

/// Makes the row a chapter heading, or a paragraph again. A paragraph with pictures stays one: its pictures would go.
export const toggleHeading =
  (hasPictures: (id: string) => boolean): Command =>
  (state, dispatch) => {
    const { $from } = state.selection
    if ($from.depth !== 1) return false
    const row = $from.node(1)
    const at = $from.before(1)
    if (row.type === chapter) {
      dispatch?.(tell(state.tr.setNodeMarkup(at, paragraph, { id: freshId() }), 'Make a paragraph'))
      return true
    }
    if (hasPictures(idOf(row))) {
      const heading = chapter.create()
      const tr = state.tr.insert(at, heading)
      dispatch?.(tell(tr.setSelection(TextSelection.create(tr.doc, at + 1)).scrollIntoView(), 'Put a heading in'))
      return true
    }
    const heading = headingOf(row.content)
    const tr = state.tr.replaceWith(at, at + row.nodeSize, heading)
    dispatch?.(
      tell(tr.setSelection(TextSelection.near(tr.doc.resolve(Math.min($from.pos, at + 1 + heading.content.size)))), 'Make a heading'),
    )
    return true
  }

/// Marks the words in the selection as not spoken, or as spoken again.
export const toggleNote: Command = (state, dispatch) => {
  const { from, to, empty, $from } = state.selection
  if ($from.depth !== 1 || $from.parent.type !== paragraph) return false
  if (empty) {
    const on = note.isInSet(state.storedMarks ?? $from.marks())
    dispatch?.(on ? state.tr.removeStoredMark(note) : state.tr.addStoredMark(note.create()))
    return true
  }
  const on = state.doc.rangeHasMark(from, to, note)
  dispatch?.(
    tell(
      on ? state.tr.removeMark(from, to, note) : state.tr.addMark(from, to, note.create()),
      on ? 'Say the words' : 'Keep the words unspoken',
    ),
  )
  return true
}

/// The word that a cue would be put on: the selection within one paragraph, else the word at the caret. Null where there
/// is none.
export function wordAtHand(state: EditorState): { readonly from: number; readonly to: number; readonly text: string } | null {
  const { $from, $to, from, to, empty } = state.selection
  if ($from.depth !== 1 || $from.parent.type !== paragraph || !$from.sameParent($to)) return null
  if (!empty) {
    const text = state.doc.textBetween(from, to)
    return text.trim() === '' || text.includes('\n') ? null : { from, to, text }
  }
  const all = $from.parent.textBetween(0, $from.parent.content.size, null, '\uFFFC')
  const before = /[\p{L}\p{N}’'-]*$/u.exec(all.slice(0, $from.parentOffset))?.[0].length ?? 0
  const behind = /^[\p{L}\p{N}’'-]*/u.exec(all.slice($from.parentOffset))?.[0].length ?? 0
  if (before + behind === 0) return null
  return { from: from - before, to: from + behind, text: all.slice($from.parentOffset - before, $from.parentOffset + behind) }
}

export const putCue =
  (event: string): Command =>
  (state, dispatch) => {
    const word = wordAtHand(state)
    if (!word) return false
    dispatch?.(tell(state.tr.addMark(word.from, word.to, cue.create({ event })), `Tie “${word.text.slice(0, 40)}” to its frame`))
    return true
  }

/// The cue that the caret stands in or beside.
export function cueAtHand(state: EditorState): { readonly from: number; readonly to: number; readonly event: string } | null {
  const { $from } = state.selection
  if ($from.depth !== 1) return null
  let found: { from: number; to: number; event: string } | null = null
  $from.parent.forEach((child, offset) => {
    const mark = cue.isInSet(child.marks)
    const from = $from.start(1) + offset
    if (mark && $from.pos >= from && $from.pos <= from + child.nodeSize)
      found = { from, to: from + child.nodeSize, event: String(mark.attrs['event']) }
  })
  return found
}

export const takeCueAway: Command = (state, dispatch) => {
  const at = cueAtHand(state)
  if (!at) return false
  dispatch?.(tell(state.tr.removeMark(at.from, at.to, cue), 'Untie the word from its frame'))
  return true
}

export const putValue =
  (measure: string, form: ValueForm | null = null): Command =>
  (state, dispatch) => {
    const { $from } = state.selection
    if ($from.depth !== 1 || ($from.parent.type !== paragraph && $from.parent.type !== chapter)) return false
    dispatch?.(tell(state.tr.replaceSelectionWith(value.create({ measure, form }), false).scrollIntoView(), 'Put a value in'))
    return true
  }

/// The live value that is selected, or that the caret stands beside; null where there is none.
export function valueAtHand(state: EditorState): { readonly at: number; readonly measure: string; readonly form: ValueForm | null } | null {
  const { selection } = state
  const known = (node: Node | null | undefined, at: number) =>
    node?.type === value ? { at, measure: String(node.attrs['measure']), form: node.attrs['form'] as ValueForm | null } : null
  if (selection instanceof NodeSelection) return known(selection.node, selection.from)
  const { $from, empty } = selection
  if (!empty || $from.depth !== 1) return null
  return known($from.nodeBefore, $from.pos - 1) ?? known($from.nodeAfter, $from.pos)
}

/// Says the value at hand in another form.
export const setValueForm =
  (form: ValueForm): Command =>
  (state, dispatch) => {
    const at = valueAtHand(state)
    if (!at) return false
    const next = form === 'value' ? null : form
    if (next === at.form) return true
    const tr = state.tr.setNodeMarkup(at.at, undefined, { measure: at.measure, form: next })
    const selection =
      state.selection instanceof NodeSelection ? NodeSelection.create(tr.doc, at.at) : TextSelection.create(tr.doc, state.selection.from)
    dispatch?.(tell(tr.setSelection(selection).scrollIntoView(), 'Say the value otherwise'))
    return true
  }

/// A cite goes behind what it speaks for: behind the word that the caret touches, and before a space that follows it.
/// Words in the selection stay.
export const putCite =
  (reference: string): Command =>
  (state, dispatch) => {
    const { $to } = state.selection
    if ($to.depth !== 1 || $to.parent.type !== paragraph) return false
    const all = $to.parent.textBetween(0, $to.parent.content.size, null, '\uFFFC')
    const before = all.slice(0, $to.parentOffset)
    const spaces = before.trim() === '' ? 0 : before.length - before.trimEnd().length
    const behind = spaces > 0 ? 0 : (/^[\p{L}\p{N}’'-]*/u.exec(all.slice($to.parentOffset))?.[0].length ?? 0)
    const at = $to.pos - spaces + behind
    const tr = state.tr.insert(at, cite.create({ reference }))
    // The caret does not stay between a cite and the words that it is for.
    if (state.selection.empty && $to.pos <= at) tr.setSelection(TextSelection.create(tr.doc, at + 1))
    dispatch?.(tell(tr.scrollIntoView(), 'Put a reference in'))
    return true
  }

/// Moves a row so that it stands before the row now at `to` (the number of rows: at the end).
export const moveRow =
  (from: number, to: number): Command =>
  (state, dispatch) => {
    const row = state.doc.maybeChild(from)
    if (!row || to < 0 || to > state.doc.childCount || to === from || to === from + 1) return false
    const at = startOf(state.doc, from)
    const target = startOf(state.doc, to)
    const caret = state.selection.$from.index(0) === from ? state.selection.from - at : null
    const tr = state.tr.delete(at, at + row.nodeSize)
    const place = tr.mapping.map(target)
    tr.insert(place, row)
    if (caret !== null) tr.setSelection(TextSelection.near(tr.doc.resolve(Math.min(place + caret, tr.doc.content.size))))
    dispatch?.(tell(tr.scrollIntoView(), row.type === chapter ? 'Move the heading' : 'Move the paragraph'))
    return true
  }

/// Moves the row with the caret one up (−1) or down (1).
export const moveRowBy =
  (by: -1 | 1): Command =>
  (state, dispatch) => {
    const index = state.selection.$from.index(0)
    return moveRow(index, by < 0 ? index - 1 : index + 2)(state, dispatch)
  }

/// Takes the row with the caret away, with its pictures.
export const deleteRow: Command = (state, dispatch) => {
  const { $from } = state.selection
  if ($from.depth !== 1) return false
  dispatch?.(
    tell(
      state.tr.delete($from.before(1), $from.after(1)).scrollIntoView(),
      $from.node(1).type === chapter ? 'Delete the heading' : 'Delete the paragraph',
    ),
  )
  return true
}

export const idOf = (row: Node): string => String(row.attrs['id'])

function placeOf(doc: Node, row: Node): number {
  let place = -1
  doc.forEach((node, offset) => {
    if (node === row) place = offset
  })
  return place
}

/// Where the row at `index` begins; the document's end for the number of rows.
export function startOf(doc: Node, index: number): number {
  return doc.children.slice(0, index).reduce((sum, node) => sum + node.nodeSize, 0)
}
