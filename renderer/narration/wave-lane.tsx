import { useEffect, useState, useSyncExternalStore, type PointerEvent } from 'react'
import { CONFIRM_ABOVE } from '../../app/align/take-words'
import type { CueTime, Paragraph } from '../../app/project/picture'
import type { Trim } from '../../app/script/pauses'
import { waveOf } from '../script/wave'
import type { TakePlayer } from './take-player'
import { TrimHandles } from './trim-handles'

interface Props {
  readonly paragraph: Paragraph
  readonly take: string
  readonly seconds: number
  readonly cueTimes: readonly CueTime[]
  readonly player: TakePlayer
  /// What is heard of the take.
  readonly heard: Trim
  readonly readOnly: boolean
  readonly onPress: (seconds: number) => void
  readonly onTrim: (ends: Partial<Trim>, byKey: boolean) => Promise<unknown>
}

const WIDTH = 1200
const HEIGHT = 176

/// The chosen take's wave with its words above and its cues below; what was trimmed off stands dark. A press puts the chosen
/// cue's word there, or the playhead.
export function WaveLane({ paragraph, take, seconds, cueTimes, player, heard, readOnly, onPress, onTrim }: Props) {
  const [wave, setWave] = useState<Float32Array | null>(null)
  useEffect(() => {
    let here = true
    void waveOf(take).then((read) => here && setWave(read))
    return () => {
      here = false
    }
  }, [take])
  const x = (at: number): number => (at / Math.max(seconds, 0.1)) * WIDTH
  const { words = [], onsets = [] } = paragraph.narration ?? {}
  const spokenCue = new Map(
    paragraph.text.flatMap((piece) => (typeof piece === 'string' || !('cue' in piece) ? [] : [[piece.cue, piece.word] as const])),
  )
  const press = (event: PointerEvent<SVGSVGElement>): void => {
    const box = event.currentTarget.getBoundingClientRect()
    onPress(((event.clientX - box.left) / box.width) * seconds)
  }
  const loudest = wave ? Math.max(0.02, ...wave) : 1
  return (
    <svg
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      preserveAspectRatio="none"
      role="group"
      aria-label="The take’s wave, its words and its cues"
      onPointerDown={press}
    >
      {wave && (
        <path
          className="wave-line"
          d={Array.from({ length: WIDTH / 4 }, (_, i) => {
            const part = wave.subarray(
              Math.floor((i * wave.length * 4) / WIDTH),
              Math.max(Math.floor((i * wave.length * 4) / WIDTH) + 1, Math.floor(((i + 1) * wave.length * 4) / WIDTH)),
            )
            const half = 1 + 44 * Math.sqrt(Math.max(0, ...part) / loudest)
            return `M${i * 4 + 2} ${82 - half}V${82 + half}`
          }).join('')}
        />
      )}
      {onsets.map((onset, i) => (
        <g key={i}>
          <path className="onset" d={`M${x(onset)} 24V130`} />
          <text x={x(onset) + 2} y={i % 2 === 0 ? 12 : 24}>
            {words[i]}
          </text>
        </g>
      ))}
      {cueTimes.map((time) => (
        <g key={time.event}>
          <path className={time.u > CONFIRM_ABOVE ? 'cue-line unsure' : 'cue-line'} d={`M${x(time.seconds)} 130V150`} />
          <text className="cue-word" x={x(time.seconds) + 2} y={166}>
            {spokenCue.get(time.event)} {time.u > CONFIRM_ABOVE ? `· sure? ± ${Math.round(2000 * time.u)} ms` : ''}
          </text>
        </g>
      ))}
      <Playhead player={player} x={x} />
      {!readOnly && <TrimHandles heard={heard} seconds={seconds} width={WIDTH} onTrim={onTrim} />}
    </svg>
  )
}

function Playhead({ player, x }: { readonly player: TakePlayer; readonly x: (seconds: number) => number }) {
  const { at } = useSyncExternalStore(player.subscribe, player.state)
  return <path className="playhead" d={`M${x(at)} 20V150`} />
}
