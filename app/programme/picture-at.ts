import { compose, mirrorOf, rectangleOnto, type Affine } from './affine'
import { betweenRectangles, moveProgress } from './framing'
import type { LaidShot, Panel, Picture, Programme } from './programme'

/// The picture of output frame `n`: the one answer that the window's player and the render draw
/// from. Throws RangeError outside the programme.
export function pictureAt(programme: Programme, n: number): Picture {
  const shot = shotAt(programme, n)
  return pictureOfShot(shot, n - shot.start)
}

/// The laid shot on screen at output frame `n`.
function shotAt(programme: Programme, n: number): LaidShot {
  let low = 0
  let high = programme.shots.length - 1
  while (low <= high) {
    const middle = (low + high) >>> 1
    const shot = programme.shots[middle] as LaidShot
    if (n < shot.start) high = middle - 1
    else if (n >= shot.start + shot.frames) low = middle + 1
    else return shot
  }
  throw new RangeError(`frame ${n} is outside a programme of ${programme.frames} frames`)
}

/// The picture at frame `at` of one shot.
export function pictureOfShot(shot: LaidShot, at: number): Picture {
  const first = shot.panels[0]
  return {
    shot,
    at,
    panels: shot.panels.map((panel) => {
      const base = panel.over && first ? first : panel
      const shown = betweenRectangles(base.shown[0], base.shown[1], moveProgress(at, shot.frames))
      return {
        footage: panel.footage,
        frame: panel.frames[at] as number,
        place: base.place,
        shown,
        mirrored: panel.mirrored,
        opacity: panel.opacity,
        toCanvas: toCanvas(panel, base, shown),
      }
    }),
  }
}

/// Source pixels of a panel to canvas pixels. `shown` is measured on the unmirrored picture of `base`.
function toCanvas(panel: Panel, base: Panel, shown: Picture['panels'][number]['shown']): Affine {
  const asShown = base.mirrored ? ([base.source.width - shown[0] - shown[2], shown[1], shown[2], shown[3]] as const) : shown
  const onto = rectangleOnto(asShown, base.place)
  const over = panel.over ? compose(onto, panel.over) : onto
  return panel.mirrored ? compose(over, mirrorOf(panel.source.width)) : over
}
