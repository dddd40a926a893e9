import { baseKeymap } from 'prosemirror-commands'
import { keymap } from 'prosemirror-keymap'
import { EditorState } from 'prosemirror-state'
import { EditorView } from 'prosemirror-view'
import { scriptSchema } from '../../../app/script/schema'

/// The same words in an editor with nothing around it.
declare global {
  var bareDocument: unknown
}

new EditorView(document.body, {
  state: EditorState.create({ doc: scriptSchema.nodeFromJSON(globalThis.bareDocument), plugins: [keymap(baseKeymap)] }),
})
