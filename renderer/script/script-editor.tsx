import { useEffect, useMemo, useRef } from 'react'
import type { Breakdown } from '../../app/project/breakdown'
import type { Reference } from '../../app/project/reference'
import { ownWords } from '../../app/script/spelling/own-words'
import { useProject, usePart } from '../state/use-project'
import { showCites } from './cite-view'
import { cueLook } from './cue-look'
import { EditorRoom, type EditorSurroundings } from './editor-room'
import { olderWordsByParagraph } from './older-words'

type Props = Omit<EditorSurroundings, 'readings' | 'ownWords' | 'older' | 'cueLook'> & {
  readonly onReady: (editor: EditorRoom | null) => void
}

/// All the script's words in one editor. Keys go into the view at once and to the engine as steps; React draws nothing
/// for them.
export function ScriptEditor(props: Props) {
  const project = useProject()
  const state = usePart('state')
  const readings = usePart('readings')
  const breakdown = usePart('breakdown')
  const references = breakdown?.references
  const readOnly = usePart('readOnly')
  const place = useRef<HTMLDivElement>(null)
  const editor = useRef<EditorRoom | null>(null)
  const cites = useRef<{ readonly of: EditorRoom; redraw(): void } | null>(null)
  const own = useOwnWords(breakdown)
  const older = useMemo(() => olderWordsByParagraph(breakdown, readings), [breakdown, readings])
  const surroundings: EditorSurroundings = { ...props, readings, ownWords: own, older, cueLook: (event) => cueLook(breakdown, event) }
  const around = useRef(surroundings)
  around.current = surroundings
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

  // A script without references has no cites to draw.
  useEffect(() => {
    if (!references || references.length === 0 || !editor.current) return
    if (cites.current?.of === editor.current) return cites.current.redraw()
    const referenceOf = (id: string): Reference | undefined => project.shown().state?.tables.references.get(id)
    cites.current = { of: editor.current, redraw: showCites(editor.current.view, referenceOf) }
  }, [project, readOnly, onReady, references])
  // The words before a value count as well, and are known here once the hand pauses.
  useEffect(() => editor.current?.redrawValues(), [readings, older])
  useEffect(() => editor.current?.redrawCues(), [breakdown?.events, breakdown?.clips])
  useEffect(() => editor.current?.lookAtSpelling(), [own])
  useEffect(() => editor.current?.follow(state?.script ?? null, state?.version ?? 0), [state])
  useEffect(() => editor.current?.relayout(), [hand, handHeight, beneath])
  return <div ref={place} className="words" />
}

/// Another set only where one of the words is another.
function useOwnWords(breakdown: Breakdown | null): ReadonlySet<string> {
  const { subjects, clips, events, references, vocabulary } = breakdown ?? {}
  return useMemo(
    () => ownWords({ subjects: subjects ?? [], clips: clips ?? [], events, references, vocabulary }),
    [subjects, clips, events, references, vocabulary],
  )
}
