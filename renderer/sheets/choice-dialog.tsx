import { useId, useMemo, useState, type KeyboardEvent, type ReactNode } from 'react'
import { Dialog } from './dialog'

export interface Choice {
  readonly id: string
  /// What is searched and read out.
  readonly words: string
  readonly shown: ReactNode
  readonly beside?: string
}

interface Props {
  readonly title: string
  readonly choices: readonly Choice[]
  /// What to say where there is nothing to choose.
  readonly nothing: string
  readonly onChoose: (id: string) => void
  readonly onClose: () => void
}

/// One of many, chosen by typing part of it, by arrow keys or by pointer.
export function ChoiceDialog({ title, choices, nothing, onChoose, onClose }: Props) {
  const [sought, setSought] = useState('')
  const [at, setAt] = useState(0)
  const name = useId()
  const found = useMemo(() => {
    const parts = sought
      .toLocaleLowerCase()
      .split(/\s+/)
      .filter((part) => part !== '')
    return choices.filter(({ words }) => parts.every((part) => words.toLocaleLowerCase().includes(part)))
  }, [choices, sought])
  const here = Math.min(at, found.length - 1)
  const onKey = (event: KeyboardEvent): void => {
    const by = { ArrowDown: 1, ArrowUp: -1 }[event.key]
    if (by !== undefined && found.length > 0) {
      event.preventDefault()
      const next = (here + by + found.length) % found.length
      setAt(next)
      document.getElementById(`${name}-${next}`)?.scrollIntoView({ block: 'nearest' })
    } else if (event.key === 'Enter' && found[here]) {
      event.preventDefault()
      onChoose(found[here].id)
    }
  }
  return (
    <Dialog title={title} onClose={onClose}>
      {choices.length === 0 ? (
        <p>{nothing}</p>
      ) : (
        <>
          <input
            role="combobox"
            aria-expanded="true"
            aria-controls={`${name}-list`}
            aria-label={`${title}: type part of it`}
            aria-activedescendant={found[here] ? `${name}-${here}` : undefined}
            placeholder="type part of it"
            value={sought}
            onKeyDown={onKey}
            onChange={(event) => {
              setSought(event.target.value)
              setAt(0)
            }}
          />
          <ul id={`${name}-list`} role="listbox" aria-label={title} className="choices plain">
            {found.map((choice, i) => (
              <li
                key={choice.id}
                id={`${name}-${i}`}
                role="option"
                aria-selected={i === here}
                onClick={() => onChoose(choice.id)}
                onPointerMove={() => setAt(i)}
              >
                {choice.shown}
                {choice.beside && <span className="quiet">{choice.beside}</span>}
              </li>
            ))}
          </ul>
          {found.length === 0 && <p className="quiet">Nothing is called that.</p>}
        </>
      )}
    </Dialog>
  )
}
