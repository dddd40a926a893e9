import type { Programme } from '../../app/programme/programme'
import { secondsOf } from '../../app/time/ticks'
import { toNumber } from '../../app/time/rational'
import { clock, shotName } from './shot-words'

interface Props {
  readonly programme: Programme
  readonly paragraph: string
  readonly top: number
  readonly height: number
  readonly frame: number | null
}

/// A paragraph's stretch of time, running down beside its row: shots left, words right, to one scale.
export function Spine({ programme, paragraph, top, height, frame }: Props) {
  const laid = programme.paragraphs.find((p) => p.id === paragraph)
  if (!laid || laid.to <= laid.from) return null
  const inner = height - 16
  const y = (at: number): number => (inner * (at - laid.from)) / (laid.to - laid.from)
  const seconds = toNumber(secondsOf(laid.words.to)) - toNumber(secondsOf(laid.words.from))
  const words = Math.min(inner, (inner * seconds * toNumber(programme.rate)) / (laid.to - laid.from))
  return (
    <div className="stretch" style={{ top: top + 8, height: inner }}>
      <span className="stretch-time">{clock(laid.from, programme.rate)}</span>
      {programme.shots.filter((shot) => shot.paragraph === paragraph).map((shot) => {
        const size = y(shot.start + shot.frames) - y(shot.start) - 2
        return (
          <div key={shot.start} className={`bar bar-${shot.kind}`} style={{ top: y(shot.start), height: size }}>
            {size > 56 && <span>{shot.badges.includes('frozen') ? 'frozen' : shotName(shot)}</span>}
          </div>
        )
      })}
      <div className={laid.words.estimated ? 'spoken estimated' : 'spoken'} style={{ height: words }} />
      {frame !== null && frame >= laid.from && frame < laid.to && <div className="now" style={{ top: y(frame) }} />}
    </div>
  )
}
