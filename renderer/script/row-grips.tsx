import { GripVertical } from 'lucide-react'
import { useEffect, useState, type RefObject } from 'react'
import { usePart } from '../state/use-project'
import { moveRow } from './editor-commands'
import type { EditorRoom } from './editor-room'
import type { RowBox } from './row-boxes'

interface Props {
  readonly rows: readonly RowBox[]
  /// Those of them that get a grip; the one that is dragged keeps its own, wherever it is.
  readonly near: readonly RowBox[]
  readonly inHand: string | null
  readonly editor: EditorRoom
  readonly columns: RefObject<HTMLDivElement | null>
}

const ROW_TYPE = 'application/x-claimframe-row'

/// A grip at the right of each row: dragging it moves the paragraph, with its pictures, between two others.
export function RowGrips({ rows, near, inHand, editor, columns }: Props) {
  const readOnly = usePart('readOnly')
  const [dragged, setDragged] = useState<number | null>(null)
  const [target, setTarget] = useState<{ readonly index: number; readonly y: number } | null>(null)
  useEffect(() => {
    const area = columns.current
    if (!area || dragged === null) return
    const over = (event: DragEvent): void => {
      event.preventDefault()
      setTarget(targetAt(rows, event.clientY - area.getBoundingClientRect().top))
    }
    const drop = (event: DragEvent): void => {
      event.preventDefault()
      const to = targetAt(rows, event.clientY - area.getBoundingClientRect().top)
      if (to) editor.run(moveRow(dragged, to.index))
      setDragged(null)
      setTarget(null)
    }
    area.addEventListener('dragover', over)
    area.addEventListener('drop', drop, true)
    return () => {
      area.removeEventListener('dragover', over)
      area.removeEventListener('drop', drop, true)
    }
  }, [rows, dragged, columns, editor])
  if (readOnly) return null
  return (
    <>
      {rows
        .filter((row) => near.includes(row) || row.index === dragged)
        .map(({ key, index, top }) => (
          <div
            key={key}
            className={key === inHand ? 'grip grip-hand' : 'grip'}
            style={{ top: top + 16 }}
            draggable
            title="drag to move the paragraph; or Alt with Page Up and Page Down"
            aria-hidden="true"
            onDragStart={(event) => {
              event.dataTransfer.setData(ROW_TYPE, key)
              event.dataTransfer.effectAllowed = 'move'
              setDragged(index)
            }}
            onDragEnd={() => {
              setDragged(null)
              setTarget(null)
            }}
          >
            <GripVertical size={16} />
          </div>
        ))}
      {target && <div className="row-target" style={{ top: target.y }} />}
    </>
  )
}

/// Where a row dropped at `y` goes: before the row whose upper half it is in.
function targetAt(rows: readonly RowBox[], y: number): { index: number; y: number } | null {
  const before = rows.find(({ top, height }) => y < top + height / 2)
  if (before) return { index: before.first, y: before.top }
  const last = rows.at(-1)
  return last ? { index: last.index + 1, y: last.top + last.height } : null
}
