import { useEffect, useRef, useState } from 'react'
import type { Take } from '../../app/contract/take-calls'
import { Recorder, type Meter } from './recorder'

export interface Recording {
  readonly state: 'idle' | 'counting' | 'recording' | 'ending'
  /// Seconds left of the count-in; 0 while the sentence before is heard instead.
  readonly count: number
  readonly meter: Meter | null
  readonly problem: string | null
  toggle(): void
  /// Samples recorded at `ms` of the window's clock; null while none are.
  samples(ms: number): number | null
}

/// Counted in before the take begins, seconds.
const COUNT_IN = 2

/// One recording at a time of the paragraph in hand. `lead`: what is heard instead of a count-in, before the take begins. `onTake` is told of every take that was made, broken off or not.
export function useRecording(
  paragraph: string | null,
  microphone: string | null,
  onTake: (take: Take) => void,
  lead: ((signal: AbortSignal) => Promise<void>) | null = null,
): Recording {
  const [state, setState] = useState<Recording['state']>('idle')
  const [count, setCount] = useState(0)
  const [meter, setMeter] = useState<Meter | null>(null)
  const [problem, setProblem] = useState<string | null>(null)
  const recorder = useRef<Recorder | null>(null)
  /// The one that records, or ends.
  const heard = useRef<Recorder | null>(null)
  const told = useRef(onTake)
  told.current = onTake
  const asked = useRef(microphone)
  asked.current = microphone
  const turn = useRef(0)
  const leading = useRef<AbortController | null>(null)

  const end = async (): Promise<void> => {
    turn.current++
    leading.current?.abort()
    const { current } = recorder
    recorder.current = null
    if (!current) return setState('idle')
    setState('ending')
    const stopped = await current.stop()
    heard.current = null
    setProblem(stopped.problem)
    setState('idle')
    if (stopped.take) told.current(stopped.take)
  }
  const begin = async (): Promise<void> => {
    if (paragraph === null) return
    const mine = ++turn.current
    setProblem(null)
    setState('counting')
    setCount(0)
    for (let left = lead ? 0 : COUNT_IN; left > 0; left--) {
      setCount(left)
      await new Promise((done) => setTimeout(done, 1000))
      if (mine !== turn.current) return
    }
    const begun = await Recorder.begin(paragraph, asked.current, setMeter, () => void end(), lead !== null)
    if (typeof begun === 'string') {
      setProblem(begun)
      return setState('idle')
    }
    if (mine !== turn.current) return void begun.stop()
    if (lead) {
      leading.current = new AbortController()
      await lead(leading.current.signal)
      if (mine !== turn.current) return void begun.stop()
      begun.release()
    }
    recorder.current = begun
    heard.current = begun
    setState('recording')
  }
  useEffect(
    () => () => {
      turn.current++
      leading.current?.abort()
      void recorder.current?.stop()
    },
    [],
  )
  return {
    state,
    count,
    meter,
    problem,
    toggle: () => void (state === 'idle' ? begin() : end()),
    samples: (ms) => heard.current?.samples(ms) ?? null,
  }
}
