import { memo } from 'react'
import { stillAddress } from '../../app/contract/addresses'
import type { LaidShot } from '../../app/programme/programme'
import type { Breakdown } from '../../app/project/breakdown'
import type { LaidFilm } from '../state/programme'
import { outOfStep } from './cue-look'
import { clipName } from './clip-name'
import { lengthText, shotName } from './shot-words'

interface Props {
  readonly laid: LaidFilm
  readonly breakdown: Breakdown
  readonly paragraph: string
  readonly onPick: () => void
}

/// A row's pictures at rest: its first shot's exact first frame, and what its shots are. Pressing takes the row in hand.
export const RowPictures = memo(function RowPictures({ laid: { programme, threads }, breakdown, paragraph, onPick }: Props) {
  const shots = programme.shots.filter((shot) => shot.paragraph === paragraph)
  const first = shots[0]
  const off = outOfStep(breakdown, threads, paragraph).length
  const words = first ? shotName(first) : 'no picture of its own'
  return (
    <button type="button" className="row-pick" onClick={onPick} title="take this paragraph in hand">
      {first ? (
        <>
          <span className="shot-words">
            <strong>{words}</strong>
            {first.panels.length > 0 && <span>{listed(first.panels.map(({ clip }) => clipName(breakdown, clip)))}</span>}
            {shots.length > 1 && <span>and {shots.length === 2 ? '1 more shot' : `${shots.length - 1} more shots`}</span>}
            <span>
              {lengthText(
                shots.reduce((sum, shot) => sum + shot.frames, 0),
                programme.rate,
              )}
            </span>
            {off > 0 && <span>{off === 1 ? '1 word' : `${off} words`} out of step</span>}
          </span>
          <ShotStill shot={first} width={420} />
        </>
      ) : (
        <span className="no-picture quiet">no picture yet</span>
      )}
    </button>
  )
})

const cardWords = { title: 'title', caution: 'before you watch', end: 'end card', text: 'card', curve: 'curve' } as const

/// The frames that a shot begins with, panels as they lie.
export const ShotStill = memo(function ShotStill({ shot, width }: { readonly shot: LaidShot; readonly width: number }) {
  if (shot.card)
    return (
      <span className="still card-still">
        {shot.card.card === 'text' || shot.card.card === 'curve'
          ? (shot.card.lines?.[0] ?? cardWords[shot.card.card])
          : cardWords[shot.card.card]}
      </span>
    )
  return (
    <span className={stillClass(shot)}>
      {shot.panels.map((panel, i) => (
        <img
          key={i}
          src={stillAddress(panel.footage, panel.frames[0] ?? 0, width)}
          className={panel.mirrored ? 'mirrored' : undefined}
          alt=""
          loading="lazy"
          draggable={false}
        />
      ))}
    </span>
  )
})

/// "a, b and c".
const listed = (names: readonly string[]): string => [names.slice(0, -1).join(', '), names.at(-1)].filter((part) => part).join(' and ')

const stillClass = ({ panels, shot }: LaidShot): string =>
  panels.length < 2 ? 'still' : 'pair' in shot ? `still still-${shot.layout}` : 'still'
