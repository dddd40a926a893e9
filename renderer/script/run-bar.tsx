import { ChevronLeft, ChevronRight } from 'lucide-react'
import type { ReactNode } from 'react'
import type { Rational } from '../../app/time/rational'
import { clock } from './shot-words'

/// How a picture runs besides forwards at full speed: times full speed, and whether past the paragraph's end.
const WAYS: Readonly<Record<'half' | 'back' | 'on', readonly [speed: number, on: boolean]>> = {
  half: [0.5, false],
  back: [-1, false],
  on: [1, true],
}

interface Props {
  /// The paragraph's frames in the film.
  readonly range: { readonly from: number; readonly to: number }
  readonly at: number
  readonly rate: Rational
  readonly running: boolean
  readonly near: boolean
  readonly onStep: (by: number) => void
  /// At so many times full speed; `on`: past the paragraph's end. Ends a run that is under way.
  readonly onRun: (speed: number, on?: boolean) => void
  readonly onFrame: (frame: number) => void
  readonly onNear: (near: boolean) => void
  /// What frame of which footage is seen.
  readonly children: ReactNode
}

/// Steps and runs through the picture of the row in hand, and says where it is.
export function RunBar({ range, at, rate, running, near, onStep, onRun, onFrame, onNear, children }: Props) {
  return (
    <div className="steps">
      <button type="button" onClick={() => onStep(-1)} title="one frame back: left arrow; ten: page up" aria-label="One frame back">
        <ChevronLeft size={16} aria-hidden="true" />
      </button>
      <button type="button" onClick={() => onRun(1)} title="run, or pause: space">
        {running ? 'Pause' : 'Run'}
      </button>
      <button type="button" onClick={() => onStep(1)} title="one frame on: right arrow; ten: page down" aria-label="One frame on">
        <ChevronRight size={16} aria-hidden="true" />
      </button>
      <select
        aria-label="Run otherwise"
        value=""
        disabled={running}
        onChange={(event) => onRun(...WAYS[event.target.value as keyof typeof WAYS])}
        onKeyDown={(event) => event.stopPropagation()}
      >
        <option value="" disabled>
          otherwise
        </option>
        <option value="half">at half speed</option>
        <option value="back">backwards</option>
        <option value="on">on to the film’s end</option>
      </select>
      <input
        type="range"
        min={range.from}
        max={range.to - 1}
        value={at}
        onChange={(event) => onFrame(Number(event.target.value))}
        aria-label="Place in this paragraph"
      />
      <button type="button" aria-pressed={near} onClick={() => onNear(!near)} title="single frames in the time beside: N">
        Frames
      </button>
      <span className="figures">
        <strong>{clock(at, rate)}</strong> {children}
      </span>
    </div>
  )
}
