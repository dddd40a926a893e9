import { useMemo } from 'react'
import type { ValueForm } from '../../app/project/picture'
import { formsOf } from '../../app/script/value-form'
import { ChoiceDialog, type Choice } from '../sheets/choice-dialog'
import { usePart } from '../state/use-project'
import { setValueForm, valueAtHand } from './editor-commands'
import type { EditorRoom } from './editor-room'
import { LiveValue } from './live-value'

const formWords: Readonly<Record<ValueForm, string>> = {
  value: 'value and error, as on the picture',
  about: 'rounded, with “about”',
  range: 'from the one end of its error to the other',
  spoken: 'as it is said aloud',
  label: 'with what it is',
}
/// Kinds that say who was first, or whether two differ: without numbers that is all they say.
const WORDED: ReadonlySet<string> = new Set(['comparison', 'order', 'peak-order'])

/// Chooses how the value at the caret is said: each way as it will read in the captions.
export function SayOtherwise({ editor, onClose }: { readonly editor: EditorRoom; readonly onClose: () => void }) {
  const readings = usePart('readings')
  const goBack = useMemo(() => editor.hold(), [editor])
  const value = useMemo(() => valueAtHand(editor.view.state), [editor])
  const reading = value ? readings.get(value.measure) : undefined
  const choices = useMemo((): Choice[] => {
    if (!value || !reading) return []
    const forms = formsOf(reading)
    return forms.length < 2
      ? []
      : forms.map(({ form, shown }) => {
          const words = form === 'spoken' && WORDED.has(reading.kind) ? 'in words alone' : formWords[form]
          return {
            id: form,
            words: `${shown} ${words}`,
            shown: <LiveValue reading={reading} measure={value.measure} form={form} />,
            beside: form === (value.form ?? 'value') ? `${words}; so it is now` : words,
          }
        })
  }, [value, reading])
  /// Once the sheet is gone, the caret is where it was, whatever the browser made of it.
  const leave = (then?: () => void): void => {
    onClose()
    requestAnimationFrame(() => {
      goBack()
      then?.()
    })
  }
  const nothing = !value
    ? 'Put the caret beside a value, or click on one.'
    : !reading || reading.verdict === 'refused'
      ? 'There is no value to say: it is not measured.'
      : 'There is only one way to say this value.'
  return (
    <ChoiceDialog
      title="Say the value otherwise"
      choices={choices}
      nothing={nothing}
      onChoose={(form) => leave(() => editor.run(setValueForm(form as ValueForm)))}
      onClose={() => leave()}
    />
  )
}
