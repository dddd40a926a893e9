import { useEffect, useRef, useState, type KeyboardEvent } from 'react'
import { settingsOf } from '../../app/edit/project-state'
import { updating } from '../state/record-change'
import { useProject, usePart } from '../state/use-project'
import type { EditorRoom } from './editor-room'
import { goToMisspelt, lookAgain, misspeltHere, misspeltIn, spellAs, suggestionsFor, type Misspelt } from './misspelt'

/// Words that no list knows, one after the other: spelt another way, or kept as they are for this project.
export function SpellingBar({ editor, onClose }: { readonly editor: EditorRoom; readonly onClose: () => void }) {
  const project = useProject()
  const readOnly = usePart('readOnly')
  const [here, setHere] = useState<Misspelt | null>(null)
  const [left, setLeft] = useState(0)
  const [suggestions, setSuggestions] = useState<readonly string[] | null>(null)
  const bar = useRef<HTMLDivElement>(null)

  const next = (): void => {
    const { view } = editor
    lookAgain(view)
    goToMisspelt(view.state, view.dispatch)
    setHere(misspeltHere(view.state))
    setLeft(misspeltIn(view.state).length)
  }
  useEffect(() => {
    // The word that was being written is looked at as well, now that the keys are here.
    bar.current?.focus()
    next()
  }, [editor])
  useEffect(() => {
    setSuggestions(null)
    if (!here) return
    let current = true
    void suggestionsFor(editor.view, here.word).then((words) => current && setSuggestions(words))
    return () => void (current = false)
  }, [editor, here])
  // The first answer takes the keys, so that Enter does what is likeliest.
  useEffect(() => bar.current?.querySelector('button')?.focus(), [suggestions])

  const spell = (word: string): void => {
    spellAs(word)(editor.view.state, editor.view.dispatch)
    next()
  }
  const keep = async (word: string): Promise<void> => {
    await project.edit((state) => {
      const settings = settingsOf(state)
      return {
        label: `Keep the word ${word}`,
        steps: [],
        diffs: [updating('settings', settings, { ...settings, vocabulary: [...(settings.vocabulary ?? []), word] })],
      }
    })
    next()
  }
  const close = (): void => {
    onClose()
    editor.view.focus()
  }
  const onKey = (event: KeyboardEvent): void => {
    if (event.key === 'Escape') close()
    else if (event.altKey && event.key.toLowerCase() === 'w') next()
    else return
    event.preventDefault()
    event.stopPropagation()
  }
  return (
    <div ref={bar} className="find-bar" role="group" aria-label="Spelling" tabIndex={-1} onKeyDown={onKey}>
      <span role="status">{here ? `“${here.word}” is in no word list.` : 'Every word is in a word list.'}</span>
      {here && !readOnly && (
        <>
          {suggestions === null && <span className="quiet">Looking for others …</span>}
          {suggestions?.map((word) => (
            <button key={word} type="button" onClick={() => spell(word)}>
              {word}
            </button>
          ))}
          {suggestions !== null && (
            <button type="button" onClick={() => void keep(here.word)}>
              Keep “{here.word}”
            </button>
          )}
        </>
      )}
      {here && (
        <button type="button" onClick={next} title="Alt+W">
          Next
        </button>
      )}
      {left > 1 && <span className="quiet">{left} such words</span>}
      <button type="button" className="end" onClick={close} title="Escape">
        Close
      </button>
    </div>
  )
}
