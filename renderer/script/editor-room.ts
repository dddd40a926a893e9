import { baseKeymap, chainCommands } from 'prosemirror-commands'
import { inputRules, InputRule } from 'prosemirror-inputrules'
import { keymap } from 'prosemirror-keymap'
import { Slice, type Node } from 'prosemirror-model'
import { EditorState, Plugin, PluginKey, TextSelection, type Command, type Transaction } from 'prosemirror-state'
import type { Step } from 'prosemirror-transform'
import { Decoration, DecorationSet, EditorView } from 'prosemirror-view'
import type { Reading } from '../../app/measure/reading'
import type { ValueForm } from '../../app/project/picture'
import { scriptSchema } from '../../app/script/schema'
import type { StepJson } from '../../app/script/script-json'
import type { Project } from '../state/project'
import { atomView, type AtomView } from './atom-view'
import { cleanHtml, rowsOfText } from './clean-paste'
import type { CueLook } from './cue-look'
import { cueView, type CueView } from './cue-view'
import { headingOf, deleteRow, idOf, joinAbove, joinBelow, moveRowBy, splitParagraph, startOf, tell, toFirstWord, toggleHeading, toggleNote, type Told } from './editor-commands'
import { findPlugin } from './find-words'
import { lookAgain, misspeltPlugin } from './misspelt'
import { olderWordsOf, type OlderWords } from './older-words'
import { paragraphIds } from './paragraph-ids'
import { afterSteps, rebase, stepBetween, wordsOf, type Unsent } from './unsent'
import { paintValue } from './value-view'
import { wordsBefore } from './words-before'

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

/// What the room around the editor tells it and hears of it.
export interface EditorSurroundings {
  readonly hand: string | null
  /// Least height of the row in hand, and the room to leave under its words, px.
  readonly handHeight: number
  readonly beneath: number
  readonly readings: ReadonlyMap<string, Reading>
  /// By paragraph, what its take does not say as it is now.
  readonly older: ReadonlyMap<string, OlderWords>
  cueLook(event: string): CueLook
  /// Words that the project vouches for, in lower case.
  readonly ownWords: ReadonlySet<string>
  onCaret(paragraph: string | null): void
  onRows(rows: readonly RowBox[]): void
  onPutIn(): void
  onSayOtherwise(): void
  onFind(): void
  onSpelling(): void
}

const PAUSE_MS = 500
/// How long typed keys wait for others to go with.
const TOGETHER_MS = 400
const layout = new PluginKey<DecorationSet>('layout')

/// The editor's view, and what it has not sent yet: one request is on its way at a time, and what is typed meanwhile
/// follows behind it.
export class EditorRoom {
  readonly view: EditorView
  readonly #values = new Set<AtomView>()
  readonly #cues = new Set<CueView>()
  readonly #size: ResizeObserver
  #confirmed: Node
  #base: number
  #unsent: Unsent[] = []
  #sending: Promise<void> | null = null
  #soon: ReturnType<typeof setTimeout> | undefined
  /// The project knows that words are waiting.
  #told = false
  #pressed = false
  #group = { id: crypto.randomUUID() as string, at: 0 }
  #rows = ''
  #hand: string | null = null

  constructor(
    place: HTMLElement,
    script: Node,
    version: number,
    private readonly project: Project,
    readOnly: boolean,
    private readonly around: () => EditorSurroundings,
  ) {
    this.#confirmed = script
    this.#base = version
    this.view = new EditorView(place, {
      state: EditorState.create({ doc: script, selection: TextSelection.atStart(script), plugins: this.#plugins() }),
      editable: () => !readOnly,
      attributes: { 'aria-label': 'Script', role: 'textbox', 'aria-multiline': 'true', spellcheck: 'false' },
      nodeViews: {
        value: (node, editor, place) => {
          const view = atomView(node, (dom, now) => this.#paintValue(editor, dom, now, place()), (gone) => this.#values.delete(gone))
          this.#values.add(view)
          return view
        },
      },
      markViews: {
        cue: (mark) => {
          const view = cueView(mark, (event) => this.around().cueLook(event), (gone) => this.#cues.delete(gone))
          this.#cues.add(view)
          return view
        },
      },
      handleDoubleClickOn: (_view, _pos, node) => {
        if (node.type.name !== 'value' || readOnly) return false
        this.around().onSayOtherwise()
        return true
      },
      transformPastedHTML: cleanHtml,
      clipboardTextParser: (text) => new Slice(scriptSchema.node('doc', null, rowsOfText(text)).content, 1, 1),
      dispatchTransaction: (transaction) => this.#dispatch(transaction),
    })
    // Rows move only once the pointer is up, so that nothing shifts under a click.
    this.view.dom.addEventListener('pointerdown', () => (this.#pressed = true))
    this.view.dom.addEventListener('compositionend', () => setTimeout(() => this.#begin(), 20))
    this.view.dom.ownerDocument.addEventListener('pointerup', this.#onRelease)
    this.#size = new ResizeObserver(() => this.tellRows())
    this.#size.observe(this.view.dom)
    this.project.unsent = () => this.settled()
    this.tellRows()
  }

  /// Does a command as if its key had been pressed. False: it has nothing to do here.
  run(command: Command): boolean {
    const done = command(this.view.state, this.view.dispatch, this.view)
    if (done) this.view.focus()
    return done
  }

  /// Keeps the place of the caret while the keys are elsewhere; what it answers goes back there.
  hold(): () => void {
    const kept = this.view.state.selection.getBookmark()
    return () => {
      const { state } = this.view
      this.view.dispatch(state.tr.setSelection(kept.resolve(state.doc)))
      this.view.focus()
    }
  }

  /// Goes to a paragraph's first word.
  goTo(id: string): void {
    if (!this.take(id)) return
    this.view.dispatch(this.view.state.tr.scrollIntoView())
    this.view.focus()
  }

  /// Takes a paragraph in hand and leaves the keys where they are. False: there is none of that id.
  take(id: string): boolean {
    const { state } = this.view
    const index = state.doc.children.findIndex((row) => row.type.name === 'paragraph' && idOf(row) === id)
    if (index < 0) return false
    this.view.dispatch(state.tr.setSelection(TextSelection.near(state.doc.resolve(startOf(state.doc, index) + 1))))
    this.#rowOf(id)?.scrollIntoView({ block: 'nearest' })
    return true
  }

  /// Adds rows at the end, or in the place of a script that says nothing yet.
  bringIn(rows: readonly Node[], name: string): void {
    const { state } = this.view
    const last = state.doc.lastChild
    const blank = state.doc.childCount === 1 && last?.content.size === 0 && !this.project.shown().state?.tables.paragraphs.has(idOf(last))
    const tr = blank ? state.tr.replaceWith(0, state.doc.content.size, rows) : state.tr.insert(state.doc.content.size, rows)
    this.view.dispatch(tell(tr, `Bring ${name} in`))
  }

  redrawValues(): void {
    for (const value of this.#values) value.draw()
  }

  redrawCues(): void {
    for (const cue of this.#cues) cue.draw()
  }

  lookAtSpelling(): void {
    lookAgain(this.view)
  }

  /// Takes over what others, or Undo, did to the script. While something of ours is on its way, its answer does that.
  follow(script: Node | null, version: number): void {
    if (!script || this.#sending) return
    this.#take(script, version, [])
  }

  /// Gives the row in hand its height; it stays where it is on the screen.
  relayout(): void {
    const { hand } = this.around()
    const changed = hand !== this.#hand
    this.#hand = hand
    this.#hearCaret()
    const top = (): number => this.#rowOf(hand)?.getBoundingClientRect().top ?? 0
    const before = top()
    this.view.dispatch(this.view.state.tr.setMeta(layout, true))
    if (changed) this.view.dom.closest('.room-body')?.scrollBy(0, top() - before)
    this.tellRows()
  }

  /// Resolves once all that was typed is on the disk, or refused.
  async settled(): Promise<void> {
    do {
      this.#begin()
      await this.#sending
    } while (this.#unsent.length > 0)
  }

  destroy(): void {
    void this.settled()
    this.project.unsent = null
    this.view.dom.ownerDocument.removeEventListener('pointerup', this.#onRelease)
    this.#size.disconnect()
    this.view.destroy()
  }

  tellRows(): void {
    const top = this.view.dom.getBoundingClientRect().top
    const rows: RowBox[] = []
    let heading: { readonly top: number; readonly index: number } | null = null
    this.view.state.doc.forEach((node, _offset, index) => {
      const child = this.view.dom.children[index]
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
    const { hand } = this.around()
    const words = this.#rowOf(hand)
    if (words) {
      const range = document.createRange()
      range.selectNodeContents(words)
      const end = range.getBoundingClientRect()
      const at = rows.findIndex(({ key }) => key === hand)
      if (at >= 0) rows[at] = { ...rows[at]!, words: Math.max(end.bottom, words.getBoundingClientRect().top + 44) - top }
    }
    const said = JSON.stringify(rows)
    if (said === this.#rows) return
    this.#rows = said
    this.around().onRows(rows)
  }

  #paintValue(editor: EditorView, dom: HTMLElement, node: Node, at: number | undefined): void {
    const { readings, older } = this.around()
    const $at = at === undefined ? null : editor.state.doc.resolve(at)
    const measure = String(node.attrs['measure'])
    paintValue(dom, node, readings.get(measure), { before: $at ? wordsBefore($at) : '', older: $at ? olderWordsOf(older.get(idOf($at.parent)), measure, node.attrs['form'] as ValueForm | null) : null })
  }

  #rowOf(hand: string | null): Element | undefined {
    return [...this.view.dom.children].find((child) => child.getAttribute('data-paragraph') === hand)
  }

  #dispatch(transaction: Transaction): void {
    const { state, transactions } = this.view.state.applyTransaction(transaction)
    this.view.updateState(state)
    if (transaction.docChanged && !transaction.getMeta('followed')) {
      const told = transaction.getMeta('told') as Told | undefined
      const now = Date.now()
      this.#unsent.push({ label: told?.label ?? labelOf(transaction), steps: transactions.flatMap(({ steps }) => steps), diffs: told?.diffs ?? null, began: now, ended: now })
      if (!this.#told) this.project.waiting((this.#told = true))
      if (!this.view.composing) this.#beginSoon()
    }
    this.#tellCaret()
  }

  /// Keys go together, a few at a time; anything else goes at once.
  #beginSoon(): void {
    if (this.#unsent.some(({ label, diffs }) => label !== TYPING || diffs !== null)) this.#begin()
    else this.#soon ??= setTimeout(() => this.#begin(), TOGETHER_MS)
  }

  #begin(): void {
    clearTimeout(this.#soon)
    this.#soon = undefined
    if (this.#told && this.#unsent.length === 0 && !this.#sending) this.project.waiting((this.#told = false))
    if (this.#sending || this.#unsent.length === 0) return
    this.#sending = this.#send().finally(() => {
      this.#sending = null
      const { state } = this.project.shown()
      if (state) this.#take(state.script, state.version, [])
      if (this.#unsent.length > 0) this.#beginSoon()
      else this.#begin()
    })
  }

  async #send(): Promise<void> {
    const next = this.#nextUnsent()
    const json = next.steps.map((step) => step.toJSON() as StepJson)
    const typed = next.label === TYPING
    // By when the keys were pressed: a slow answer is no pause of the hand.
    if (!typed || next.began - this.#group.at > PAUSE_MS) this.#group = { id: crypto.randomUUID(), at: 0 }
    this.#group.at = next.ended
    const done = await this.project.edit((state) => ({ label: next.label, steps: json, diffs: next.diffs?.(state) ?? [] }), typed ? this.#group.id : null, () => this.#base)
    if (!typed) this.#group.at = 0
    const { state } = this.project.shown()
    if (!done) this.project.keep(wordsOf(next.steps))
    if (state) this.#take(state.script, state.version, next.steps)
  }

  /// What goes next: keys typed one after the other go together, anything else by itself.
  #nextUnsent(): Unsent {
    const special = this.#unsent.findIndex(({ label, diffs }) => label !== TYPING || diffs !== null)
    const count = special < 0 ? this.#unsent.length : Math.max(1, special)
    const [first, ...others] = this.#unsent.splice(0, count) as [Unsent, ...Unsent[]]
    return others.length === 0 ? first : { ...first, steps: [first, ...others].flatMap(({ steps }) => steps), ended: others.at(-1)!.ended }
  }

  /// The engine's script is now this one; `flight` was on its way and has been answered.
  #take(script: Node, version: number, flight: readonly Step[]): void {
    const waiting = this.#unsent.flatMap(({ steps }) => steps)
    const expected = afterSteps(afterSteps(this.#confirmed, flight), waiting)
    const confirmed = this.#confirmed
    this.#confirmed = script
    this.#base = version
    if (expected && afterSteps(script, waiting)?.eq(expected)) return
    this.#hearCaret()
    const { doc, unsent } = rebase(this.#unsent, confirmed, flight, script)
    this.#unsent = unsent
    const step = stepBetween(this.view.state.doc, doc)
    if (step) this.view.dispatch(this.view.state.tr.step(step).setMeta('followed', true))
  }

  #plugins(): Plugin[] {
    return [
      // Before any command: a key right behind one that moved the caret acts where the caret is now.
      new Plugin({
        props: {
          handleKeyDown: (_view, event) => {
            if (event.key.length > 1 || event.ctrlKey || event.metaKey || event.altKey) this.#hearCaret()
            return false
          },
        },
      }),
      keymap({
        Enter: splitParagraph,
        Backspace: joinAbove,
        Delete: joinBelow,
        'Alt-PageUp': moveRowBy(-1),
        'Alt-PageDown': moveRowBy(1),
        'Mod-Home': toFirstWord,
        'Mod-Backspace': (state, dispatch, view) => (state.selection.$from.parent.content.size === 0 ? deleteRow(state, dispatch, view) : false),
        'Alt-h': toggleHeading((id) => (this.project.shown().state?.tables.paragraphs.get(id)?.shots?.length ?? 0) > 0),
        'Alt-u': toggleNote,
        'Mod-.': this.#ask('onPutIn'),
        'Alt-v': this.#ask('onSayOtherwise'),
        'Mod-f': this.#ask('onFind'),
        'Alt-w': this.#ask('onSpelling'),
      }),
      keymap({ ...baseKeymap, Enter: chainCommands(splitParagraph, baseKeymap['Enter']!) }),
      // Two number signs and a space begin a heading.
      inputRules({
        rules: [
          new InputRule(/^##\s$/, (state) => {
            const { $from } = state.selection
            if (this.project.shown().state?.tables.paragraphs.has(idOf($from.node(1))) || $from.node(1).type.name !== 'paragraph') return null
            const tr = state.tr.replaceWith($from.before(1), $from.after(1), headingOf($from.node(1).content.cut($from.parentOffset)))
            return tell(tr.setSelection(TextSelection.create(tr.doc, $from.before(1) + 1)), 'Make a heading')
          }),
        ],
      }),
      paragraphIds(),
      findPlugin(),
      misspeltPlugin(() => this.around().ownWords),
      new Plugin<DecorationSet>({
        key: layout,
        state: {
          init: (_config, state) => this.#layout(state.doc),
          apply: (transaction, before, _old, after) => (transaction.getMeta(layout) || (transaction.docChanged && transaction.doc.childCount !== transaction.before.childCount) ? this.#layout(after.doc) : before.map(transaction.mapping, after.doc)),
        },
        props: { decorations: (state) => layout.getState(state) },
      }),
    ]
  }

  #ask(what: 'onPutIn' | 'onSayOtherwise' | 'onFind' | 'onSpelling'): Command {
    return () => {
      this.#hearCaret()
      this.around()[what]()
      return true
    }
  }

  #layout(doc: Node): DecorationSet {
    const { hand, handHeight, beneath } = this.around()
    const decorations: Decoration[] = []
    doc.forEach((node, offset, index) => {
      if (node.type.name !== 'paragraph' || idOf(node) !== hand) return
      const heading = doc.maybeChild(index - 1)?.type.name === 'chapter' ? 44 : 0
      decorations.push(Decoration.node(offset, offset + node.nodeSize, { class: 'in-hand', style: `min-height: ${handHeight - heading}px; padding-bottom: ${beneath}px` }))
    })
    return DecorationSet.create(doc, decorations)
  }

  /// Takes over a caret that keys have just moved and of which the browser has not told yet: else the next change of the
  /// view would put it back.
  #hearCaret(): void {
    const caret = this.view.dom.ownerDocument.getSelection()
    const { selection, doc } = this.view.state
    if (this.view.composing || !caret?.anchorNode || !caret.focusNode || !(selection instanceof TextSelection) || !this.view.hasFocus()) return
    if (!this.view.dom.contains(caret.anchorNode) || !this.view.dom.contains(caret.focusNode)) return
    const [anchor, head] = [this.view.posAtDOM(caret.anchorNode, caret.anchorOffset), this.view.posAtDOM(caret.focusNode, caret.focusOffset)]
    if (anchor === selection.anchor && head === selection.head) return
    const heard = TextSelection.between(doc.resolve(anchor), doc.resolve(head))
    if (!heard.eq(selection)) this.view.dispatch(this.view.state.tr.setSelection(heard))
  }

  #onRelease = (): void => {
    if (!this.#pressed) return
    this.#pressed = false
    // After the browser has set the selection of the click.
    setTimeout(() => this.#tellCaret(), 0)
  }

  #tellCaret(): void {
    if (this.#pressed) return
    const { $head } = this.view.state.selection
    const node = $head.depth > 0 ? $head.node(1) : null
    if (node?.type.name === 'paragraph' && idOf(node) !== this.around().hand) this.around().onCaret(idOf(node))
  }
}

const TYPING = 'Type'

function labelOf(transaction: Transaction): string {
  const event = transaction.getMeta('uiEvent') as string | undefined
  return event === 'paste' ? 'Paste' : event === 'cut' ? 'Cut' : event === 'drop' ? 'Move words' : TYPING
}
