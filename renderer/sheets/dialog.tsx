import { useEffect, useId, useRef, type ReactNode } from 'react'

/// A sheet before everything else; Escape closes it, and the hand goes back to where it was.
export function Dialog({
  title,
  onClose,
  children,
}: {
  readonly title: string
  readonly onClose: () => void
  readonly children: ReactNode
}) {
  const sheet = useRef<HTMLDialogElement>(null)
  const name = useId()
  useEffect(() => {
    const dialog = sheet.current
    const before = document.activeElement
    if (dialog && !dialog.open) dialog.showModal()
    // What is to be filled in is first at hand; else the way out.
    dialog?.querySelector<HTMLElement>('input, select, textarea')?.focus()
    return () => {
      dialog?.close()
      if (before instanceof HTMLElement) before.focus()
    }
  }, [])
  return (
    <dialog
      ref={sheet}
      aria-labelledby={name}
      onCancel={(event) => {
        event.preventDefault()
        onClose()
      }}
      onClick={(event) => event.target === sheet.current && onClose()}
    >
      <div className="dialog-sheet">
        <div className="dialog-head">
          <h2 id={name}>{title}</h2>
          <button type="button" onClick={onClose} title="Escape">
            Close
          </button>
        </div>
        {children}
      </div>
    </dialog>
  )
}
