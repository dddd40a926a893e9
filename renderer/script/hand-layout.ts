import type { Node } from 'prosemirror-model'
import { Plugin, PluginKey } from 'prosemirror-state'
import { Decoration, DecorationSet, type EditorView } from 'prosemirror-view'
import { idOf } from './editor-commands'

/// The row in hand is as high as its pictures, and leaves room under its words.
export interface HandLayout {
  readonly hand: string | null
  /// Least height of the row in hand, and the room to leave under its words, px.
  readonly handHeight: number
  readonly beneath: number
}

/// How much of the row a heading right above it takes, px.
const HEADING = 44

const key = new PluginKey<DecorationSet>('layout')

export const handLayoutPlugin = (around: () => HandLayout): Plugin =>
  new Plugin<DecorationSet>({
    key,
    state: {
      init: (_config, state) => layOut(state.doc, around()),
      apply: (transaction, before, _old, after) =>
        transaction.getMeta(key) || (transaction.docChanged && transaction.doc.childCount !== transaction.before.childCount)
          ? layOut(after.doc, around())
          : before.map(transaction.mapping, after.doc),
    },
    props: { decorations: (state) => key.getState(state) },
  })

/// Another row is in hand, or its height is another.
export const layOutAgain = (view: EditorView): void => view.dispatch(view.state.tr.setMeta(key, true))

function layOut(doc: Node, { hand, handHeight, beneath }: HandLayout): DecorationSet {
  const decorations: Decoration[] = []
  doc.forEach((node, offset, index) => {
    if (node.type.name !== 'paragraph' || idOf(node) !== hand) return
    const heading = doc.maybeChild(index - 1)?.type.name === 'chapter' ? HEADING : 0
    decorations.push(
      Decoration.node(offset, offset + node.nodeSize, {
        class: 'in-hand',
        style: `min-height: ${handHeight - heading}px; padding-bottom: ${beneath}px`,
      }),
    )
  })
  return DecorationSet.create(doc, decorations)
}
