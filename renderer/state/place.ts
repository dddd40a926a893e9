import { useSyncExternalStore } from 'react'
import type { EditPlace } from '../../app/edit/place-of-edit'
import type { Breakdown } from '../../app/project/breakdown'

/// Where in the window the person is: the room, and what is in hand there. Rooms come and go; this stays.

export const roomNames = ['Script', 'Footage', 'Bench', 'Narration', 'Evidence', 'Release'] as const
export type RoomName = (typeof roomNames)[number]

export interface Place {
  readonly room: RoomName
  /// The clip on the Bench, and the footage frame of it that is shown.
  readonly clip: string | null
  readonly frame: number | null
  /// The person whose points were in hand on the Bench last.
  readonly subject: string | null
  /// The paragraph in hand in the Script room.
  readonly paragraph: string | null
  /// The sentence in hand in the Evidence room, by its quotation's key.
  readonly claim: string | null
  /// The clip whose form is to lie open in the Footage room, until it does.
  readonly form: string | null
}

const beginning: Place = { room: 'Script', clip: null, frame: null, subject: null, paragraph: null, claim: null, form: null }
let here = beginning
const listeners = new Set<() => void>()

export function goTo(parts: Partial<Place>): void {
  if ((Object.keys(parts) as (keyof Place)[]).every((part) => parts[part] === here[part])) return
  here = { ...here, ...parts }
  for (const listener of listeners) listener()
}

/// Back to where every project begins: what is in hand in one is nowhere in another.
export const leavePlaces = (): void => goTo(beginning)

const subscribe = (listener: () => void): (() => void) => {
  listeners.add(listener)
  return () => listeners.delete(listener)
}

export const placeNow = (): Place => here
export const usePlace = (): Place => useSyncExternalStore(subscribe, placeNow)

const roomOf: Readonly<Record<EditPlace['room'], RoomName>> = {
  script: 'Script',
  footage: 'Footage',
  bench: 'Bench',
  narration: 'Narration',
  evidence: 'Evidence',
  release: 'Release',
}

/// Goes to where an edit acts; what it does not say stays in hand as it is.
export function goToEdit({ room, paragraph, clip, frame }: EditPlace): void {
  const onBench = room === 'bench' && clip !== null
  goTo({
    room: roomOf[room],
    ...(paragraph === null ? {} : { paragraph }),
    ...(onBench ? { clip, ...(frame === null ? {} : { frame }) } : {}),
  })
}

/// Where an edit acts, in words: "in Script", "on the Bench, finish, frame 33".
export function editPlaceWords({ room, clip, frame }: EditPlace, breakdown: Breakdown | null): string {
  if (room !== 'bench') return `in ${roomOf[room]}`
  const found = breakdown?.clips.find(({ id }) => id === clip)
  return ['on the Bench', ...(found ? [found.name ?? found.id] : []), ...(found && frame !== null ? [`frame ${frame}`] : [])].join(', ')
}
