import { useSyncExternalStore } from 'react'

/// Below this, words laid upon the picture would lie upon each other: they stand beside and beneath it instead.
const LITTLE = matchMedia('(max-width: 1000px), (max-height: 640px)')

/// Whether the window has little room, as with everything at twice its size.
export const useLittleRoom = (): boolean =>
  useSyncExternalStore(
    (tell) => {
      LITTLE.addEventListener('change', tell)
      return () => LITTLE.removeEventListener('change', tell)
    },
    () => LITTLE.matches,
  )
