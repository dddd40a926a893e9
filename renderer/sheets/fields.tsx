import type { KeyboardEvent, ReactNode } from 'react'
import { useChosen } from './use-chosen'
import { useTyped } from './use-typed'

/// Small fields that set their value when the hand leaves them or presses Enter, Escape takes it back; boxes and lists that set
/// theirs as it is chosen.

interface TextProps {
  readonly label: string
  readonly value: string
  /// Resolves once it is answered, kept or refused.
  readonly onSet: (value: string) => Promise<unknown>
  /// Null: it may stand; else why not.
  readonly judge?: (value: string) => string | null
  readonly size?: number
  readonly numeric?: boolean
  /// What is set is added elsewhere: the field is empty for the next at once.
  readonly adds?: boolean
  readonly unit?: string
}

export function TextField({ label, value, onSet, judge, size = 8, numeric = false, adds = false, unit }: TextProps) {
  const field = useTyped({ value, onSet, judge, adds })
  const onKey = (event: KeyboardEvent): void => {
    event.stopPropagation()
    if (event.key === 'Enter') field.set()
    else if (event.key === 'Escape') field.takeBack()
  }
  return (
    <label className="field">
      <span>{label}</span>
      <span className="field-line">
        <input
          value={field.text}
          size={size}
          inputMode={numeric ? 'decimal' : 'text'}
          aria-invalid={field.wrong !== null}
          title={field.wrong ?? undefined}
          onChange={(event) => field.write(event.target.value)}
          onBlur={field.set}
          onKeyDown={onKey}
        />
        {unit && <span className="quiet">{unit}</span>}
      </span>
    </label>
  )
}

interface FrameProps {
  readonly label: string
  readonly value: number
  readonly from: number
  readonly to: number
  /// The frame on screen, offered as the value; null: another clip is on screen.
  readonly shown: number | null
  readonly onSet: (frame: number) => Promise<unknown>
}

/// A footage frame from `from` to `to`, both included.
export function FrameField({ label, value, from, to, shown, onSet }: FrameProps) {
  const judge = (text: string): string | null =>
    /^\d+$/.test(text) && Number(text) >= from && Number(text) <= to ? null : `a frame from ${from} to ${to}`
  const offered = shown !== null && shown >= from && shown <= to && shown !== value
  return (
    <div className="frame-field">
      <TextField label={label} value={String(value)} onSet={(text) => onSet(Number(text))} judge={judge} size={5} numeric />
      <button
        type="button"
        disabled={!offered}
        title={shown === null ? 'another clip is on screen' : `take the frame on screen: ${shown}`}
        onClick={() => void (shown !== null && onSet(shown))}
        aria-label={`${label} here: take the frame on screen`}
      >
        here
      </button>
    </div>
  )
}

interface ChoiceProps<V extends string> {
  readonly value: V
  readonly options: readonly (readonly [V, string])[]
  /// Resolves once it is answered, kept or refused; null where there is nothing to set.
  readonly onSet: (value: V) => Promise<unknown> | null
}

/// A list without words beside it. `name`: what it is called where nothing around it names it.
export function Choice<V extends string>({ name, value, options, onSet }: ChoiceProps<V> & { readonly name?: string }) {
  const [shown, choose] = useChosen(value, onSet)
  return (
    <select
      aria-label={name}
      value={shown}
      onChange={(event) => choose(event.target.value as V)}
      onKeyDown={(event) => event.stopPropagation()}
    >
      {options.map(([id, words]) => (
        <option key={id} value={id}>
          {words}
        </option>
      ))}
    </select>
  )
}

export function Select<V extends string>({ label, ...list }: ChoiceProps<V> & { readonly label: string }) {
  return (
    <label className="field">
      <span>{label}</span>
      <Choice {...list} />
    </label>
  )
}

/// A box to tick; its words stand beside it.
export function Tick({
  on,
  disabled,
  onSet,
}: {
  readonly on: boolean
  readonly disabled: boolean
  /// Resolves once it is answered, kept or refused.
  readonly onSet: (on: boolean) => Promise<unknown>
}) {
  const [shown, choose] = useChosen(on, onSet)
  return <input type="checkbox" checked={shown} disabled={disabled} onChange={(event) => choose(event.target.checked)} />
}

/// A fraction as a person writes it: "1/4", "2", "0.5".
export const judgeFraction =
  (least: 'positive' | 'zero') =>
  (text: string): string | null => {
    const match = /^(\d{1,6})(?:\.\d{1,6}|\/(\d{1,6}))?$/.exec(text)
    const value = match ? (match[2] === undefined ? Number(text) : Number(match[1]) / Number(match[2])) : NaN
    return Number.isFinite(value) && value <= 10_000 && (least === 'zero' ? value >= 0 : value >= 1e-4)
      ? null
      : 'a number such as 2, 0.5 or 1/4'
  }

export function Fields({ children, label }: { readonly children: ReactNode; readonly label: string }) {
  return (
    <div className="fields" role="group" aria-label={label}>
      {children}
    </div>
  )
}
