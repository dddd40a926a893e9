import { baseKeymap, chainCommands, splitBlockAs } from 'prosemirror-commands'
import { keymap } from 'prosemirror-keymap'
import type { Node } from 'prosemirror-model'
import { EditorState, Plugin, TextSelection } from 'prosemirror-state'
import { Decoration, DecorationSet, EditorView } from 'prosemirror-view'
import { useEffect, useRef } from 'react'
import type { Reading } from '../../app/measure/reading'
import type { StepJson } from '../../app/script/script-json'
import { scriptSchema } from '../../app/script/schema'
import type { Project } from '../state/project'
import { useProject, useShown } from '../state/use-project'
import { ValueView } from './value-view'

interface Props {
  /// The paragraph that the caret is in.
  readonly onCaret: (paragraph: string | null) => void
  /// Least height of each row, px, so that words and pictures stay beside each other.
  readonly heightOf: (node: Node, index: number) => number
  /// Tops of the rows, measured after every layout.
  readonly onRows: (tops: readonly { readonly key: string; readonly top: number; readonly height: number }[]) => void
  /// Gives the room a way to put a live value where the caret is.
  readonly onReady: (insert: (measure: string) => void) => void
  readonly hand: string | null
}

/// All the script's words in one editor. Keys go into the view at once and to the engine as steps; one request is
/// on its way at a time, and what is typed meanwhile follows behind it.
export function ScriptEditor({ onCaret, heightOf, onRows, onReady, hand }: Props) {
  const project = useProject()
  const { state, readings, readOnly } = useShown()
  const place = useRef<HTMLDivElement>(null)
  const room = useRef<EditorRoom | null>(null)
  const now = useRef({ readings, heightOf, onCaret, onRows, hand })
  now.current = { readings, heightOf, onCaret, onRows, hand }

  useEffect(() => {
    const script = project.shown().state?.script
    if (!place.current || !script) return
    const opened = new EditorRoom(place.current, script, project, readOnly, () => now.current)
    room.current = opened
    onReady((measure) => opened.insertValue(measure))
    return () => {
      opened.destroy()
      room.current = null
    }
  }, [project, readOnly, onReady])

  useEffect(() => room.current?.redrawValues(), [readings])
  useEffect(() => room.current?.follow(state?.script ?? null), [state])
  useEffect(() => room.current?.relayout(), [hand, heightOf])
  return <div ref={place} className="words" />
}

type Now = () => Pick<Props, 'heightOf' | 'onCaret' | 'onRows' | 'hand'> & { readonly readings: ReadonlyMap<string, Reading> }

const PAUSE_MS = 500

/// The editor's view and what it has not sent yet.
class EditorRoom {
  readonly #view: EditorView
  readonly #values = new Set<ValueView>()
  readonly #size: ResizeObserver
  #waiting: StepJson[] = []
  #sending = false
  #pressed = false
  #group = { id: crypto.randomUUID(), at: 0 }

  constructor(
    place: HTMLElement,
    script: Node,
    private readonly project: Project,
    readOnly: boolean,
    private readonly now: Now,
  ) {
    this.#view = new EditorView(place, {
      state: this.#stateOf(script),
      editable: () => !readOnly,
      attributes: { 'aria-label': 'Script', role: 'textbox', 'aria-multiline': 'true', spellcheck: 'true' },
      nodeViews: {
        value: (node) => {
          const view = new ValueView(node, (measure) => this.now().readings.get(measure), (gone) => this.#values.delete(gone))
          this.#values.add(view)
          return view
        },
      },
      dispatchTransaction: (transaction) => {
        this.#view.updateState(this.#view.state.apply(transaction))
        if (transaction.docChanged && !transaction.getMeta('followed')) {
          this.#waiting.push(...transaction.steps.map((step) => step.toJSON() as StepJson))
          void this.#send()
        }
        this.#tellCaret()
        this.#tellRows()
      },
    })
    // Rows move only once the pointer is up, so that nothing shifts under a click.
    this.#view.dom.addEventListener('pointerdown', () => (this.#pressed = true))
    this.#view.dom.ownerDocument.addEventListener('pointerup', this.#onRelease)
    this.#size = new ResizeObserver(() => this.#tellRows())
    this.#size.observe(this.#view.dom)
    this.#tellRows()
  }

  insertValue(measure: string): void {
    this.#view.dispatch(this.#view.state.tr.replaceSelectionWith(scriptSchema.nodes.value.create({ measure, form: null }), false))
    this.#view.focus()
  }

  redrawValues(): void {
    for (const value of this.#values) value.draw()
    this.#tellRows()
  }

  /// Takes over what others, or Undo, did to the script once nothing of ours is on its way.
  follow(script: Node | null): void {
    if (!script || this.#sending || this.#waiting.length > 0 || script.eq(this.#view.state.doc)) return
    const { state } = this.#view
    const start = state.doc.content.findDiffStart(script.content)
    const end = state.doc.content.findDiffEnd(script.content)
    if (start === null || !end) return
    const overlap = Math.max(0, start - Math.min(end.a, end.b))
    const change = state.tr.replace(start, end.a + overlap, script.slice(start, end.b + overlap)).setMeta('followed', true)
    this.#view.dispatch(change.doc.eq(script) ? change : state.tr.replaceWith(0, state.doc.content.size, script.content).setMeta('followed', true))
  }

  /// Gives the rows their new heights; the row in hand stays where it is on the screen.
  relayout(): void {
    const { hand } = this.now()
    const top = (): number => [...this.#view.dom.children].find((child) => child.getAttribute('data-row') === hand)?.getBoundingClientRect().top ?? 0
    const before = top()
    this.#view.dispatch(this.#view.state.tr.setMeta('relayout', true))
    this.#view.dom.closest('.room-body')?.scrollBy(0, top() - before)
  }

  destroy(): void {
    this.#view.dom.ownerDocument.removeEventListener('pointerup', this.#onRelease)
    this.#size.disconnect()
    this.#view.destroy()
  }

  async #send(): Promise<void> {
    if (this.#sending) return
    this.#sending = true
    while (this.#waiting.length > 0) {
      const steps = this.#waiting
      this.#waiting = []
      const time = Date.now()
      if (time - this.#group.at > PAUSE_MS) this.#group = { id: crypto.randomUUID(), at: time }
      this.#group.at = time
      const state = await this.project.edit({ label: 'Type', steps, diffs: [] }, this.#group.id)
      if (!state) this.#waiting = []
    }
    this.#sending = false
    this.follow(this.project.shown().state?.script ?? null)
  }

  #stateOf(script: Node): EditorState {
    const enter = splitBlockAs(() => ({ type: scriptSchema.nodes.paragraph, attrs: { id: `p-${crypto.randomUUID().slice(0, 8)}` } }))
    return EditorState.create({
      doc: script,
      selection: TextSelection.atStart(script),
      plugins: [
        keymap({ Enter: enter }),
        keymap({ ...baseKeymap, Enter: chainCommands(enter) }),
        new Plugin({ props: { decorations: (state) => this.#heights(state.doc) } }),
      ],
    })
  }

  #heights(doc: Node): DecorationSet {
    const decorations: Decoration[] = []
    doc.forEach((node, offset, index) => {
      const id = node.attrs['id'] as string | undefined
      decorations.push(Decoration.node(offset, offset + node.nodeSize, { style: `min-height: ${this.now().heightOf(node, index)}px`, ...(id === undefined ? {} : { 'data-row': id }), ...(id !== undefined && id === this.now().hand ? { class: 'in-hand' } : {}) }))
    })
    return DecorationSet.create(doc, decorations)
  }

  #onRelease = (): void => {
    if (!this.#pressed) return
    this.#pressed = false
    // After the browser has set the selection of the click.
    setTimeout(() => this.#tellCaret(), 0)
  }

  #tellCaret(): void {
    if (this.#pressed) return
    const { $head } = this.#view.state.selection
    const node = $head.depth > 0 ? $head.node(1) : null
    this.now().onCaret(node?.type.name === 'paragraph' ? String(node.attrs['id']) : null)
  }

  #tellRows(): void {
    const top = this.#view.dom.getBoundingClientRect().top
    const rows = [...this.#view.dom.children].flatMap((child) => {
      const key = child.getAttribute('data-row')
      const box = child.getBoundingClientRect()
      return key === null ? [] : [{ key, top: box.top - top, height: box.height }]
    })
    this.now().onRows(rows)
  }
}
