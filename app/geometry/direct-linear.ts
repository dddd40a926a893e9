import { Matrix, SingularValueDecomposition, solve } from 'ml-matrix'
import type { Point } from '../project/fields'

/// Cameras from known points in space, and points in space from several cameras: the direct linear
/// transformation (Abdel-Aziz and Karara 1971), eleven numbers a camera.

export type Space = readonly [number, number, number]
export type DirectLinear = readonly number[]

/// Moved to the mean and scaled by the standard deviation of all coordinates taken together: the
/// equations stay well conditioned, and the published example comes out to its digits.
const normaliser = (points: readonly (readonly number[])[], size: 2 | 3): Matrix => {
  const mean = Array.from({ length: size }, (_, k) => points.reduce((s, p) => s + p[k]!, 0) / points.length)
  const all = points.flat()
  const middle = all.reduce((s, v) => s + v, 0) / all.length
  const spread = Math.sqrt(all.reduce((s, v) => s + (v - middle) ** 2, 0) / all.length)
  const scaled = Matrix.diag([...mean.map(() => 1 / spread), 1])
  mean.forEach((m, i) => scaled.set(i, size, -m / spread))
  return scaled
}

const inverse = (m: Matrix): Matrix => solve(m, Matrix.eye(m.rows, m.rows))

/// The eleven numbers (and a last 1) from at least six points that do not lie in one plane.
/// Null for fewer.
export function directLinearOf(world: readonly Space[], image: readonly Point[]): DirectLinear | null {
  if (world.length < 6 || world.length !== image.length) return null
  const [T, U] = [normaliser(world, 3), normaliser(image, 2)]
  const rows: number[][] = []
  world.forEach((p, i) => {
    const [x, y, z] = T.mmul(Matrix.columnVector([...p, 1])).to1DArray() as [number, number, number]
    const [u, v] = U.mmul(Matrix.columnVector([...image[i]!, 1])).to1DArray() as [number, number]
    rows.push([x, y, z, 1, 0, 0, 0, 0, -u * x, -u * y, -u * z, -u], [0, 0, 0, 0, x, y, z, 1, -v * x, -v * y, -v * z, -v])
  })
  const decomposition = new SingularValueDecomposition(new Matrix(rows), { autoTranspose: true })
  const singular = decomposition.diagonal
  const least = singular.indexOf(Math.min(...singular))
  const L = decomposition.rightSingularVectors.getColumn(least)
  const camera = inverse(U)
    .mmul(new Matrix([L.slice(0, 4), L.slice(4, 8), L.slice(8, 12)]))
    .mmul(T)
    .to1DArray()
  const last = camera[11]!
  return last === 0 ? null : camera.map((v) => v / last)
}

/// The point in space whose images lie nearest to those given, one per camera, two cameras or more.
export function intersected(cameras: readonly DirectLinear[], images: readonly Point[]): Space | null {
  if (cameras.length < 2 || cameras.length !== images.length) return null
  const rows: number[][] = []
  cameras.forEach((L, i) => {
    const [u, v] = images[i]!
    for (const [row, value] of [
      [0, u],
      [4, v],
    ] as const)
      rows.push([0, 1, 2, 3].map((k) => L[row + k]! - value * L[8 + k]!))
  })
  const decomposition = new SingularValueDecomposition(new Matrix(rows), { autoTranspose: true })
  const singular = decomposition.diagonal
  const [x, y, z, w] = decomposition.rightSingularVectors.getColumn(singular.indexOf(Math.min(...singular))) as [
    number,
    number,
    number,
    number,
  ]
  return w === 0 ? null : [x / w, y / w, z / w]
}
