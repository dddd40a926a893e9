import { useRef, useState, type ChangeEvent } from 'react'
import { GoneFilms } from '../footage/gone-films'
import { useProject, usePart } from '../state/use-project'
import { toggleHeading, toggleNote } from './editor-commands'
import type { EditorRoom } from './editor-room'
import { KeptWords } from './kept-words'
import { rowsOfFile } from './script-files'

interface Props {
  readonly editor: EditorRoom | null
  /// Films are still being read.
  readonly reading: boolean
  readonly onPutIn: () => void
  readonly onSayOtherwise: () => void
  readonly onFind: () => void
  readonly onSpelling: () => void
}

/// What can be done to the words beside typing.
export function ScriptBar({ editor, reading, onPutIn, onSayOtherwise, onFind, onSpelling }: Props) {
  const project = useProject()
  const readOnly = usePart('readOnly')
  const choice = useRef<HTMLInputElement>(null)
  const [problem, setProblem] = useState<string | null>(null)
  const hasPictures = (id: string): boolean => (project.shown().state?.tables.paragraphs.get(id)?.shots?.length ?? 0) > 0
  const bringIn = async (event: ChangeEvent<HTMLInputElement>): Promise<void> => {
    const file = event.target.files?.[0]
    event.target.value = ''
    if (!file || !editor) return
    try {
      const rows = await rowsOfFile(file)
      setProblem(rows.length === 0 ? `${file.name} has no words in it.` : null)
      if (rows.length > 0) editor.bringIn(rows, file.name)
    } catch {
      setProblem(`${file.name} cannot be read as a script. Plain text, Markdown and .docx can.`)
    }
  }
  return (
    <div className="script-tools" role="toolbar" aria-label="Words">
      {!readOnly && (
        <>
          <button type="button" onClick={onPutIn} title="put in a value, or tie a word to its frame: Ctrl and full stop">
            Put in …
          </button>
          <button type="button" onClick={onSayOtherwise} title="how the value at the caret is said: Alt+V, or a double click on it">
            Say otherwise …
          </button>
          <button type="button" onClick={() => editor?.run(toggleHeading(hasPictures))} title="Alt+H; or two number signs and a space">
            Heading
          </button>
          <button type="button" onClick={() => editor?.run(toggleNote)} title="words for yourself, which nobody says: Alt+U">
            Unspoken
          </button>
        </>
      )}
      <button type="button" onClick={onFind} title="Ctrl+F">
        Find
      </button>
      <button type="button" onClick={onSpelling} title="words that no list knows: Alt+W">
        Spelling
      </button>
      {!readOnly && (
        <>
          <button type="button" onClick={() => choice.current?.click()} title="plain text, Markdown or .docx">
            Bring a script in …
          </button>
          <input
            ref={choice}
            type="file"
            hidden
            accept=".txt,.md,.markdown,.docx,text/plain,text/markdown"
            onChange={(event) => void bringIn(event)}
            aria-label="Bring a script in"
          />
        </>
      )}
      {reading && (
        <span className="quiet" role="status">
          The films are being read …
        </span>
      )}
      <GoneFilms />
      {problem && (
        <span className="refusal" role="alert">
          {problem}
        </span>
      )}
      <KeptWords />
    </div>
  )
}
