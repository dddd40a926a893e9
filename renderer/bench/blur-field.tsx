import type { Ref } from 'react'
import { LONGEST_BLUR } from './smear'

interface Props {
  /// What it is asked of, for those who hear it.
  readonly label: string
  /// Pixels; undefined: not stated.
  readonly blur: number | undefined
  /// What is reckoned with while it is not stated, px.
  readonly assumed: number
  readonly onBlur: (length: number | null) => void
  /// The hand goes back to where it was.
  readonly onDone: () => void
  readonly ref?: Ref<HTMLInputElement>
}

/// How long a blurred point is blurred across its limb: the error of every value that stands on it grows with it. Left empty,
/// a default is reckoned with, and said.
export function BlurField({ label, blur, assumed, onBlur, onDone, ref }: Props) {
  const keep = (field: HTMLInputElement): void => {
    const length = field.value.trim() === '' ? null : Number(field.value)
    if (length !== null && !(length >= 0 && length <= LONGEST_BLUR)) field.value = blur === undefined ? '' : String(blur)
    else if ((length ?? undefined) !== blur) onBlur(length)
  }
  return (
    <label className="blur-field">
      blurred over{' '}
      <input
        key={blur} ref={ref} type="number" min={0} max={LONGEST_BLUR} step="any" inputMode="decimal" aria-label={label} placeholder={assumed.toFixed(0)} defaultValue={blur}
        title={`pixels across the limb; left empty, ${assumed.toFixed(0)} are reckoned with`}
        onBlur={(event) => keep(event.currentTarget)}
        onKeyDown={(event) => {
          if (event.key === 'Escape') event.currentTarget.value = blur === undefined ? '' : String(blur)
          else if (event.key !== 'Enter') return
          event.preventDefault()
          keep(event.currentTarget)
          onDone()
        }}
      />{' '}
      px across the limb; left empty: {assumed.toFixed(0)}
    </label>
  )
}
