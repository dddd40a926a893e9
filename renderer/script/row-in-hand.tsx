import type { KeyboardEvent } from 'react'
import type { DrawContext } from '../../app/marks/draw-context'
import type { Programme } from '../../app/programme/programme'
import { ProgrammePicture } from '../player/programme-picture'
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
  const shots = programme.shots.filter((shot) => shot.paragraph === paragraph)
  const range = programme.paragraphs.find((p) => p.id === paragraph)
  if (!range || range.to <= range.from) return <p className="quiet">no picture of its own</p>
  const at = Math.max(range.from, Math.min(range.to - 1, frame))
  const shot = shots.find((s) => at >= s.start && at < s.start + s.frames)
  const step = (by: number): void => onFrame(Math.max(range.from, Math.min(range.to - 1, at + by)))
  const onKey = (event: KeyboardEvent): void => {
    const by = { ArrowLeft: -1, ArrowRight: 1, PageUp: -10, PageDown: 10 }[event.key]
    if (by === undefined) return
    event.preventDefault()
    step(by)
  }
  const footage = shot?.panels[0]
  return (
    <div className="hand-pictures" onKeyDown={onKey}>
      <ProgrammePicture programme={programme} context={context} frame={at} />
      <div className="steps">
        <button type="button" onClick={() => step(-1)} title="one frame back: left arrow; ten: page up" aria-label="One frame back">◂</button>
        <button type="button" onClick={() => step(1)} title="one frame on: right arrow; ten: page down" aria-label="One frame on">▸</button>
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
