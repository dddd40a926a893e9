import type { EditorView } from 'prosemirror-view'
import { idOf } from './editor-commands'

/// Where a row lies in the editor, px from its top. `words`: where its words end.
export interface RowBox {
  readonly key: string
  /// The paragraph's place among the script's rows, and that of the first heading right above it, else its own.
  readonly index: number
  readonly first: number
  readonly top: number
  readonly height: number
  readonly words: number
}

/// Least height of a row's words, px.
const LEAST_WORDS = 44

/// Tells where the rows lie, whenever that changes.
export class RowBoxes {
  readonly #size: ResizeObserver
  #said = ''

  constructor(
    private readonly view: EditorView,
    private readonly around: () => { readonly hand: string | null; onRows(rows: readonly RowBox[]): void },
  ) {
    this.#size = new ResizeObserver(() => this.tell())
    this.#size.observe(view.dom)
  }

  tell(): void {
    const { hand, onRows } = this.around()
    const rows = rowBoxes(this.view, hand)
    const said = JSON.stringify(rows)
    if (said === this.#said) return
    this.#said = said
    onRows(rows)
  }

  destroy(): void {
    this.#size.disconnect()
  }
}

/// What is drawn of a paragraph.
export const drawnRow = (view: EditorView, id: string | null): Element | undefined =>
  [...view.dom.children].find((child) => child.getAttribute('data-paragraph') === id)

function rowBoxes(view: EditorView, hand: string | null): RowBox[] {
  const top = view.dom.getBoundingClientRect().top
  const rows: RowBox[] = []
  let heading: { readonly top: number; readonly index: number } | null = null
  view.state.doc.forEach((node, _offset, index) => {
    const child = view.dom.children[index]
    if (!child) return
    const box = child.getBoundingClientRect()
    if (node.type.name === 'chapter') {
      heading ??= { top: box.top - top, index }
      return
    }
    const from = heading ?? { top: box.top - top, index }
    heading = null
    rows.push({ key: idOf(node), index, first: from.index, top: from.top, height: box.bottom - top - from.top, words: 0 })
  })
  const words = drawnRow(view, hand)
  if (!words) return rows
  const range = document.createRange()
  range.selectNodeContents(words)
  const end = range.getBoundingClientRect()
  const at = rows.findIndex(({ key }) => key === hand)
  if (at >= 0) rows[at] = { ...rows[at]!, words: Math.max(end.bottom, words.getBoundingClientRect().top + LEAST_WORDS) - top }
  return rows
}
