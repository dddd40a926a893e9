import { applyAffine } from '../../app/programme/affine'
import type { Point } from '../../app/project/fields'
import type { BenchScene } from './bench-painting'
import type { ShownPoint } from './skeleton'
import { SMEAR, smearLength } from './smear'
import { pictureAtStage } from './stage-view'
import type { BenchNow } from './use-open-clip'
import { useGestures } from './use-stage'

/// How near to a point a press takes it, stage pixels.
const GRAB = 14

/// Presses and drags on the stage: they place points, draw how long one is blurred, move points, and move the picture.
export function useStagePresses(now: BenchNow, scene: BenchScene) {
  const { ref, stage, view, setView, film, mirrored, placing, held, smear, beside } = now
  // The other clip's half of the stage is not this clip's to press.
  const isOwn = ([x]: Point): boolean => !beside.lock || x < stage.width / 2
  const toPicture = (at: Point): Point => pictureAtStage(view, at, film, mirrored)
  return useGestures({
    press(at, event) {
      ref.current?.focus()
      if (!isOwn(at)) return null
      if (placing.active && !event.shiftKey) {
        if (placing.drawsBlur()) {
          smear.begin(at, scene, placing.aim)
          return SMEAR
        }
        placing.place(toPicture(at))
        return null
      }
      held.letGo()
      const point = pointAt(now, at)
      if (!point) return 'pan'
      held.hold(point.name)
      // What is only suggested is taken in hand, to be accepted; it moves once it is one's own.
      return point.confidence === undefined ? point.name : null
    },
    hover: (at) => isOwn(at) && placing.point(toPicture(at)),
    drag: (what, moved) => (what === SMEAR ? smear.draw(moved) : held.drag(what, moved)),
    drop(what, moved) {
      if (what !== SMEAR) return held.drop(what, moved)
      // A drag states the blur's length; a press places the point, as before it was called blurred.
      const ended = smear.end(moved)
      if (ended && 'drawn' in ended) placing.blur(smearLength(ended.drawn))
      else if (ended) placing.place(toPicture(ended.pressed))
    },
    setView,
  })
}

/// The nearest point under a press; null where there is none, or none may be taken.
function pointAt({ onStage, toStage, readOnly, isWhole }: BenchNow, at: Point): ShownPoint | null {
  if (readOnly || !isWhole()) return null
  const near = onStage
    .map((point) => ({ point, far: distance(applyAffine(toStage, point.at), at) }))
    .filter(({ far }) => far < GRAB)
    .sort((a, b) => a.far - b.far)
  return near[0]?.point ?? null
}

const distance = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1])
