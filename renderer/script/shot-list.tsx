import { useEffect, useRef, type DragEvent, type KeyboardEvent } from 'react'
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
  /// To the paragraph before (−1) or after (1); false where there is none.
  readonly onMoveTo: (index: number, by: -1 | 1) => boolean
  readonly onDelete: (index: number) => void
}

export const SHOT_TYPE = 'application/x-claimframe-shot'

/// A paragraph's shots as cells, in the order in which they run. Dragged, or moved with Alt and an
/// arrow: left and right among them, up and down to the paragraph before or after. The focus stays where a key left it.
export function ShotList({ programme, paragraph, shots, shown, readOnly, onPick, onMove, onMoveTo, onDelete }: Props) {
  const list = useRef<HTMLUListElement>(null)
  // Cells come anew with the programme that a key has changed.
  const wanted = useRef<number | null>(null)
  useEffect(() => {
    if (wanted.current === null) return
    const cells = list.current?.querySelectorAll<HTMLElement>('.shot')
    cells?.[Math.min(wanted.current, cells.length - 1)]?.focus()
    wanted.current = null
  }, [programme])
  const onKey = (event: KeyboardEvent, shot: LaidShot): void => {
    if (shot.index < 0 || readOnly) return
    if (event.altKey && (event.key === 'ArrowLeft' || event.key === 'ArrowRight')) {
      event.preventDefault()
      event.stopPropagation()
      const to = shot.index + (event.key === 'ArrowLeft' ? -1 : 1)
      if (to < 0 || to >= shots.filter(({ index }) => index >= 0).length) return
      wanted.current = to
      onMove(shot.index, to)
    } else if (event.altKey && (event.key === 'ArrowUp' || event.key === 'ArrowDown')) {
      event.preventDefault()
      event.stopPropagation()
      if (onMoveTo(shot.index, event.key === 'ArrowUp' ? -1 : 1)) wanted.current = shot.index
    } else if (event.key === 'Delete' || event.key === 'Backspace') {
      event.preventDefault()
      wanted.current = shot.index
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
    <ul ref={list} className="shots plain" aria-label="Shots">
      {shots.map((shot) => (
        <li
          key={shot.start}
          draggable={shot.index >= 0 && !readOnly}
          onDragStart={(event) => {
            event.dataTransfer.setData(SHOT_TYPE, JSON.stringify({ paragraph, index: shot.index }))
            event.dataTransfer.effectAllowed = 'move'
          }}
          onDragOver={(event) => event.dataTransfer.types.includes(SHOT_TYPE) && event.preventDefault()}
          onDrop={(event) => onDrop(event, shot.index)}
        >
          <button
            type="button"
            className="shot"
            aria-pressed={shot === shown}
            onClick={() => onPick(shot)}
            onKeyDown={(event) => onKey(event, shot)}
            title={
              shot.index < 0
                ? 'held because the words last longer'
                : 'move: drag, or Alt and an arrow (up, down: to the paragraph before or after); delete: Delete'
            }
          >
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
