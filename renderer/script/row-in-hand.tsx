import { useState, type KeyboardEvent } from 'react'
import type { DrawContext } from '../../app/marks/draw-context'
import type { Programme } from '../../app/programme/programme'
import { PlayerSlot } from '../player/player-slot'
import { ShotStill } from './row-pictures'
import { clock, lengthText, shotName } from './shot-words'

interface Props {
  readonly laid: { readonly programme: Programme; readonly context: DrawContext }
  readonly paragraph: string
  readonly frame: number
  readonly onFrame: (frame: number) => void
}

/// The row in hand: its picture as it will be rendered, steppable, and its shots.
export function RowInHand({ laid: { programme, context }, paragraph, frame, onFrame }: Props) {
  const [playing, setPlaying] = useState(0)
  const shots = programme.shots.filter((shot) => shot.paragraph === paragraph)
  const range = programme.paragraphs.find((p) => p.id === paragraph)
  if (!range || range.to <= range.from) return <p className="quiet">no picture of its own</p>
  const at = Math.max(range.from, Math.min(range.to - 1, frame))
  const shot = shots.find((s) => at >= s.start && at < s.start + s.frames)
  const step = (by: number): void => onFrame(Math.max(range.from, Math.min(range.to - 1, at + by)))
  const run = (speed: number): void => {
    if (playing !== 0) return setPlaying(0)
    if (speed > 0 && at === range.to - 1) onFrame(range.from)
    setPlaying(speed)
  }
  const onKey = (event: KeyboardEvent): void => {
    if (event.key === ' ' && !(event.target instanceof HTMLButtonElement)) {
      event.preventDefault()
      return run(event.shiftKey ? 0.5 : 1)
    }
    const by = { ArrowLeft: -1, ArrowRight: 1, PageUp: -10, PageDown: 10 }[event.key]
    if (by === undefined) return
    event.preventDefault()
    step(by)
  }
  const footage = shot?.panels[0]
  return (
    <div className="hand-pictures" onKeyDown={onKey}>
      <PlayerSlot programme={programme} context={context} frame={at} playing={playing} from={range.from} to={range.to} onFrame={onFrame} onPlaying={setPlaying} />
      <div className="steps">
        <button type="button" onClick={() => step(-1)} title="one frame back: left arrow; ten: page up" aria-label="One frame back">◂</button>
        <button type="button" onClick={() => step(1)} title="one frame on: right arrow; ten: page down" aria-label="One frame on">▸</button>
        <button type="button" onClick={() => run(1)} title="run, or pause: space">{playing === 0 ? 'Run' : 'Pause'}</button>
        {playing === 0 && <button type="button" onClick={() => run(0.5)} title="run at half speed: shift and space">Half</button>}
        {playing === 0 && <button type="button" onClick={() => run(-1)}>Back</button>}
        <input type="range" min={range.from} max={range.to - 1} value={at} onChange={(event) => onFrame(Number(event.target.value))} aria-label="Place in this paragraph" />
        <span className="figures">
          {clock(at, programme.rate)} {footage ? `· ${footage.clip}, frame ${footage.frames[at - (shot?.start ?? 0)]}` : ''}
        </span>
      </div>
      <ul className="shots plain">
        {shots.map((s) => (
          <li key={s.start}>
            <button type="button" className="shot" aria-pressed={s === shot} onClick={() => onFrame(s.start)}>
              <ShotStill shot={s} width={180} />
              <span className="shot-words">
                <strong>{shotName(s)}</strong>
                <span>{lengthText(s.frames, programme.rate)}</span>
              </span>
            </button>
          </li>
        ))}
      </ul>
    </div>
  )
}
