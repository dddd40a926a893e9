import type { Programme } from '../programme/programme'
import type { Output } from '../project/breakdown'
import { exact } from '../project/fields'

/// Which frame of the film goes with it as its small picture, and by whose choice. `beyond`: the time that was chosen is not in
/// the film any more, so it is as with none.
export interface Thumbnail {
  readonly frame: number
  readonly by: 'choice' | 'rule' | 'beyond'
}

/// The frame on screen at the time that was chosen; with none, or none that is in the film, the last frame of the first hold
/// that shows a value; else of the first hold; else of the first picture.
export function thumbnailOf(programme: Programme, { thumbnail }: Pick<Output, 'thumbnail'>): Thumbnail {
  if (thumbnail === undefined) return { frame: byRule(programme), by: 'rule' }
  const at = exact(thumbnail)
  const frame = Math.floor((at.n * programme.rate.n) / (at.d * programme.rate.d))
  return frame < programme.frames ? { frame, by: 'choice' } : { frame: byRule(programme), by: 'beyond' }
}

/// The time at which a frame comes on, as `Output.thumbnail` keeps it: exact.
export const thumbnailTime = (frame: number, { rate }: Pick<Programme, 'rate'>): string => `${frame * rate.d}/${rate.n}`

function byRule(programme: Programme): number {
  const pictures = programme.shots.filter((shot) => shot.panels.length > 0)
  const held = pictures.filter((shot) => shot.kind === 'hold' && shot.index >= 0)
  const shot = held.find(({ marks }) => marks.length > 0) ?? held[0] ?? pictures[0] ?? programme.shots[0]
  return shot ? shot.start + shot.frames - 1 : 0
}
