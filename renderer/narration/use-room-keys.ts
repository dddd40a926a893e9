import { useEffect } from 'react'

/// What each key does now, by its name in lower case; a key that does nothing now is left to others.
export type RoomKeys = Readonly<Record<string, ((event: KeyboardEvent) => void) | false | null | undefined>>

/// Keys of the whole room: without Ctrl, Alt or Meta, and not while a field or a list has them.
export function useRoomKeys(keys: RoomKeys): void {
  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => {
      if (event.ctrlKey || event.metaKey || event.altKey) return
      if (event.target instanceof HTMLInputElement || event.target instanceof HTMLSelectElement) return
      const act = keys[event.key.toLowerCase()]
      if (!act) return
      act(event)
      event.preventDefault()
    }
    window.addEventListener('keydown', onKey)
    return () => window.removeEventListener('keydown', onKey)
  })
}
