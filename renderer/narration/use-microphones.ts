import { useEffect, useState } from 'react'

export interface Microphone {
  readonly id: string
  readonly label: string
}

export interface Microphones {
  readonly known: readonly Microphone[]
  /// The one to record from; null: the system's own choice, also where the remembered one is not plugged in.
  readonly chosen: string | null
  choose(id: string | null): void
}

const REMEMBERED = 'microphone'

/// Storage may be closed to the page; the choice then lasts as long as the window.
const remembered = (): string | null => {
  try {
    return localStorage.getItem(REMEMBERED)
  } catch {
    return null
  }
}
const remember = (id: string | null): void => {
  try {
    if (id === null) localStorage.removeItem(REMEMBERED)
    else localStorage.setItem(REMEMBERED, id)
  } catch {
    return
  }
}

/// The inputs that are plugged in, and the one chosen. Browsers name none before the microphone was allowed once:
/// `asked` is anything that changes when it may have been.
export function useMicrophones(asked: unknown): Microphones {
  const [known, setKnown] = useState<readonly Microphone[]>([])
  const [wanted, setWanted] = useState(remembered)
  useEffect(() => {
    const { mediaDevices } = navigator as { mediaDevices?: MediaDevices }
    if (!mediaDevices) return
    let gone = false
    const read = async (): Promise<void> => {
      const devices = await mediaDevices.enumerateDevices().catch(() => [])
      if (!gone)
        setKnown(
          devices.flatMap(({ kind, deviceId, label }) =>
            kind === 'audioinput' && deviceId !== '' && deviceId !== 'default' && deviceId !== 'communications'
              ? [{ id: deviceId, label }]
              : [],
          ),
        )
    }
    const again = (): void => void read()
    again()
    mediaDevices.addEventListener('devicechange', again)
    return () => {
      gone = true
      mediaDevices.removeEventListener('devicechange', again)
    }
  }, [asked])
  const choose = (id: string | null): void => {
    remember(id)
    setWanted(id)
  }
  return { known, chosen: known.some(({ id }) => id === wanted) ? wanted : null, choose }
}
