import type { Microphones } from './use-microphones'

/// Which microphone is recorded; nothing where none is known.
export function MicrophoneChoice({ microphones, disabled }: { readonly microphones: Microphones; readonly disabled: boolean }) {
  if (microphones.known.length === 0) return null
  return (
    <label className="microphone">
      microphone{' '}
      <select
        value={microphones.chosen ?? ''}
        disabled={disabled}
        onChange={(event) => microphones.choose(event.target.value === '' ? null : event.target.value)}
      >
        <option value="">the system’s choice</option>
        {microphones.known.map(({ id, label }) => (
          <option key={id} value={id}>
            {label || 'a microphone'}
          </option>
        ))}
      </select>
    </label>
  )
}
