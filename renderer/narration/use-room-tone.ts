import { useEffect, useRef, useState } from 'react'
import type { Take } from '../../app/contract/take-calls'
import { withMinus } from '../../app/measure/minus'
import { Recorder, type Meter } from './recorder'

export interface RoomTone {
  readonly state: 'idle' | 'starting' | 'recording' | 'ending'
  readonly meter: Meter | null
  readonly problem: string | null
  toggle(): void
}

/// Ends by itself after so long, seconds: thirty are common practice, no source. Ended by hand before `LEAST` it is too short to fill gaps with.
const MOST = 30
const LEAST = 3
/// A peak above this while the room was recorded was no quiet, dB below full scale (a judgement: 15 dB over a floor of −60).
const HEARD = -45

/// Records the quiet of the room, which fills the film's gaps. `onTone` is told of it; `remark`: something was heard in it.
export function useRoomTone(microphone: string | null, onTone: (take: Take, remark: string | null) => void): RoomTone {
  const [state, setState] = useState<RoomTone['state']>('idle')
  const [meter, setMeter] = useState<Meter | null>(null)
  const [problem, setProblem] = useState<string | null>(null)
  const recorder = useRef<Recorder | null>(null)
  const heard = useRef<Meter | null>(null)
  const told = useRef(onTone)
  told.current = onTone
  const here = useRef(true)

  const end = async (): Promise<void> => {
    const { current } = recorder
    recorder.current = null
    if (!current) return
    setState('ending')
    const stopped = await current.stop()
    setState('idle')
    const { take } = stopped
    if (!take || take.samples < LEAST * take.sampleRate)
      return setProblem(stopped.problem ?? `That was too short to fill gaps with: keep still for ${LEAST} seconds at least.`)
    setProblem(stopped.problem)
    const most = heard.current?.most ?? -100
    told.current(
      take,
      most > HEARD ? `something was heard in it (peak ${withMinus(most.toFixed(0))} dB): record it again if that was no fan or hum` : null,
    )
  }
  const begin = async (): Promise<void> => {
    setProblem(null)
    setState('starting')
    const begun = await Recorder.begin(
      null,
      microphone,
      (next) => {
        heard.current = next
        setMeter(next)
        if (next.seconds >= MOST) void end()
      },
      () => void end(),
    )
    if (typeof begun === 'string') {
      setProblem(begun)
      return setState('idle')
    }
    if (!here.current) return void begun.stop()
    recorder.current = begun
    setState('recording')
  }
  useEffect(() => {
    here.current = true
    return () => {
      here.current = false
      void recorder.current?.stop()
    }
  }, [])
  return { state, meter, problem, toggle: () => void (state === 'idle' ? begin() : state === 'recording' ? end() : undefined) }
}
