import type { Node } from 'prosemirror-model'
import type { NodeView } from 'prosemirror-view'

/// A node of the editor that is one piece and shows something of the project: drawn by `paint`, and again whenever that has
/// changed.
export interface AtomView extends NodeView {
  draw(): void
}

export function atomView(first: Node, paint: (dom: HTMLElement, node: Node) => void, onGone: (view: AtomView) => void): AtomView {
  const dom = document.createElement('span')
  let node = first
  const view: AtomView = {
    dom,
    draw: () => paint(dom, node),
    update(next) {
      if (next.type !== node.type) return false
      node = next
      paint(dom, node)
      return true
    },
    destroy: () => onGone(view),
  }
  paint(dom, node)
  return view
}
