import { useImperativeHandle, useRef, type Ref } from 'react'
import { useTyped } from '../sheets/use-typed'
import { LONGEST_BLUR } from './smear'

export interface BlurHand {
  /// The hand goes into the field, where these digits take the place of what stood there.
  begin(digits: string): void
}

interface Props {
  /// What it is asked of, for those who hear it.
  readonly label: string
  /// Pixels; undefined: not stated.
  readonly blur: number | undefined
  /// What is reckoned with while it is not stated, px.
  readonly assumed: number
  /// Resolves once it is answered, kept or refused.
  readonly onBlur: (length: number | null) => Promise<unknown>
  /// The hand goes back to where it was.
  readonly onDone: () => void
  readonly ref?: Ref<BlurHand>
}

/// How long a blurred point is blurred across its limb: the error of every value that stands on it grows with it. Left empty,
/// a default is reckoned with, and said.
export function BlurField({ label, blur, assumed, onBlur, onDone, ref }: Props) {
  const input = useRef<HTMLInputElement>(null)
  const field = useTyped({
    value: blur === undefined ? '' : String(blur),
    clean: (text) => (text.trim() === '' ? '' : String(Number(text))),
    judge: (text) => (text === '' || (Number(text) >= 0 && Number(text) <= LONGEST_BLUR) ? null : `0 to ${LONGEST_BLUR} pixels`),
    onSet: (text) => onBlur(text === '' ? null : Number(text)),
  })
  useImperativeHandle(ref, () => ({
    begin(digits) {
      field.write(digits)
      input.current?.focus()
    },
  }))
  return (
    <label className="blur-field">
      blurred over{' '}
      <input
        ref={input}
        type="number"
        min={0}
        max={LONGEST_BLUR}
        step="any"
        inputMode="decimal"
        aria-label={label}
        placeholder={assumed.toFixed(0)}
        value={field.text}
        title={`pixels across the limb; left empty, ${assumed.toFixed(0)} are reckoned with`}
        onChange={(event) => field.write(event.target.value)}
        onBlur={field.set}
        onKeyDown={(event) => {
          if (event.key === 'Escape') field.takeBack()
          else if (event.key !== 'Enter') return
          event.preventDefault()
          if (event.key === 'Enter') field.set()
          onDone()
        }}
      />{' '}
      px across the limb; left empty: {assumed.toFixed(0)}
    </label>
  )
}
