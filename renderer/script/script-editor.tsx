import { useEffect, useRef } from 'react'
import { useProject, usePart } from '../state/use-project'
import { EditorRoom, type EditorSurroundings } from './editor-room'

type Props = Omit<EditorSurroundings, 'readings'> & { readonly onReady: (editor: EditorRoom | null) => void }

/// All the script's words in one editor. Keys go into the view at once and to the engine as steps; React draws nothing
/// for them.
export function ScriptEditor(props: Props) {
  const project = useProject()
  const state = usePart('state')
  const readings = usePart('readings')
  const readOnly = usePart('readOnly')
  const place = useRef<HTMLDivElement>(null)
  const editor = useRef<EditorRoom | null>(null)
  const around = useRef<EditorSurroundings>({ ...props, readings })
  around.current = { ...props, readings }
  const { onReady, hand, handHeight, beneath } = props

  useEffect(() => {
    const known = project.shown().state
    if (!place.current || !known) return
    const opened = new EditorRoom(place.current, known.script, known.version, project, readOnly, () => around.current)
    editor.current = opened
    onReady(opened)
    return () => {
      editor.current = null
      onReady(null)
      opened.destroy()
    }
  }, [project, readOnly, onReady])

  useEffect(() => editor.current?.redrawValues(), [readings])
  useEffect(() => editor.current?.follow(state?.script ?? null, state?.version ?? 0), [state])
  useEffect(() => editor.current?.relayout(), [hand, handHeight, beneath])
  return <div ref={place} className="words" />
}
