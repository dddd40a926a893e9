import { useEffect, useState, type PointerEvent } from 'react'
import type { ProjectState } from '../../app/edit/project-state'
import type { LaidShot } from '../../app/programme/programme'
import type { Shot } from '../../app/project/picture'
import { useSent } from '../sheets/use-chosen'
import type { LaidFilm } from '../state/programme'
import type { EditChange } from '../state/project'
import { useProject, usePart } from '../state/use-project'
import { changeShot, moveShot, redone } from './shot-changes'
import { withEndMoved, type ShotEnd } from './shot-ends'
import { clipAt } from './clip-name'
import { shotName } from './shot-words'
import { BAR, scaleOf, Stretch, type Scale } from './spine'

interface Props {
  readonly laid: LaidFilm
  readonly paragraph: string
  readonly top: number
  readonly height: number
  readonly frame: number
  /// Single frames are shown about the one in hand, instead of the whole paragraph.
  readonly near: boolean
  readonly onGo: (frame: number) => void
}

interface Drag {
  readonly shot: LaidShot
  readonly part: ShotEnd | 'whole'
  readonly from: number
  readonly by: number
}

/// Height of one output frame where single frames are shown, px.
const NEAR = 14
/// A pointer that moves less than this has pressed, not dragged; px.
const STILL = 5

/// The stretch of the row in hand: its shots' ends can be dragged, and whole shots past each other. Escape takes a
/// drag back.
export function SpineInHand({ laid, paragraph, top, height, frame, near, onGo }: Props) {
  const project = useProject()
  const breakdown = usePart('breakdown')
  const readOnly = usePart('readOnly')
  const [drag, setDrag] = useState<Drag | null>(null)
  // What was let go of stays where it is until it is answered.
  const [sent, send] = useSent<Drag | null>(null)
  const moved = drag ?? sent
  const dragging = drag !== null
  useEffect(() => {
    if (!dragging) return
    const escape = (event: KeyboardEvent): void => {
      if (event.key !== 'Escape') return
      event.preventDefault()
      event.stopPropagation()
      setDrag(null)
    }
    window.addEventListener('keydown', escape, { capture: true })
    return () => window.removeEventListener('keydown', escape, { capture: true })
  }, [dragging])
  const range = laid.programme.paragraphs.find((p) => p.id === paragraph)
  const row = breakdown?.script.find((each) => 'id' in each && each.id === paragraph)
  if (!breakdown || !row || !('id' in row) || !range || range.to <= range.from) return null
  const { rate } = laid.programme
  const inner = height - 16
  const count = Math.floor(inner / NEAR)
  const start = Math.max(range.from, Math.min(frame - Math.floor(count / 2), range.to - count))
  const scale = near && range.to - range.from > count ? scaleOf(start, start + count, inner) : scaleOf(range.from, range.to, inner)
  const shots = laid.programme.shots.filter(
    (shot) => shot.paragraph === paragraph && shot.start < scale.to && shot.start + shot.frames > scale.from,
  )
  const perFrame = inner / (scale.to - scale.from)
  const ended = (event: PointerEvent): void => {
    if (!drag) return
    setDrag(null)
    const own = row.shots?.[drag.shot.index]
    if (Math.abs(event.clientY - drag.from) < STILL)
      return onGo(Math.round(scale.from + (event.clientY - event.currentTarget.getBoundingClientRect().top) / perFrame))
    if (!own) return
    // A drag may end before its last way is shown.
    const by = Math.round((event.clientY - drag.from) / perFrame)
    const edit = (change: (state: ProjectState) => EditChange | null): void => send({ ...drag, by }, project.edit(change))
    if (drag.part === 'whole') {
      const at = drag.shot.start + drag.shot.frames / 2 + by
      const to = laid.programme.shots.filter(
        (shot) => shot.paragraph === paragraph && shot.index >= 0 && shot.index !== drag.shot.index && shot.start + shot.frames / 2 < at,
      ).length
      if (to !== drag.shot.index) edit((state) => moveShot(state, paragraph, drag.shot.index, own, to))
      return
    }
    const next = withEndMoved(own, drag.shot, drag.part, by, rate, clipOf(own))
    if (next)
      edit((state) =>
        changeShot(
          state,
          paragraph,
          drag.part === 'end' ? 'End the shot elsewhere' : 'Begin the shot elsewhere',
          drag.shot.index,
          own,
          (now) => [redone(own, next, now)],
        ),
      )
  }
  const clipOf = (shot: Shot) => ('run' in shot ? clipAt(breakdown, shot.run) : undefined)
  const begin = (event: PointerEvent, shot: LaidShot, part: Drag['part']): void => {
    event.preventDefault()
    event.currentTarget.parentElement?.setPointerCapture(event.pointerId)
    event.stopPropagation()
    setDrag({ shot, part: shot.index < 0 || readOnly ? 'whole' : part, from: event.clientY, by: 0 })
  }
  return (
    <Stretch laid={laid} paragraph={range} top={top + 8} scale={scale}>
      <div
        className="bars"
        onPointerMove={(event) => drag && setDrag({ ...drag, by: Math.round((event.clientY - drag.from) / perFrame) })}
        onPointerUp={ended}
        onPointerCancel={() => setDrag(null)}
      >
        {shots.map((shot) => (
          <DraggedBar
            key={shot.start}
            shot={shot}
            scale={scale}
            drag={moved?.shot === shot ? moved : null}
            fixed={readOnly || shot.index < 0}
            onBegin={begin}
          />
        ))}
        {drag && Math.abs(drag.by * perFrame) >= STILL && drag.part !== 'whole' && (
          <span className="drag-words" style={{ top: Math.max(0, scale.y(edgeOf(drag)) - 22) }}>
            {dragWords(drag, row.shots?.[drag.shot.index], (by, part) => {
              const own = row.shots?.[drag.shot.index]
              return own ? withEndMoved(own, drag.shot, part, by, rate, clipOf(own)) : null
            })}
          </span>
        )}
      </div>
      {near && range.to - range.from > count && <Ticks scale={scale} />}
      {frame >= scale.from && frame < scale.to && <div className="now" style={{ top: scale.y(frame) }} />}
    </Stretch>
  )
}

const edgeOf = ({ shot, part, by }: Drag): number => (part === 'start' ? shot.start : shot.start + shot.frames) + by

/// What the drag would make of the shot, in its own terms.
function dragWords(drag: Drag, own: Shot | undefined, moved: (by: number, part: ShotEnd) => Shot | null): string {
  const next = drag.part === 'whole' ? null : moved(drag.by, drag.part)
  if (!own || !next) return 'not so far'
  if ('run' in next) return drag.part === 'end' ? `up to ${next.to}` : `from ${next.from}`
  return `${drag.by > 0 === (drag.part === 'end') ? '+' : '−'}${Math.abs(drag.by)} ${Math.abs(drag.by) === 1 ? 'frame' : 'frames'}`
}

interface BarProps {
  readonly shot: LaidShot
  readonly scale: Scale
  readonly drag: Drag | null
  readonly fixed: boolean
  readonly onBegin: (event: PointerEvent, shot: LaidShot, part: Drag['part']) => void
}

function DraggedBar({ shot, scale, drag, fixed, onBegin }: BarProps) {
  const name = shot.badges.includes('frozen') ? 'frozen' : shotName(shot)
  const shift = drag?.part === 'whole' ? drag.by : 0
  const from = shot.start + (drag?.part === 'start' ? drag.by : shift)
  const to = shot.start + shot.frames + (drag?.part === 'end' ? drag.by : shift)
  const top = Math.max(0, scale.y(from))
  const height = Math.max(2, Math.min(scale.height, scale.y(to)) - top - 2)
  return (
    <div
      className={`bar bar-${shot.kind}${drag ? ' bar-dragged' : ''}`}
      style={{ left: BAR.left, width: BAR.width, top, height }}
      title={fixed ? name : `${name}: drag an end, or the whole`}
      onPointerDown={(event) => onBegin(event, shot, 'whole')}
    >
      {height > 56 && <span>{name}</span>}
      {!fixed && (
        <>
          <i className="bar-end bar-start" onPointerDown={(event) => onBegin(event, shot, 'start')} />
          <i className="bar-end bar-stop" onPointerDown={(event) => onBegin(event, shot, 'end')} />
        </>
      )}
    </div>
  )
}

function Ticks({ scale }: { readonly scale: Scale }) {
  const ticks = Array.from({ length: scale.to - scale.from }, (_, i) => scale.from + i)
  return (
    <svg className="ticks" width={BAR.width} height={scale.height} style={{ left: BAR.left }}>
      <path d={ticks.map((at) => `M0 ${scale.y(at)}H${at % 5 === 0 ? 12 : 6}`).join('')} />
    </svg>
  )
}
