import type { Node } from 'prosemirror-model'
import { Plugin } from 'prosemirror-state'
import { scriptSchema } from '../../app/script/schema'

/// An id for a paragraph that nobody else has.
export const freshId = (): string => `p-${crypto.randomUUID().slice(0, 8)}`

/// Keeps every paragraph known by an id of its own, whatever was pasted, and one paragraph at least to write in. Of two
/// with one id, the one that was there before keeps it, for its pictures hang on it.
export const paragraphIds = (): Plugin =>
  new Plugin({
    appendTransaction(transactions, before, after) {
      if (!transactions.some((transaction) => transaction.docChanged) || sameRows(before.doc, after.doc)) return null
      const { tr, doc } = after
      const known = new Set<Node>()
      before.doc.forEach((node) => void known.add(node))
      const owners = new Map<string, Node>()
      doc.forEach((node) => {
        const id = String(node.attrs['id'] ?? '')
        if (node.type.name === 'paragraph' && id !== '' && (!owners.has(id) || known.has(node))) owners.set(id, node)
      })
      const placed = new Set<Node>()
      doc.forEach((node, offset) => {
        if (node.type.name !== 'paragraph') return
        const own = owners.get(String(node.attrs['id'])) === node && !placed.has(node)
        placed.add(node)
        if (!own) tr.setNodeMarkup(offset, null, { id: freshId() })
      })
      if (!doc.children.some((node) => node.type.name === 'paragraph'))
        tr.insert(doc.content.size, scriptSchema.node('paragraph', { id: freshId() }))
      return tr.docChanged ? tr : null
    },
  })

/// Whether the rows are those of before, but for the words in them, and one of them is a paragraph.
function sameRows(before: Node, after: Node): boolean {
  let written = false
  for (let i = 0; i < after.childCount; i++) {
    const [was, is] = [before.maybeChild(i), after.child(i)]
    if (was !== is && (!was?.hasMarkup(is.type, is.attrs) || is.attrs['id'] === '')) return false
    written ||= is.type.name === 'paragraph'
  }
  return written && before.childCount === after.childCount
}
