import { useState } from 'react'
import type { FilmFacts } from '../../app/contract/footage-calls'
import { engine } from '../state/engine'

interface Props {
  readonly film: FilmFacts
  /// It is being split now.
  readonly busy: boolean
}

/// Makes a film of an interlaced one's fields. Which field was shot first is taken from the file; where that is wrong, what
/// moves goes back and forth from field to field, and the other order is chosen here.
export function SplitFields({ film, busy }: Props) {
  const [first, setFirst] = useState<'top' | 'bottom'>(film.fields ?? 'top')
  const [refused, setRefused] = useState('')
  const split = async (): Promise<void> => {
    const answer = await engine.call('footage.fields', { footage: film.id, first })
    setRefused(answer.ok ? '' : answer.error.message)
  }
  return (
    <p className="actions split-fields">
      <button type="button" disabled={busy} onClick={() => void split()}>
        {busy ? 'Splitting into fields …' : 'Split into fields'}
      </button>
      <label>
        first{' '}
        <select value={first} onChange={(event) => setFirst(event.target.value === 'bottom' ? 'bottom' : 'top')}>
          <option value="top">upper lines{film.fields === 'top' ? ' (as the file says)' : ''}</option>
          <option value="bottom">lower lines{film.fields === 'bottom' ? ' (as the file says)' : ''}</option>
        </select>
      </label>
      {refused && (
        <span className="refusal" role="alert">
          {refused}
        </span>
      )}
    </p>
  )
}
