import type { Node } from 'prosemirror-model'
import { Plugin, PluginKey, TextSelection, type Command, type EditorState, type Transaction } from 'prosemirror-state'
import { Decoration, DecorationSet } from 'prosemirror-view'
import { tell } from './editor-commands'

/// Finding and replacing words. Values are passed over: what they show is measured, not written.

export interface Found {
  readonly from: number
  readonly to: number
}

interface Search {
  readonly words: string
  readonly found: readonly Found[]
}

const key = new PluginKey<Search>('find')

/// Every place where the words stand, capitals or not; none for no words.
export function findWords(doc: Node, words: string): Found[] {
  if (words === '') return []
  const sought = words.toLocaleLowerCase()
  const found: Found[] = []
  doc.forEach((row, offset) => {
    // A value counts as one character that nobody types, so that places stay those of the document.
    const text = row.textBetween(0, row.content.size, null, '\uFFFC')
    const lower = text.toLocaleLowerCase()
    // In a few scripts lower case is longer: there the words are sought as they are written.
    const [within, what] = lower.length === text.length ? [lower, sought] : [text, words]
    for (let at = within.indexOf(what); at >= 0; at = within.indexOf(what, at + what.length))
      found.push({ from: offset + 1 + at, to: offset + 1 + at + what.length })
  })
  return found
}

/// Shows where the sought words stand.
export const findPlugin = (): Plugin<Search> =>
  new Plugin<Search>({
    key,
    state: {
      init: () => ({ words: '', found: [] }),
      apply(transaction, search, _before, after) {
        const words = (transaction.getMeta(key) as string | undefined) ?? search.words
        return words === search.words && !transaction.docChanged ? search : { words, found: findWords(after.doc, words) }
      },
    },
    props: {
      decorations(state) {
        const { found } = key.getState(state) ?? { found: [] }
        if (found.length === 0) return null
        return DecorationSet.create(
          state.doc,
          found.map(({ from, to }) =>
            Decoration.inline(from, to, {
              class: state.selection.from === from && state.selection.to === to ? 'found found-here' : 'found',
            }),
          ),
        )
      },
    },
  })

export const foundIn = (state: EditorState): readonly Found[] => key.getState(state)?.found ?? []

/// Sets what is sought; '' ends the search.
export const seek =
  (words: string): Command =>
  (state, dispatch) => {
    dispatch?.(state.tr.setMeta(key, words))
    return true
  }

/// Selects the next (1) or the last (−1) place, around the end.
export const goToFound =
  (by: 1 | -1): Command =>
  (state, dispatch) => {
    const found = foundIn(state)
    const { from, to } = state.selection
    const next =
      by > 0 ? (found.find((place) => place.from >= to) ?? found[0]) : (found.findLast((place) => place.to <= from) ?? found.at(-1))
    if (!next) return false
    dispatch?.(selecting(state.tr, next))
    return true
  }

/// Puts other words in the place of those that are selected and sought, and goes on to the next.
export const replaceFound =
  (by: string): Command =>
  (state, dispatch) => {
    const here = foundIn(state).find(({ from, to }) => from === state.selection.from && to === state.selection.to)
    if (!here) return goToFound(1)(state, dispatch)
    const tr = put(state.tr, here, by)
    const behind = here.from + by.length
    const next = foundIn(state).find(({ from }) => from >= here.to) ?? foundIn(state)[0]
    const at = next && next !== here ? { from: tr.mapping.map(next.from, -1), to: tr.mapping.map(next.to) } : { from: behind, to: behind }
    dispatch?.(tell(selecting(tr, at), 'Replace words'))
    return true
  }

export const replaceAllFound =
  (by: string): Command =>
  (state, dispatch) => {
    const found = foundIn(state)
    if (found.length === 0) return false
    const { tr } = state
    for (const place of found.toReversed()) put(tr, place, by)
    dispatch?.(tell(tr, found.length === 1 ? 'Replace words' : `Replace words in ${found.length} places`))
    return true
  }

/// The new words keep the marks of the first that they replace.
const put = (tr: Transaction, { from, to }: Found, by: string): Transaction =>
  by === '' ? tr.delete(from, to) : tr.replaceWith(from, to, tr.doc.type.schema.text(by, tr.doc.resolve(from + 1).marks()))

const selecting = (tr: Transaction, { from, to }: Found): Transaction =>
  tr.setSelection(TextSelection.create(tr.doc, from, to)).scrollIntoView()
