import type { FormEvent } from 'react'

/// Adds a film by its path. Originals are never altered.
export function AddFilms({ onAdd }: { readonly onAdd: (files: readonly string[]) => void }) {
  const submit = (event: FormEvent<HTMLFormElement>): void => {
    event.preventDefault()
    const path = String(new FormData(event.currentTarget).get('path')).trim()
    if (path) onAdd([path])
  }
  return (
    <form onSubmit={submit} className="add-films">
      <label>
        Add a film <input name="path" placeholder="where the file lies" size={40} required />
      </label>
      <button type="submit">Add</button>
    </form>
  )
}
