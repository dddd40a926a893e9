import type { Node } from 'prosemirror-model'
import { Plugin } from 'prosemirror-state'
import { Decoration, DecorationSet } from 'prosemirror-view'

/// What an empty script says in its first paragraph.
const WORDS = 'Write here what the film says.'

/// Whether a script is one paragraph without anything in it.
const isEmpty = (doc: Node): boolean =>
  doc.childCount === 1 && doc.firstChild?.type.name === 'paragraph' && doc.firstChild.content.size === 0

/// Says in an empty script where to write; the words go with the first key.
export const whereToBegin = (): Plugin =>
  new Plugin({
    props: {
      attributes: (state) => (isEmpty(state.doc) ? { 'aria-placeholder': WORDS } : {}),
      decorations: ({ doc }) =>
        isEmpty(doc) ? DecorationSet.create(doc, [Decoration.node(0, doc.content.size, { 'data-begin': WORDS })]) : null,
    },
  })
