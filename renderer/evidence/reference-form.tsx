import { useRef, useState, type FormEvent } from 'react'
import type { Reference } from '../../app/project/reference'
import { correctedItem, fieldLabel, fieldsOf, textsOf, WORK_KINDS, type FieldName } from './reference-fields'

interface Props {
  readonly label: string
  readonly action: string
  /// What it begins with.
  readonly csl: Reference['csl']
  readonly onKeep: (csl: Reference['csl']) => void
  readonly onLeave: () => void
}

/// A cited work by its kind and its fields. What is typed for one kind stays when another is chosen. Escape leaves it.
export function ReferenceForm({ label, action, csl, onKeep, onLeave }: Props) {
  const [kind, setKind] = useState(csl.type)
  const [texts, setTexts] = useState(textsOf(csl))
  const [problem, setProblem] = useState<string | null>(null)
  const form = useRef<HTMLFormElement>(null)
  const submit = (event: FormEvent): void => {
    event.preventDefault()
    const item = correctedItem(csl, kind, texts)
    if (item) return onKeep(item)
    setProblem('A year is a number, such as 2019; a day is 2026-11-20.')
    form.current?.querySelector<HTMLInputElement>('[name="year"]')?.focus()
  }
  const field = (name: FieldName) => (
    <label key={name} className={name === 'title' || name === 'author' || name === 'container-title' ? 'long-field' : undefined}>
      {fieldLabel(name, kind)}
      <input name={name} value={texts[name]} required={name === 'title'} maxLength={2000} spellCheck={false} onChange={(event) => { setTexts({ ...texts, [name]: event.target.value }); setProblem(null) }} />
    </label>
  )
  return (
    <form ref={form} className="reference-fields" aria-label={label} onSubmit={submit} onKeyDown={(event) => {
      if (event.key !== 'Escape') return
      event.stopPropagation()
      onLeave()
    }}>
      <label>
        kind of work
        <select autoFocus value={kind} onChange={(event) => setKind(event.target.value)}>
          {Object.entries(WORK_KINDS).map(([type, words]) => <option key={type} value={type}>{words}</option>)}
          {!(csl.type in WORK_KINDS) && <option value={csl.type}>{csl.type}</option>}
        </select>
      </label>
      {fieldsOf(kind).map(field)}
      {problem !== null && <p className="open-mark" role="alert">{problem}</p>}
      <p className="actions">
        <button type="submit" className="main-action">{action}</button>
        <button type="button" onClick={onLeave}>Leave it</button>
      </p>
    </form>
  )
}
