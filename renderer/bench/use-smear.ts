import { useRef, useState } from 'react'
import { applyAffine, invert, type Affine } from '../../app/programme/affine'
import type { Point } from '../../app/project/fields'
import type { BenchScene } from './bench-painting'
import { magnifierView, SIDE } from './magnifier'
import { STILL, type Smear } from './smear'

/// The smear of a blurred point while a drag draws it, on the picture or in the square that magnifies it.
export function useSmear() {
  const [smear, setSmear] = useState<Smear | null>(null)
  /// Where the drag began, stage pixels, and how pixels of the stage become the picture's there.
  const began = useRef<{ readonly at: Point; readonly toPicture: Affine | null } | null>(null)

  /// Null: the hand has moved too little to have drawn one.
  const drawn = (moved: Point): Smear | null => {
    const { at, toPicture } = began.current ?? { at: null, toPicture: null }
    return at && toPicture && Math.hypot(...moved) >= STILL
      ? { from: applyAffine(toPicture, at), to: applyAffine(toPicture, [at[0] + moved[0], at[1] + moved[1]]) }
      : null
  }
  return {
    smear,
    begin(at: Point, scene: BenchScene, aim: Point): void {
      const { toStage: magnified, corner } = magnifierView(scene, aim)
      const inSquare = at.every((value, axis) => value >= corner[axis]! && value <= corner[axis]! + SIDE)
      began.current = { at, toPicture: invert(inSquare ? magnified : scene.toStage) }
    },
    /// `moved`: stage pixels since it began.
    draw: (moved: Point): void => setSmear(drawn(moved)),
    /// Answers what was drawn, or, where nothing was, the stage point that was pressed; null: it was given up.
    end(moved: Point | null): { readonly drawn: Smear } | { readonly pressed: Point } | null {
      setSmear(null)
      const whole = moved && drawn(moved)
      if (whole) return { drawn: whole }
      return moved && began.current ? { pressed: began.current.at } : null
    },
  }
}
