import { memo } from 'react'
import type { LaidFilm } from '../state/programme'
import { useProject, usePart } from '../state/use-project'
import type { RowBox } from './row-boxes'
import { RowPictures } from './row-pictures'
import { moveShotTo } from './shot-changes'
import { draggedShot, SHOT_TYPE } from './shot-list'

interface Props {
  readonly rows: readonly RowBox[]
  readonly inHand: string | null
  readonly laid: LaidFilm
  readonly onPick: (paragraph: string) => void
}

/// The pictures of every row but the one in hand, each beside its words. A shot dropped on a row goes there.
export const RowsAtRest = memo(function RowsAtRest({ rows, inHand, laid, onPick }: Props) {
  const project = useProject()
  const breakdown = usePart('breakdown')
  if (!breakdown) return null
  return rows.map(({ key, top, height }) =>
    key === inHand ? null : (
      <div
        key={key}
        className="row"
        style={{ top, height }}
        onDragOver={(event) => event.dataTransfer.types.includes(SHOT_TYPE) && event.preventDefault()}
        onDrop={(event) => {
          const dragged = draggedShot(event)
          if (!dragged) return
          event.preventDefault()
          void project.edit((state) => moveShotTo(state, dragged.paragraph, dragged.index, key, false))
        }}
      >
        <RowPictures laid={laid} breakdown={breakdown} paragraph={key} onPick={() => onPick(key)} />
      </div>
    ),
  )
})
