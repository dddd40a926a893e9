import { useRef, useState } from 'react'
import type { Reference } from '../../app/project/reference'
import { AnsweredForm } from '../sheets/answered-form'
import { correctedItem, fieldLabel, fieldsOf, textsOf, WORK_KINDS, type FieldName } from './reference-fields'

interface Props {
  readonly label: string
  readonly action: string
  /// What it begins with.
  readonly csl: Reference['csl']
  /// Resolves once it is answered; where it was kept, the form is closed by then.
  readonly onKeep: (csl: Reference['csl']) => Promise<void>
  readonly onLeave: () => void
}

/// A cited work by its kind and its fields. What is typed for one kind stays when another is chosen. Escape leaves it.
export function ReferenceForm({ label, action, csl, onKeep, onLeave }: Props) {
  const [kind, setKind] = useState(csl.type)
  const [texts, setTexts] = useState(textsOf(csl))
  const [problem, setProblem] = useState<string | null>(null)
  const year = useRef<HTMLInputElement>(null)
  const keep = (): Promise<void> | null => {
    const item = correctedItem(csl, kind, texts)
    if (item) return onKeep(item)
    setProblem('A year is a number, such as 2019; a day is 2026-11-20.')
    year.current?.focus()
    return null
  }
  const field = (name: FieldName) => (
    <label key={name} className={name === 'title' || name === 'author' || name === 'container-title' ? 'long-field' : undefined}>
      {fieldLabel(name, kind)}
      <input
        ref={name === 'year' ? year : null}
        name={name}
        value={texts[name]}
        required={name === 'title'}
        maxLength={2000}
        spellCheck={false}
        onChange={(event) => {
          setTexts({ ...texts, [name]: event.target.value })
          setProblem(null)
        }}
      />
    </label>
  )
  return (
    <AnsweredForm label={label} className="reference-fields" onKeep={keep} onLeave={onLeave}>
      <label>
        kind of work
        <select autoFocus value={kind} onChange={(event) => setKind(event.target.value)}>
          {Object.entries(WORK_KINDS).map(([type, words]) => (
            <option key={type} value={type}>
              {words}
            </option>
          ))}
          {!(csl.type in WORK_KINDS) && <option value={csl.type}>{csl.type}</option>}
        </select>
      </label>
      {fieldsOf(kind).map(field)}
      {problem !== null && (
        <p className="open-mark" role="alert">
          {problem}
        </p>
      )}
      <p className="actions">
        <button type="submit" className="main-action">
          {action}
        </button>
        <button type="button" onClick={onLeave}>
          Leave it
        </button>
      </p>
    </AnsweredForm>
  )
}
