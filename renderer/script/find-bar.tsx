import { useEffect, useRef, useState, type KeyboardEvent } from 'react'
import { usePart } from '../state/use-project'
import type { EditorRoom } from './editor-room'
import { foundIn, goToFound, replaceAllFound, replaceFound, seek } from './find-words'

/// Finding words in the script, and putting others in their place.
export function FindBar({ editor, onClose }: { readonly editor: EditorRoom; readonly onClose: () => void }) {
  const readOnly = usePart('readOnly')
  const [words, setWords] = useState('')
  const [by, setBy] = useState('')
  const field = useRef<HTMLInputElement>(null)
  // What is found changes with the words and with the script.
  usePart('state')
  const { state, dispatch } = editor.view
  const found = foundIn(state)
  const here = found.findIndex(({ from, to }) => from === state.selection.from && to === state.selection.to)
  const [, draw] = useState(0)

  useEffect(() => {
    field.current?.focus()
    return () => void seek('')(editor.view.state, editor.view.dispatch)
  }, [editor])
  const look = (next: string): void => {
    setWords(next)
    seek(next)(state, dispatch)
    draw((n) => n + 1)
  }
  const go = (by: 1 | -1): void => {
    goToFound(by)(editor.view.state, editor.view.dispatch)
    draw((n) => n + 1)
  }
  const close = (): void => {
    onClose()
    editor.view.focus()
  }
  const onKey = (event: KeyboardEvent): void => {
    if (event.key === 'Escape') close()
    else if (event.key === 'Enter') go(event.shiftKey ? -1 : 1)
    else return
    event.preventDefault()
  }
  return (
    <div className="find-bar" role="search" aria-label="Find words">
      <label>
        Find <input ref={field} value={words} onChange={(event) => look(event.target.value)} onKeyDown={onKey} size={24} />
      </label>
      <button type="button" disabled={found.length === 0} onClick={() => go(-1)} title="Shift+Enter">
        Before
      </button>
      <button type="button" disabled={found.length === 0} onClick={() => go(1)} title="Enter">
        Next
      </button>
      {!readOnly && (
        <>
          <label>
            Put in its place{' '}
            <input
              value={by}
              onChange={(event) => setBy(event.target.value)}
              onKeyDown={(event) => event.key === 'Escape' && close()}
              size={24}
            />
          </label>
          <button
            type="button"
            disabled={found.length === 0}
            onClick={() => {
              replaceFound(by)(editor.view.state, editor.view.dispatch)
              draw((n) => n + 1)
            }}
          >
            Replace
          </button>
          <button
            type="button"
            disabled={found.length === 0}
            onClick={() => {
              replaceAllFound(by)(editor.view.state, editor.view.dispatch)
              draw((n) => n + 1)
            }}
          >
            Replace all
          </button>
        </>
      )}
      <span className="quiet" role="status">
        {words === '' ? '' : found.length === 0 ? 'not found' : here >= 0 ? `${here + 1} of ${found.length}` : `${found.length} found`}
      </span>
      <button type="button" className="end" onClick={close} title="Escape">
        Close
      </button>
    </div>
  )
}
