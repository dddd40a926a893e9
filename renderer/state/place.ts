import { useSyncExternalStore } from 'react'

/// Where in the window the person is: the room, and what is in hand there. Rooms come and go; this stays.

export const roomNames = ['Script', 'Footage', 'Bench', 'Narration', 'Evidence', 'Release'] as const
export type RoomName = (typeof roomNames)[number]

export interface Place {
  readonly room: RoomName
  /// The clip on the Bench, and the footage frame of it that is shown.
  readonly clip: string | null
  readonly frame: number | null
  /// The paragraph in hand in the Script room.
  readonly paragraph: string | null
}

let here: Place = { room: 'Script', clip: null, frame: null, paragraph: null }
const listeners = new Set<() => void>()

export function goTo(parts: Partial<Place>): void {
  if ((Object.keys(parts) as (keyof Place)[]).every((part) => parts[part] === here[part])) return
  here = { ...here, ...parts }
  for (const listener of listeners) listener()
}

const subscribe = (listener: () => void): (() => void) => {
  listeners.add(listener)
  return () => listeners.delete(listener)
}

export const usePlace = (): Place => useSyncExternalStore(subscribe, () => here)
