import type { FormEvent } from 'react'
import type { Clip, Footage } from '../../app/project/film'

interface Props {
  readonly footage: Footage
  readonly clips: readonly Clip[]
  readonly readOnly: boolean
  readonly onKeep: (footage: Footage) => void
}

const fields = [
  ['owner', 'Whose film it is'],
  ['where', 'Where'],
  ['when', 'When'],
  ['basis', 'On what basis it is used'],
  ['credit', 'Credit on the film'],
] as const

/// Where a film is from and on what basis it is used. It records; whether a use is allowed it never says.
export function SourceCard({ footage, clips, readOnly, onKeep }: Props) {
  const { source } = footage
  const said = fields.flatMap(([key]) => (source?.[key] ? [source[key]] : []))
  const keep = (event: FormEvent<HTMLFormElement>): void => {
    event.preventDefault()
    const form = new FormData(event.currentTarget)
    const entries = fields.map(([key]) => [key, String(form.get(key) ?? '').trim()] as const).filter(([, text]) => text !== '')
    const { source: _source, ...rest } = footage
    onKeep(entries.length > 0 ? { ...rest, source: Object.fromEntries(entries) } : rest)
    event.currentTarget.closest('details')?.removeAttribute('open')
  }
  return (
    <details className="source">
      <summary>{said.length > 0 ? `Source: ${said.join(' · ')}` : 'Source: not stated'}</summary>
      <form onSubmit={keep} key={JSON.stringify(source ?? null)}>
        {fields.map(([key, label]) => (
          <label key={key}>
            {label} <input name={key} defaultValue={source?.[key] ?? ''} readOnly={readOnly} maxLength={500} />
          </label>
        ))}
        <p className="quiet">Clips belong to their owners. Whether this use is allowed depends on your country’s law and the platform’s rules; Claimframe does not decide. {clips.length === 1 ? 'One clip is' : `${clips.length} clips are`} cut from it.</p>
        {!readOnly && <button type="submit">Keep</button>}
      </form>
    </details>
  )
}
