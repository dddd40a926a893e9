import type { Space } from './direct-linear'

/// A body segment's own frame in space, from surface markers (for when two cameras see them).

const minus = (a: Space, b: Space): Space => [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
const dot = (a: Space, b: Space): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
const cross = (a: Space, b: Space): Space => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
const unit = (a: Space): Space => {
  const size = Math.sqrt(dot(a, a))
  return [a[0] / size, a[1] / size, a[2] / size]
}

export const middleOf = (a: Space, b: Space): Space => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2]

export interface LocalFrame {
  readonly origin: Space
  readonly x: Space
  readonly y: Space
  readonly z: Space
}

/// Origin at the distal joint, y along the segment towards the proximal one, x square to y and to
/// the line `medial`→`lateral` across the distal joint, z = x × y (Winter 2009, shank, p. 183).
/// Null where the markers lie on a line.
export function segmentFrame(distal: Space, proximal: Space, medial: Space, lateral: Space): LocalFrame | null {
  const along = minus(proximal, distal)
  const forward = cross(along, minus(medial, lateral))
  if (!(dot(forward, forward) > 0)) return null
  const y = unit(along)
  const x = unit(forward)
  return { origin: distal, x, y, z: cross(x, y) }
}

export function inFrame({ origin, x, y, z }: LocalFrame, point: Space): Space {
  const d = minus(point, origin)
  return [dot(x, d), dot(y, d), dot(z, d)]
}
