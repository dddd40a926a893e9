import { Slice, type Node } from 'prosemirror-model'
import { EditorState, Plugin, TextSelection, type Command, type Transaction } from 'prosemirror-state'
import { EditorView } from 'prosemirror-view'
import type { Reading } from '../../app/measure/reading'
import type { ValueForm } from '../../app/project/picture'
import { scriptSchema } from '../../app/script/schema'
import type { Project } from '../state/project'
import { atomView, type AtomView } from './atom-view'
import { Caret } from './caret'
import { cleanHtml, rowsOfText } from './clean-paste'
import type { CueLook } from './cue-look'
import { cueView, type CueView } from './cue-view'
import { idOf, startOf, tell } from './editor-commands'
import { findPlugin } from './find-words'
import { handLayoutPlugin, layOutAgain, type HandLayout } from './hand-layout'
import { lookAgain, misspeltPlugin } from './misspelt'
import { olderWordsOf, type OlderWords } from './older-words'
import { Outbox } from './outbox'
import { paragraphIds } from './paragraph-ids'
import { drawnRow, RowBoxes, type RowBox } from './row-boxes'
import { scriptKeys, type Asked } from './script-keys'
import { stepBetween, unsentOf } from './unsent'
import { paintValue } from './value-view'
import { whereToBegin } from './where-to-begin'
import { wordsBefore } from './words-before'

/// What the room around the editor tells it and hears of it.
export interface EditorSurroundings extends HandLayout, Readonly<Record<Asked, () => void>> {
  readonly readings: ReadonlyMap<string, Reading>
  /// By paragraph, what its take does not say as it is now.
  readonly older: ReadonlyMap<string, OlderWords>
  cueLook(event: string): CueLook
  /// Words that the project vouches for, in lower case.
  readonly ownWords: ReadonlySet<string>
  onCaret(paragraph: string | null): void
  onRows(rows: readonly RowBox[]): void
}

/// All the script's words in one view: what stands in it goes to the outbox as it is typed, and comes back as the project has it.
export class EditorRoom {
  readonly view: EditorView
  readonly #values = new Set<AtomView>()
  readonly #cues = new Set<CueView>()
  readonly #outbox: Outbox
  readonly #caret: Caret
  readonly #boxes: RowBoxes
  #hand: string | null = null

  constructor(
    place: HTMLElement,
    script: Node,
    version: number,
    private readonly project: Project,
    private readonly readOnly: boolean,
    private readonly around: () => EditorSurroundings,
  ) {
    this.#outbox = new Outbox(script, version, project, (now) => this.#becomes(now))
    this.view = new EditorView(place, {
      state: EditorState.create({ doc: script, selection: TextSelection.atStart(script), plugins: this.#plugins() }),
      editable: () => !readOnly,
      attributes: { 'aria-label': 'Script', role: 'textbox', 'aria-multiline': 'true', spellcheck: 'false' },
      nodeViews: {
        value: (node, editor, place) => {
          const view = atomView(
            node,
            (dom, now) => this.#paintValue(editor, dom, now, place()),
            (gone) => this.#values.delete(gone),
          )
          this.#values.add(view)
          return view
        },
      },
      markViews: {
        cue: (mark) => {
          const view = cueView(
            mark,
            (event) => this.around().cueLook(event),
            (gone) => this.#cues.delete(gone),
          )
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
    this.view.dom.addEventListener('compositionend', () => setTimeout(() => this.#outbox.send(), 20))
    this.#caret = new Caret(this.view, around)
    this.#boxes = new RowBoxes(this.view, around)
    this.#boxes.tell()
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
    drawnRow(this.view, id)?.scrollIntoView({ block: 'nearest' })
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

  /// Takes over what others, or Undo, did to the script.
  follow(script: Node | null, version: number): void {
    if (script) this.#outbox.follow(script, version)
  }

  /// Gives the row in hand its height; it stays where it is on the screen.
  relayout(): void {
    const { hand } = this.around()
    const changed = hand !== this.#hand
    this.#hand = hand
    this.#caret.hear()
    const top = (): number => drawnRow(this.view, hand)?.getBoundingClientRect().top ?? 0
    const before = top()
    layOutAgain(this.view)
    if (changed) this.view.dom.closest('.room-body')?.scrollBy(0, top() - before)
    this.#boxes.tell()
  }

  destroy(): void {
    this.#outbox.leave()
    this.#caret.destroy()
    this.#boxes.destroy()
    this.view.destroy()
  }

  #paintValue(editor: EditorView, dom: HTMLElement, node: Node, at: number | undefined): void {
    const { readings, older } = this.around()
    const $at = at === undefined ? null : editor.state.doc.resolve(at)
    const measure = String(node.attrs['measure'])
    paintValue(dom, node, readings.get(measure), {
      before: $at ? wordsBefore($at) : '',
      older: $at ? olderWordsOf(older.get(idOf($at.parent)), measure, node.attrs['form'] as ValueForm | null) : null,
    })
  }

  #dispatch(transaction: Transaction): void {
    const { state, transactions } = this.view.state.applyTransaction(transaction)
    this.view.updateState(state)
    if (transaction.docChanged && !transaction.getMeta('followed')) {
      this.#outbox.add(unsentOf(transaction, transactions, Date.now()))
      if (!this.view.composing) this.#outbox.sendSoon()
    }
    this.#caret.tell()
  }

  /// The script is another than the one that stands here.
  #becomes(script: Node): void {
    this.#caret.hear()
    const step = stepBetween(this.view.state.doc, script)
    if (step) this.view.dispatch(this.view.state.tr.step(step).setMeta('followed', true))
  }

  #plugins(): Plugin[] {
    return [
      // Before any command: a key right behind one that moved the caret acts where the caret is now.
      new Plugin({
        props: {
          handleKeyDown: (_view, event) => {
            if (event.key.length > 1 || event.ctrlKey || event.metaKey || event.altKey) this.#caret.hear()
            return false
          },
        },
      }),
      ...scriptKeys(
        (what) => this.#ask(what),
        (paragraph) => this.project.shown().state?.tables.paragraphs.get(paragraph),
      ),
      paragraphIds(),
      findPlugin(),
      misspeltPlugin(() => this.around().ownWords),
      handLayoutPlugin(this.around),
      ...(this.readOnly ? [] : [whereToBegin()]),
    ]
  }

  #ask(what: Asked): Command {
    return () => {
      this.#caret.hear()
      this.around()[what]()
      return true
    }
  }
}
