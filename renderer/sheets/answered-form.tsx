import { useLayoutEffect, useRef, useState, type FormEvent, type KeyboardEvent, type ReactNode } from 'react'

interface Props {
  readonly label?: string
  readonly className?: string
  /// Sends what was filled in and resolves once it is answered; where it was kept, the form is closed or emptied by then. Null:
  /// it was not fit to be sent.
  readonly onKeep: (filled: FormData) => Promise<unknown> | null
  /// Escape; without it, Escape does nothing here.
  readonly onLeave?: () => void
  readonly children: ReactNode
}

/// A form that is kept by a button. From the press until the answer it takes no keys and no pointer: nothing is typed that the
/// answer would take away, and nothing is sent twice. What is refused stands in it as it was, with the focus where it was.
export function AnsweredForm({ label, className, onKeep, onLeave, children }: Props) {
  const [waiting, setWaiting] = useState(false)
  const form = useRef<HTMLFormElement>(null)
  const before = useRef<Element | null>(null)
  const submit = (event: FormEvent<HTMLFormElement>): void => {
    event.preventDefault()
    if (waiting) return
    const answered = onKeep(new FormData(event.currentTarget))
    if (answered === null) return
    before.current = document.activeElement
    // What is inert has no focus, and the page's body would take the keys.
    form.current?.focus({ preventScroll: true })
    setWaiting(true)
    void answered.finally(() => setWaiting(false))
  }
  useLayoutEffect(() => {
    if (!waiting && document.activeElement === form.current && before.current instanceof HTMLElement)
      before.current.focus({ preventScroll: true })
  }, [waiting])
  const onKeyDown = (event: KeyboardEvent): void => {
    if (waiting) {
      event.stopPropagation()
      if (event.key !== 'Tab') event.preventDefault()
    } else if (event.key === 'Escape' && onLeave) {
      event.stopPropagation()
      onLeave()
    }
  }
  return (
    <form
      ref={form}
      className={className === undefined ? 'answered-form' : `answered-form ${className}`}
      aria-label={label}
      aria-busy={waiting}
      tabIndex={-1}
      onSubmit={submit}
      onKeyDown={onKeyDown}
    >
      <div className="answered-fields" inert={waiting}>
        {children}
      </div>
    </form>
  )
}
