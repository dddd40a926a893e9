import { TextSelection } from 'prosemirror-state'
import type { EditorView } from 'prosemirror-view'
import { idOf } from './editor-commands'

/// The caret, between the browser that moves it, the editor's view, and the room that has the caret's row in hand.
export class Caret {
  #pressed = false

  constructor(
    private readonly view: EditorView,
    private readonly around: () => { readonly hand: string | null; onCaret(paragraph: string | null): void },
  ) {
    // Rows move only once the pointer is up, so that nothing shifts under a click.
    view.dom.addEventListener('pointerdown', () => (this.#pressed = true))
    view.dom.ownerDocument.addEventListener('pointerup', this.#onRelease)
  }

  /// Takes over a caret that keys have just moved and of which the browser has not told yet: else the next change of the
  /// view would put it back.
  hear(): void {
    const { view } = this
    const caret = view.dom.ownerDocument.getSelection()
    const { selection, doc } = view.state
    if (view.composing || !caret?.anchorNode || !caret.focusNode || !(selection instanceof TextSelection) || !view.hasFocus()) return
    if (!view.dom.contains(caret.anchorNode) || !view.dom.contains(caret.focusNode)) return
    const [anchor, head] = [view.posAtDOM(caret.anchorNode, caret.anchorOffset), view.posAtDOM(caret.focusNode, caret.focusOffset)]
    if (anchor === selection.anchor && head === selection.head) return
    const heard = TextSelection.between(doc.resolve(anchor), doc.resolve(head))
    if (!heard.eq(selection)) view.dispatch(view.state.tr.setSelection(heard))
  }

  /// Tells the room of the paragraph that the caret has come to.
  tell(): void {
    if (this.#pressed) return
    const { $head } = this.view.state.selection
    const node = $head.depth > 0 ? $head.node(1) : null
    const { hand, onCaret } = this.around()
    if (node?.type.name === 'paragraph' && idOf(node) !== hand) onCaret(idOf(node))
  }

  destroy(): void {
    this.view.dom.ownerDocument.removeEventListener('pointerup', this.#onRelease)
  }

  #onRelease = (): void => {
    if (!this.#pressed) return
    this.#pressed = false
    // After the browser has set the selection of the click.
    setTimeout(() => this.tell(), 0)
  }
}
