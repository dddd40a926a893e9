import type { Node } from 'prosemirror-model'
import { Plugin, PluginKey, TextSelection, type Command, type EditorState } from 'prosemirror-state'
import { Decoration, DecorationSet, type EditorView } from 'prosemirror-view'
import { checkedWords, inList, type CheckedWord } from '../../app/script/spelling/checked-words'
import { Spelling } from './spelling'
import { tell } from './editor-commands'

/// Words of the script that no list knows, underlined. Looked for once the hand pauses; the word at the caret is left
/// alone until the caret has gone from it.

/// How long the hand pauses first; and how long a script that was just opened is let be.
const PAUSE_MS = 600
const OPENING_MS = 2000

const key = new PluginKey<DecorationSet>('misspelt')

export function misspeltPlugin(vouchedFor: () => ReadonlySet<string>): Plugin<DecorationSet> {
  return new Plugin<DecorationSet>({
    key,
    state: {
      init: () => DecorationSet.empty,
      apply: (transaction, before) =>
        (transaction.getMeta(key) as DecorationSet | undefined) ?? before.map(transaction.mapping, transaction.doc),
    },
    props: {
      decorations(state) {
        const all = key.getState(state)
        const here = state.selection.empty ? null : misspeltHere(state)
        return here ? all?.add(state.doc, [Decoration.inline(here.from, here.to, { class: 'found-here' })]) : all
      },
    },
    view: (view) => new Lookout(view, vouchedFor),
  })
}

const lookouts = new WeakMap<EditorView, Lookout>()

class Lookout {
  readonly spelling: Spelling
  readonly #words = new WeakMap<Node, readonly CheckedWord[]>()
  #timer: ReturnType<typeof setTimeout>

  constructor(
    private readonly view: EditorView,
    private readonly vouchedFor: () => ReadonlySet<string>,
  ) {
    this.spelling = new Spelling(() => this.look())
    this.#timer = setTimeout(() => this.look(), OPENING_MS)
    lookouts.set(view, this)
  }

  update(view: EditorView, before: EditorState): void {
    if (view.state.doc === before.doc && view.state.selection.eq(before.selection)) return
    this.lookSoon()
  }

  lookSoon(): void {
    clearTimeout(this.#timer)
    this.#timer = setTimeout(() => this.look(), PAUSE_MS)
  }

  destroy(): void {
    clearTimeout(this.#timer)
    this.spelling.end()
  }

  look(): void {
    const { state } = this.view
    const own = this.vouchedFor()
    const caret = this.view.hasFocus() && state.selection.empty ? state.selection.head : -1
    const found: Decoration[] = []
    state.doc.forEach((row, offset) => {
      for (const { word, from, to } of this.#wordsOf(row)) {
        const at = offset + 1 + from
        const end = offset + 1 + to
        if (inList(own, word) || (caret >= at && caret <= end) || this.spelling.knows(word) !== false) continue
        found.push(Decoration.inline(at, end, { class: 'misspelt', 'aria-invalid': 'spelling' }, { word }))
      }
    })
    this.spelling.send()
    const shown = (key.getState(state)?.find() ?? []).map(placeOf)
    const now = found.map(placeOf)
    if (JSON.stringify(shown) !== JSON.stringify(now))
      this.view.dispatch(state.tr.setMeta(key, DecorationSet.create(state.doc, found)).setMeta('addToHistory', false))
  }

  #wordsOf(row: Node): readonly CheckedWord[] {
    const known = this.#words.get(row)
    if (known) return known
    // A value counts as one character that nobody types, so that places stay those of the document.
    const words = checkedWords(row.textBetween(0, row.content.size, null, '\uFFFC'))
    this.#words.set(row, words)
    return words
  }
}

const placeOf = ({ from, to }: Decoration): readonly [number, number] => [from, to]

export interface Misspelt {
  readonly word: string
  readonly from: number
  readonly to: number
}

/// Words that no list knows, in the script's order.
export const misspeltIn = (state: EditorState): readonly Misspelt[] =>
  (key.getState(state)?.find() ?? [])
    .map(({ from, to, spec }) => ({ word: (spec as { word: string }).word, from, to }))
    .sort((a, b) => a.from - b.from)

/// The unknown word that is selected; null where none is.
export const misspeltHere = (state: EditorState): Misspelt | null =>
  misspeltIn(state).find(({ from, to }) => from === state.selection.from && to === state.selection.to) ?? null

/// Selects the next unknown word behind the caret, around the end. False: there is none.
export const goToMisspelt: Command = (state, dispatch) => {
  const found = misspeltIn(state)
  const next = found.find(({ from }) => from >= state.selection.to) ?? found[0]
  if (!next) return false
  dispatch?.(state.tr.setSelection(TextSelection.create(state.doc, next.from, next.to)).scrollIntoView())
  return true
}

/// Puts a word in the place of the selected unknown one.
export const spellAs =
  (word: string): Command =>
  (state, dispatch) => {
    const here = misspeltHere(state)
    if (!here) return false
    const tr = state.tr.replaceWith(here.from, here.to, state.schema.text(word, state.doc.resolve(here.from + 1).marks()))
    dispatch?.(tell(tr.setSelection(TextSelection.create(tr.doc, here.from + word.length)), 'Spell a word'))
    return true
  }

export const suggestionsFor = async (view: EditorView, word: string): Promise<readonly string[]> =>
  (await lookouts.get(view)?.spelling.suggest(word)) ?? []

/// Looks again: more words are vouched for, or the keys are elsewhere now.
export const lookAgain = (view: EditorView): void => lookouts.get(view)?.look()
