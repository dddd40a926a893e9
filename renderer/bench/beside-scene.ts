import type { MeasureContext } from '../../app/measure/context'
import type { Breakdown } from '../../app/project/breakdown'
import type { Clip } from '../../app/project/film'
import type { FilmFrames } from '../player/film-frames'
import type { BenchScene } from './bench-painting'
import { shownPoints } from './clip-now'
import { viewAffine, wholeView } from './stage-view'
import { firstSubject } from './subject-in-hand'

/// The scene of the clip beside: whole, on the right half of the stage, with the points of whoever's were placed on it first.
export function besideScene(
  scene: BenchScene,
  clip: Clip,
  film: FilmFrames,
  frame: number,
  breakdown: Breakdown | null,
  measures: MeasureContext | null,
): BenchScene {
  const half = { width: scene.stage.width / 2, height: scene.stage.height }
  const whole = wholeView(film, half)
  const view = { ...whole, x: whole.x + half.width }
  const mirrored = clip.mirrored ?? false
  const subject = breakdown && firstSubject(breakdown, clip.id)
  return {
    ...scene,
    film,
    footage: clip.footage,
    frame,
    mirrored,
    view,
    toStage: viewAffine(view, film, mirrored),
    ties: [],
    aim: null,
    smear: null,
    measures: [],
    points: breakdown && subject ? shownPoints(breakdown, clip.id, subject, frame, null) : [],
    lead: subject && measures ? measures.lead(clip.id, subject, frame) : null,
  }
}
