import { useMemo } from 'react'
import { shortName, titleOf } from '../../app/script/reference-name'
import { usePart } from '../state/use-project'
import { ChoiceDialog, type Choice } from '../sheets/choice-dialog'
import { cueAtHand, putCite, putCue, putValue, takeCueAway, wordAtHand } from './editor-commands'
import type { EditorRoom } from './editor-room'
import { LiveValue } from './live-value'
import { clipName } from './clip-name'

/// Chooses what goes into the words at the caret: a value, the frame that the word at hand is tied to, or a reference.
export function PutIn({ editor, onClose }: { readonly editor: EditorRoom; readonly onClose: () => void }) {
  const breakdown = usePart('breakdown')
  const readings = usePart('readings')
  const goBack = useMemo(() => editor.hold(), [editor])
  const word = useMemo(() => wordAtHand(editor.view.state), [editor])
  const tied = useMemo(() => cueAtHand(editor.view.state), [editor])
  const choices = useMemo((): Choice[] => {
    if (!breakdown) return []
    const named = (clip: string | null): string => (clip === null ? 'from several clips' : clipName(breakdown, clip))
    const values = [...readings.values()].map((reading): Choice => ({
      id: `value ${reading.id}`,
      words: `${reading.label} ${reading.plate.what} ${named(reading.clip)}`,
      shown: (
        <>
          <LiveValue reading={reading} measure={reading.id} /> <span>{reading.plate.what}</span>
        </>
      ),
      beside: `${named(reading.clip)}${reading.frame === null ? '' : `, frame ${reading.frame}`}`,
    }))
    const cues = word
      ? (breakdown.events ?? []).map((event): Choice => ({
          id: `cue ${event.id}`,
          words: `tie ${word.text} to ${event.name} ${named(event.clip)}`,
          shown: (
            <span>
              “{word.text}” comes as <strong>{event.name}</strong> is shown
            </span>
          ),
          beside: `${named(event.clip)}, frame ${event.earliest}`,
        }))
      : []
    const cites = (breakdown.references ?? []).map((reference): Choice => ({
      id: `cite ${reference.id}`,
      words: `cite ${shortName(reference)} ${titleOf(reference) ?? ''} ${reference.id}`,
      shown: (
        <span>
          Cite <strong>{shortName(reference)}</strong>
        </span>
      ),
      beside: (titleOf(reference) ?? reference.id).slice(0, 80),
    }))
    const untie: Choice[] = tied ? [{ id: 'untie', words: 'untie the word', shown: <span>Untie this word from its frame</span> }] : []
    return [...values, ...cues, ...cites, ...untie]
  }, [breakdown, readings, word, tied])
  const choose = (id: string): void => {
    const [kind, name = ''] = [id.split(' ')[0], id.slice(id.indexOf(' ') + 1)]
    leave(() =>
      editor.run(kind === 'value' ? putValue(name) : kind === 'cue' ? putCue(name) : kind === 'cite' ? putCite(name) : takeCueAway),
    )
  }
  /// Once the sheet is gone, the caret is where it was, whatever the browser made of it.
  const leave = (then?: () => void): void => {
    onClose()
    requestAnimationFrame(() => {
      goBack()
      then?.()
    })
  }
  return (
    <ChoiceDialog
      title="Put in"
      choices={choices}
      nothing="There is nothing to put in yet. Place points and choose a measure on the Bench; mark an event there to tie a word to its frame. References are entered in Evidence."
      onChoose={choose}
      onClose={() => leave()}
    />
  )
}
