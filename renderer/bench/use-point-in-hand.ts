import { useState } from 'react'
import type { Point } from '../../app/project/fields'
import type { ShownPoint } from './skeleton'
import { ontoPicture, type Size, type StageView } from './stage-view'

interface Moved {
  readonly point: string
  /// From where it is stored, picture pixels.
  readonly by: Point
  readonly frame: number
  readonly byKeys: boolean
}

interface Here {
  readonly frame: number
  readonly picture: Size
  readonly view: StageView
  readonly mirrored: boolean
  /// The frame's points, where they are stored.
  readonly stored: readonly ShownPoint[]
  /// Keeps a point that was moved, picture pixels.
  readonly keep: (point: string, by: Point) => void
}

/// The point that the hand holds, and how far a drag or the arrows have moved it, until it is let go and kept.
export function usePointInHand({ frame, picture, view, mirrored, stored, keep }: Here) {
  const [name, hold] = useState<string | null>(null)
  const [last, setMoved] = useState<Moved | null>(null)
  const moved = last?.frame === frame ? last : null
  const led = moved?.byKeys ? moved : null

  /// Where a point comes to lie that is moved so far, and how far it truly is moved: it does not leave the picture.
  const onto = (point: string, by: Point): { readonly at: Point; readonly by: Point } => {
    const from = stored.find((each) => each.name === point)?.at ?? [0, 0]
    const at = ontoPicture(sum(from, by), picture)
    return { at, by: [at[0] - from[0], at[1] - from[1]] }
  }
  /// The same for a drag, stage pixels.
  const dragged = (point: string, [dx, dy]: Point): Point => onto(point, [(mirrored ? -dx : dx) / view.scale, dy / view.scale]).by
  const keepMoved = (point: string, by: Point): void => {
    setMoved(null)
    if (by[0] !== 0 || by[1] !== 0) keep(point, by)
  }

  return {
    name,
    hold,
    /// The point that the arrows lead; null: they lead none.
    led: led?.point ?? null,
    /// Points as they are shown: the moved one where it has come to.
    shown: (points: readonly ShownPoint[]): ShownPoint[] =>
      points.map((point) => (moved?.point === point.name ? { ...point, at: sum(point.at, moved.by) } : point)),
    moved: moved?.point ?? null,
    /// The arrows lead a point from here on.
    lead: (point: string): void => setMoved({ point, by: [0, 0], frame, byKeys: true }),
    /// Leads it on, picture pixels. Answers where it is then; null: the arrows lead none.
    leadBy(more: Point): Point | null {
      if (!led) return null
      const { at, by } = onto(led.point, sum(led.by, more))
      setMoved({ ...led, by })
      return at
    },
    drag: (point: string, by: Point): void => setMoved({ point, by: dragged(point, by), frame, byKeys: false }),
    /// A drag is over, so many stage pixels from where it began; null: it was given up.
    drop: (point: string, by: Point | null): void => (by ? keepMoved(point, dragged(point, by)) : setMoved(null)),
    /// What the arrows lead stays where it is.
    letGo: (): void => (led ? keepMoved(led.point, led.by) : setMoved(null)),
    /// What the arrows lead goes back. Answers whether there was any.
    takeBack(): boolean {
      if (led) setMoved(null)
      return led !== null
    },
  }
}

const sum = (a: Point, b: Point): Point => [a[0] + b[0], a[1] + b[1]]
