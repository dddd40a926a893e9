import type { DragEvent, KeyboardEvent } from 'react'
import type { LaidShot, Programme } from '../../app/programme/programme'
import { ShotStill } from './row-pictures'
import { lengthText, shotName } from './shot-words'

interface Props {
  readonly programme: Programme
  readonly paragraph: string
  readonly shots: readonly LaidShot[]
  readonly shown: LaidShot | undefined
  readonly readOnly: boolean
  readonly onPick: (shot: LaidShot) => void
  readonly onMove: (from: number, to: number) => void
  readonly onDelete: (index: number) => void
}

export const SHOT_TYPE = 'application/x-claimframe-shot'

/// A paragraph's shots as cells, in the order in which they run. Dragged, or moved with Alt and an arrow.
export function ShotList({ programme, paragraph, shots, shown, readOnly, onPick, onMove, onDelete }: Props) {
  const onKey = (event: KeyboardEvent, shot: LaidShot): void => {
    if (shot.index < 0 || readOnly) return
    if (event.altKey && (event.key === 'ArrowLeft' || event.key === 'ArrowRight')) {
      event.preventDefault()
      event.stopPropagation()
      onMove(shot.index, shot.index + (event.key === 'ArrowLeft' ? -1 : 1))
    } else if (event.key === 'Delete' || event.key === 'Backspace') {
      event.preventDefault()
      onDelete(shot.index)
    }
  }
  const onDrop = (event: DragEvent, at: number): void => {
    const dragged = draggedShot(event)
    if (dragged?.paragraph !== paragraph || at < 0) return
    event.preventDefault()
    event.stopPropagation()
    onMove(dragged.index, at)
  }
  return (
    <ul className="shots plain" aria-label="Shots">
      {shots.map((shot) => (
        <li
          key={shot.start}
          draggable={shot.index >= 0 && !readOnly}
          onDragStart={(event) => { event.dataTransfer.setData(SHOT_TYPE, JSON.stringify({ paragraph, index: shot.index })); event.dataTransfer.effectAllowed = 'move' }}
          onDragOver={(event) => event.dataTransfer.types.includes(SHOT_TYPE) && event.preventDefault()}
          onDrop={(event) => onDrop(event, shot.index)}
        >
          <button type="button" className="shot" aria-pressed={shot === shown} onClick={() => onPick(shot)} onKeyDown={(event) => onKey(event, shot)} title={shot.index < 0 ? 'held because the words last longer' : 'move: drag, or Alt and an arrow; delete: Delete'}>
            <ShotStill shot={shot} width={180} />
            <span className="shot-words">
              <strong>{shotName(shot)}</strong>
              <span>{lengthText(shot.frames, programme.rate)}</span>
            </span>
          </button>
        </li>
      ))}
    </ul>
  )
}

export function draggedShot(event: DragEvent): { readonly paragraph: string; readonly index: number } | null {
  const text = event.dataTransfer.getData(SHOT_TYPE)
  if (text === '') return null
  const { paragraph, index } = JSON.parse(text) as { paragraph?: unknown; index?: unknown }
  return typeof paragraph === 'string' && typeof index === 'number' ? { paragraph, index } : null
}
