import type { Node } from 'prosemirror-model'
import type { EditorView, NodeView } from 'prosemirror-view'
import type { Reference } from '../../app/project/reference'
import { citeLook } from './cite-look'

/// A cite in the editor: an atom that follows its reference.
class CiteView implements NodeView {
  readonly dom = document.createElement('span')

  constructor(
    private node: Node,
    private readonly referenceOf: (id: string) => Reference | undefined,
    private readonly onGone: (view: CiteView) => void,
  ) {
    this.draw()
  }

  draw(): void {
    const { reference, at } = this.node.attrs as { reference: string; at: string | null }
    const look = citeLook(this.referenceOf(reference), reference, at)
    this.dom.className = look.className
    this.dom.title = look.title
    if (this.dom.textContent !== look.words) this.dom.textContent = look.words
  }

  update(node: Node): boolean {
    if (node.type !== this.node.type) return false
    this.node = node
    this.draw()
    return true
  }

  destroy(): void {
    this.onGone(this)
  }
}

/// Gives an editor's view readable cites. What it answers draws them anew, for when a reference has changed.
export function showCites(view: EditorView, referenceOf: (id: string) => Reference | undefined): () => void {
  const shown = new Set<CiteView>()
  const cite = (node: Node): CiteView => {
    const made = new CiteView(node, referenceOf, (gone) => shown.delete(gone))
    shown.add(made)
    return made
  }
  view.setProps({ nodeViews: { ...view.props.nodeViews, cite } })
  return () => {
    for (const each of shown) each.draw()
  }
}
