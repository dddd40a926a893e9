import type { Mark, Node } from 'prosemirror-model'
import type { Chapter, Inline, Paragraph, ScriptRow, ValueForm } from '../project/picture'
import { headingPieces } from './heading-text'
import { scriptSchema } from './schema'

/// The words of the script as rows of the document, without shots, take and title.
export type ScriptWords = readonly (Chapter | Pick<Paragraph, 'id' | 'text'>)[]

/// The document of a script. Takes any valid script; the paragraphs' other fields are left aside.
export function scriptToNode(script: readonly ScriptRow[]): Node {
  return scriptSchema.node('doc', null, script.map(rowToNode))
}

function rowToNode(row: ScriptRow): Node {
  if ('chapter' in row) return scriptSchema.node('chapter', null, headingPieces(row).map(inlineToNode))
  const children: Node[] = []
  for (const inline of row.text) {
    const node = inlineToNode(inline)
    const last = children.at(-1)
    const apart = last?.isText && last.sameMarkup(node)
    children.push(apart ? node.mark(scriptSchema.mark('piece').addToSet(node.marks)) : node)
  }
  return scriptSchema.node('paragraph', { id: row.id }, children)
}

function inlineToNode(inline: Inline): Node {
  if (typeof inline === 'string') return scriptSchema.text(inline)
  if ('value' in inline) return scriptSchema.node('value', { measure: inline.value, form: inline.form ?? null })
  if ('cite' in inline) return scriptSchema.node('cite', { reference: inline.cite, at: inline.at ?? null })
  if ('cue' in inline) return scriptSchema.text(inline.word, [scriptSchema.mark('cue', { event: inline.cue })])
  return scriptSchema.text(inline.note, [scriptSchema.mark('note')])
}

/// The rows that a document says. The inverse of `scriptToNode` both ways: rows come back exactly
/// as they were, and so does every document that was made from rows.
export function nodeToScript(doc: Node): ScriptWords {
  return doc.children.map(nodeToRow)
}

/// One chapter or paragraph node as its row.
export function nodeToRow(node: Node): ScriptWords[number] {
  if (node.type.name === 'chapter')
    return {
      chapter: node.children.every((child) => child.isText)
        ? node.textContent
        : (node.children.map(nodeToInline) as Exclude<Chapter['chapter'], string>),
    }
  return { id: String(node.attrs['id']), text: node.children.map(nodeToInline) }
}

function nodeToInline(node: Node): Inline {
  if (node.type.name === 'cite') {
    const { reference, at } = node.attrs as { reference: string; at: string | null }
    return at === null ? { cite: reference } : { cite: reference, at }
  }
  if (!node.isText) {
    const { measure, form } = node.attrs as { measure: string; form: ValueForm | null }
    return form === null ? { value: measure } : { value: measure, form }
  }
  const text = node.text ?? ''
  const mark = node.marks.find((m: Mark) => m.type.name !== 'piece')
  if (mark?.type.name === 'cue') return { cue: String(mark.attrs['event']), word: text }
  return mark ? { note: text } : text
}
