import { useRef } from 'react'
import type { Clip, Footage } from '../../app/project/film'
import { AnsweredForm } from '../sheets/answered-form'
import type { SecondsUsed } from './seconds-used'

interface Props {
  readonly footage: Footage
  readonly clips: readonly Clip[]
  /// How much of it the film shows; null: that is not known yet.
  readonly used: SecondsUsed | null
  readonly readOnly: boolean
  /// Resolves once it is answered: null where it was refused.
  readonly onKeep: (footage: Footage) => Promise<unknown>
}

const fields = [
  ['owner', 'Whose film it is'],
  ['where', 'Where'],
  ['when', 'When'],
  ['basis', 'On what basis it is used'],
  ['credit', 'Credit on the film'],
] as const

/// Where a film is from and on what basis it is used. It records; whether a use is allowed it never says.
export function SourceCard({ footage, clips, used, readOnly, onKeep }: Props) {
  const { source } = footage
  const said = fields.flatMap(([key]) => (source?.[key] ? [source[key]] : []))
  const card = useRef<HTMLDetailsElement>(null)
  const keep = async (filled: FormData): Promise<void> => {
    const entries = fields.map(([key]) => [key, String(filled.get(key) ?? '').trim()] as const).filter(([, text]) => text !== '')
    const { source: _source, ...rest } = footage
    if (await onKeep(entries.length > 0 ? { ...rest, source: Object.fromEntries(entries) } : rest)) card.current?.removeAttribute('open')
  }
  return (
    <details ref={card} className="source">
      <summary>
        {[said.length > 0 ? `Source: ${said.join(' · ')}` : 'Source: not stated', ...(used ? [usedWords(used)] : [])].join(' · ')}
      </summary>
      <AnsweredForm onKeep={keep} key={JSON.stringify(source ?? null)}>
        {fields.map(([key, label]) => (
          <label key={key}>
            {label} <input name={key} defaultValue={source?.[key] ?? ''} readOnly={readOnly} maxLength={500} />
          </label>
        ))}
        <p className="quiet">
          Clips belong to their owners. Whether this use is allowed depends on your country’s law and the platform’s rules; Claimframe does
          not decide. {clips.length === 1 ? 'One clip is' : `${clips.length} clips are`} cut from it.
        </p>
        {!readOnly && <button type="submit">Keep</button>}
      </AnsweredForm>
    </details>
  )
}

/// "1.4 s of it used, 3.0 s on screen": its own seconds, each once, and those of the film that show it.
const usedWords = ({ used_s, onScreen_s }: SecondsUsed): string =>
  onScreen_s === 0
    ? 'nothing of it used'
    : `${used_s < 0.05 ? 'less than 0.1' : used_s.toFixed(1)} s of it used, ${onScreen_s.toFixed(1)} s on screen`
