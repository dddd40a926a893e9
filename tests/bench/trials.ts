import type { Comparison } from './comparison'
import { followPoints } from './trials/follow-points'
import { largeClip } from './trials/large-clip'
import { lookAtFrames } from './trials/look-at-frames'
import { openWindow } from './trials/open-window'
import { readDocument } from './trials/read-document'
import { recomputeReadings } from './trials/recompute-readings'
import { renderFilmTrial } from './trials/render-film'
import { stepInPlayer } from './trials/step-in-player'
import { typeAKey } from './trials/type-a-key'

/// Every comparison there is. A new one: a file in `trials`, and its line here.
export const comparisons: readonly Comparison[] = [
  readDocument,
  recomputeReadings,
  renderFilmTrial,
  followPoints,
  lookAtFrames,
  stepInPlayer,
  largeClip,
  openWindow,
  typeAKey,
]
