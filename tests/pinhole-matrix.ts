import type { Point } from '../app/project/fields'

/// A pinhole camera as one matrix of three rows and four columns, x = K [R | t] X, made from the angles by which it is turned; nothing
/// of it is shared with what is tested against it. Space: east, north, up, metres.

type Three = readonly [number, number, number]

export interface Turned {
  readonly stands: Three
  /// Where it looks, clockwise from north; how steeply down; how far it is turned clockwise about its axis: degrees.
  readonly heading: number
  readonly elevation: number
  readonly roll: number
  /// px; and where its axis meets the picture, px.
  readonly focal: number
  readonly middle: Point
}

const product = (a: readonly (readonly number[])[], b: readonly (readonly number[])[]): number[][] =>
  a.map((row) => b[0]!.map((_, j) => row.reduce((s, v, k) => s + v * b[k]![j]!, 0)))

export function cameraMatrix({ stands, heading, elevation, roll, focal, middle }: Turned): number[][] {
  const [h, e, r] = [heading, elevation, roll].map((deg) => (deg * Math.PI) / 180) as [number, number, number]
  // North ahead of a level camera: right is east, down is −up, forward is north; then turned, lowered, rolled.
  const level = [
    [1, 0, 0],
    [0, 0, -1],
    [0, 1, 0],
  ]
  const byHeading = [
    [Math.cos(h), -Math.sin(h), 0],
    [Math.sin(h), Math.cos(h), 0],
    [0, 0, 1],
  ]
  const byElevation = [
    [1, 0, 0],
    [0, Math.cos(e), -Math.sin(e)],
    [0, Math.sin(e), Math.cos(e)],
  ]
  const byRoll = [
    [Math.cos(r), Math.sin(r), 0],
    [-Math.sin(r), Math.cos(r), 0],
    [0, 0, 1],
  ]
  const R = product(byRoll, product(byElevation, product(level, byHeading)))
  const t = R.map((row) => -(row[0]! * stands[0] + row[1]! * stands[1] + row[2]! * stands[2]))
  return product(
    [
      [focal, 0, middle[0]],
      [0, focal, middle[1]],
      [0, 0, 1],
    ],
    R.map((row, i) => [...row, t[i]!]),
  )
}

/// Where the matrix puts a place of space on the picture; null behind the camera.
export function putBy(matrix: readonly (readonly number[])[], [x, y, z]: Three): Point | null {
  const [u, v, w] = matrix.map((row) => row[0]! * x + row[1]! * y + row[2]! * z + row[3]!) as [number, number, number]
  return w > 0 ? [u / w, v / w] : null
}
