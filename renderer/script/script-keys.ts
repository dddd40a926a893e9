import { baseKeymap, chainCommands } from 'prosemirror-commands'
import { InputRule, inputRules } from 'prosemirror-inputrules'
import { keymap } from 'prosemirror-keymap'
import { TextSelection, type Command, type Plugin } from 'prosemirror-state'
import type { ParagraphRecord } from '../../app/edit/records'
import {
  deleteRow,
  headingOf,
  idOf,
  joinAbove,
  joinBelow,
  moveRowBy,
  splitParagraph,
  tell,
  toFirstWord,
  toggleHeading,
  toggleNote,
} from './editor-commands'

/// What a key asks the room around the editor for.
export type Asked = 'onPutIn' | 'onSayOtherwise' | 'onFind' | 'onSpelling'

/// What keys do in the script. `ask` is the command that asks the room; `recordOf`: what is kept of a paragraph beside its
/// words.
export const scriptKeys = (ask: (what: Asked) => Command, recordOf: (paragraph: string) => ParagraphRecord | undefined): Plugin[] => [
  keymap({
    Enter: splitParagraph,
    Backspace: joinAbove,
    Delete: joinBelow,
    'Alt-PageUp': moveRowBy(-1),
    'Alt-PageDown': moveRowBy(1),
    'Mod-Home': toFirstWord,
    'Mod-Backspace': (state, dispatch, view) =>
      state.selection.$from.parent.content.size === 0 ? deleteRow(state, dispatch, view) : false,
    'Alt-h': toggleHeading((id) => (recordOf(id)?.shots?.length ?? 0) > 0),
    'Alt-u': toggleNote,
    'Mod-.': ask('onPutIn'),
    'Alt-v': ask('onSayOtherwise'),
    'Mod-f': ask('onFind'),
    'Alt-w': ask('onSpelling'),
  }),
  keymap({ ...baseKeymap, Enter: chainCommands(splitParagraph, baseKeymap['Enter']!) }),
  // Two number signs and a space begin a heading.
  inputRules({
    rules: [
      new InputRule(/^##\s$/, (state) => {
        const { $from } = state.selection
        const row = $from.node(1)
        if (recordOf(idOf(row)) || row.type.name !== 'paragraph') return null
        const tr = state.tr.replaceWith($from.before(1), $from.after(1), headingOf(row.content.cut($from.parentOffset)))
        return tell(tr.setSelection(TextSelection.create(tr.doc, $from.before(1) + 1)), 'Make a heading')
      }),
    ],
  }),
]
