import { useEffect, useSyncExternalStore } from 'react'
import type { CueTime, Paragraph } from '../../app/project/picture'
import type { Trim } from '../../app/script/pauses'
import type { TakePlayer } from './take-player'
import { WaveLane } from './wave-lane'

interface Props {
  readonly paragraph: Paragraph
  readonly take: string
  readonly seconds: number
  readonly cueTimes: readonly CueTime[]
  /// A cue whose word a press on the wave places.
  readonly chosen: string | null
  readonly player: TakePlayer
  readonly readOnly: boolean
  /// Whether keys are listened to.
  readonly keys: boolean
  readonly onPlace: (seconds: number) => void
  /// The key that stands for a cue's word was pressed while the take plays, or stands still there.
  readonly onTap: (seconds: number, playing: boolean) => void
  /// An end that is moved; null: all of the take is heard. Resolves once it is answered.
  readonly onTrim: (ends: Partial<Trim> | null, byKey: boolean) => Promise<unknown>
}

/// The take that is in the film: heard, trimmed at its ends, its cues placed.
export function TakeLane({ paragraph, take, seconds, cueTimes, chosen, player, readOnly, keys, onPlace, onTap, onTrim }: Props) {
  const { trim } = paragraph.narration ?? {}
  const heard: Trim = { from: Math.min(trim?.from ?? 0, seconds), to: Math.min(trim?.to ?? seconds, seconds) }
  const playing = useSyncExternalStore(player.subscribe, () => player.state().playing)
  const here = (end: 'from' | 'to'): void => void onTrim({ [end]: player.state().at }, false)
  useEffect(() => {
    if (!keys) return
    const onKey = (event: KeyboardEvent): void => {
      const { target } = event
      if (event.ctrlKey || event.metaKey || event.altKey || target instanceof HTMLInputElement || target instanceof HTMLSelectElement)
        return
      const key = event.key.toLowerCase()
      if (key === ' ' && !(target instanceof HTMLButtonElement)) player.toggle(heard.from, heard.to)
      else if (key === 's' && !readOnly) here('from')
      else if (key === 'e' && !readOnly) here('to')
      else if (key === 'c' && !readOnly && !event.repeat) onTap(player.state().at, player.state().playing)
      else if (key === 'arrowleft' || key === 'arrowright')
        player.place(Math.max(0, Math.min(seconds, player.state().at + (key === 'arrowleft' ? -0.05 : 0.05))))
      else return
      event.preventDefault()
    }
    window.addEventListener('keydown', onKey)
    return () => window.removeEventListener('keydown', onKey)
  })
  return (
    <>
      <div className="lane-steps">
        <button type="button" title="Space" onClick={() => player.toggle(heard.from, heard.to)}>
          {playing ? 'Stop hearing' : 'Hear the take'}
        </button>
        <button type="button" title="S" disabled={readOnly} onClick={() => here('from')}>
          Starts here
        </button>
        <button type="button" title="E" disabled={readOnly} onClick={() => here('to')}>
          Ends here
        </button>
        {trim && (
          <button type="button" disabled={readOnly} onClick={() => void onTrim(null, false)}>
            Hear all of it
          </button>
        )}
        <span className="quiet">
          {trim
            ? `${heard.from.toFixed(2)} to ${heard.to.toFixed(2)} of ${seconds.toFixed(1)} s are heard`
            : `all ${seconds.toFixed(1)} s are heard`}
        </span>
        <ClockOf player={player} />
      </div>
      <WaveLane
        paragraph={paragraph}
        take={take}
        seconds={seconds}
        cueTimes={cueTimes}
        player={player}
        heard={heard}
        readOnly={readOnly}
        onPress={(at) => (chosen !== null ? onPlace(at) : player.place(at))}
        onTrim={onTrim}
      />
    </>
  )
}

function ClockOf({ player }: { readonly player: TakePlayer }) {
  const { at } = useSyncExternalStore(player.subscribe, player.state)
  return <span className="figures lane-clock">{at.toFixed(2)} s</span>
}
