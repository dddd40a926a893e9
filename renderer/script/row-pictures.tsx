import { stillAddress } from '../../app/contract/addresses'
import type { LaidShot, Programme } from '../../app/programme/programme'
import type { Breakdown } from '../../app/project/breakdown'
import { lengthText, shotName } from './shot-words'

/// A row's pictures at rest: its first shot's exact first frame, and what its shots are.
export function RowPictures({ programme, breakdown, paragraph }: { readonly programme: Programme; readonly breakdown: Breakdown; readonly paragraph: string }) {
  const shots = programme.shots.filter((shot) => shot.paragraph === paragraph)
  const first = shots[0]
  if (!first) return <p className="quiet">no picture of its own</p>
  const seconds = lengthText(shots.reduce((sum, shot) => sum + shot.frames, 0), programme.rate)
  return (
    <>
      <div className="shot-words">
        <strong>{shotName(first)}</strong>
        <span>{clipNames(first, breakdown)}</span>
        {shots.length > 1 && <span>and {shots.length - 1} more</span>}
        <span>{seconds}</span>
      </div>
      <ShotStill shot={first} width={420} />
    </>
  )
}

/// The frames that a shot begins with, panels as they lie.
export function ShotStill({ shot, width }: { readonly shot: LaidShot; readonly width: number }) {
  if (shot.card) return <div className="still card-still">{shot.card.lines?.[0] ?? { title: 'title', caution: 'Before you watch', end: 'end card', text: 'card' }[shot.card.card]}</div>
  return (
    <div className={shot.panels.length > 1 ? 'still still-pair' : 'still'}>
      {shot.panels.slice(0, 2).map((panel, i) => (
        <img key={i} src={stillAddress(panel.footage, panel.frames[0] ?? 0, width)} className={panel.mirrored ? 'mirrored' : undefined} alt="" loading="lazy" />
      ))}
    </div>
  )
}

const clipNames = (shot: LaidShot, breakdown: Breakdown): string =>
  shot.panels.map((panel) => { const clip = breakdown.clips.find((c) => c.id === panel.clip); return clip?.name ?? clip?.bout ?? panel.clip }).join(' and ')
