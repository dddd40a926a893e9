import { useRef, useState, type KeyboardEvent, type PointerEvent } from 'react'
import type { Trim } from '../../app/script/pauses'
import { useSent } from '../sheets/use-chosen'

interface Props {
  readonly heard: Trim
  /// Length of the take, and the wave's width in its own units.
  readonly seconds: number
  readonly width: number
  /// The end that is moved; resolves once it is answered. `byKey`: one of several presses of one change.
  readonly onTrim: (ends: Partial<Trim>, byKey: boolean) => Promise<unknown>
}

/// At least so much of a take is heard, seconds.
const LEAST = 0.1

/// The ends of what is heard of a take: dragged, or moved by arrow keys (10 ms; with Page Up and Page Down 100 ms).
export function TrimHandles({ heard, seconds, width, onTrim }: Props) {
  const [dragged, setDragged] = useState<Trim | null>(null)
  // What a hand drags comes quicker than it is shown.
  const drawn = useRef<Trim | null>(null)
  const show = (next: Trim | null): void => setDragged((drawn.current = next))
  // Drags and keys come faster than their answers: each goes on from the one before it.
  const [asked, send] = useSent(heard)
  const shown = dragged ?? asked
  const x = (at: number): number => (at / Math.max(seconds, LEAST)) * width
  const moved = (end: 'from' | 'to', at: number, from: Trim): Trim =>
    end === 'from'
      ? { ...from, from: Math.max(0, Math.min(at, from.to - LEAST)) }
      : { ...from, to: Math.min(seconds, Math.max(at, from.from + LEAST)) }
  const drag =
    (end: 'from' | 'to') =>
    (event: PointerEvent<SVGGElement>): void => {
      const box = event.currentTarget.ownerSVGElement?.getBoundingClientRect()
      if (box && drawn.current) show(moved(end, ((event.clientX - box.left) / box.width) * seconds, drawn.current))
    }
  const ask = (end: 'from' | 'to', next: Trim, byKey: boolean): void => send(next, onTrim({ [end]: next[end] }, byKey))
  const onKey =
    (end: 'from' | 'to') =>
    (event: KeyboardEvent): void => {
      if (event.key === 'Escape') return show(null)
      const step = { ArrowLeft: -0.01, ArrowRight: 0.01, PageDown: -0.1, PageUp: 0.1 }[event.key]
      if (step === undefined) return
      event.preventDefault()
      event.stopPropagation()
      ask(end, moved(end, asked[end] + step, asked), true)
    }
  const handle = (end: 'from' | 'to', label: string) => (
    <g
      className="trim-handle"
      role="slider"
      tabIndex={0}
      aria-label={label}
      aria-valuemin={0}
      aria-valuemax={seconds}
      aria-valuenow={shown[end]}
      aria-valuetext={`${shown[end].toFixed(2)} s`}
      onKeyDown={onKey(end)}
      onPointerDown={(event) => {
        event.stopPropagation()
        event.currentTarget.setPointerCapture(event.pointerId)
        show(asked)
      }}
      onPointerMove={drag(end)}
      onPointerUp={() => {
        const { current } = drawn
        show(null)
        if (current && current[end] !== asked[end]) ask(end, current, false)
      }}
      onPointerCancel={() => show(null)}
    >
      <rect className="trim-reach" x={x(shown[end]) - 8} y={28} width={16} height={104} />
      <path d={`M${x(shown[end])} 30V130`} />
      <path d={end === 'from' ? `M${x(shown.from)} 30h7M${x(shown.from)} 130h7` : `M${x(shown.to)} 30h-7M${x(shown.to)} 130h-7`} />
    </g>
  )
  return (
    <>
      {shown.from > 0 && <rect className="trimmed" x={0} y={0} width={x(shown.from)} height={176} />}
      {shown.to < seconds && <rect className="trimmed" x={x(shown.to)} y={0} width={width - x(shown.to)} height={176} />}
      {handle('from', 'Start of what is heard')}
      {handle('to', 'End of what is heard')}
    </>
  )
}
