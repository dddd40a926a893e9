import type { Solid } from './solid'
import type { Vector } from './quaternion'

/// A closed surface as triangles: points and outward normals, three numbers each.
export interface Surface {
  readonly points: Float32Array
  readonly normals: Float32Array
  readonly triangles: Uint32Array
}

/// Polygonises a solid on a grid of `cell` metres: one point per cell that the surface crosses,
/// at the mean of its edge crossings (surface nets, Gibson 1998), pulled onto the surface.
export function surfaceOf(solid: Solid, low: Vector, high: Vector, cell: number): Surface {
  const nx = Math.ceil((high[0] - low[0]) / cell) + 2
  const ny = Math.ceil((high[1] - low[1]) / cell) + 2
  const nz = Math.ceil((high[2] - low[2]) / cell) + 2
  const values = sampled(solid, low, cell, nx, ny, nz)
  const pointOf = new Int32Array(nx * ny * nz).fill(-1)
  const points: number[] = []
  const sy = nx
  const sz = nx * ny
  for (let k = 0; k < nz - 1; k++)
    for (let j = 0; j < ny - 1; j++)
      for (let i = 0; i < nx - 1; i++) {
        const at = i + j * sy + k * sz
        let inside = 0
        for (let c = 0; c < 8; c++) if (values[at + (c & 1) + ((c >> 1) & 1) * sy + (c >> 2) * sz]! < 0) inside++
        if (inside === 0 || inside === 8) continue
        let n = 0
        let x = 0
        let y = 0
        let z = 0
        for (let e = 0; e < 12; e++) {
          const axis = e >> 2
          const u = e & 1
          const v = (e >> 1) & 1
          const cx = axis === 0 ? 0 : u
          const cy = axis === 1 ? 0 : axis === 0 ? u : v
          const cz = axis === 2 ? 0 : v
          const from = at + cx + cy * sy + cz * sz
          const a = values[from]!
          const b = values[from + (axis === 0 ? 1 : axis === 1 ? sy : sz)]!
          if (a < 0 === b < 0) continue
          const part = a / (a - b)
          x += cx + (axis === 0 ? part : 0)
          y += cy + (axis === 1 ? part : 0)
          z += cz + (axis === 2 ? part : 0)
          n++
        }
        pointOf[at] = points.length / 3
        points.push(low[0] + (i + x / n) * cell, low[1] + (j + y / n) * cell, low[2] + (k + z / n) * cell)
      }
  const triangles: number[] = []
  const quad = (a: number, b: number, c: number, d: number, flip: boolean): void => {
    if (a < 0 || b < 0 || c < 0 || d < 0) return
    if (flip) triangles.push(a, c, b, b, c, d)
    else triangles.push(a, b, c, b, d, c)
  }
  for (let k = 1; k < nz - 1; k++)
    for (let j = 1; j < ny - 1; j++)
      for (let i = 1; i < nx - 1; i++) {
        const at = i + j * sy + k * sz
        const here = values[at]! < 0
        if (here !== values[at + 1]! < 0) quad(pointOf[at - sy - sz]!, pointOf[at - sz]!, pointOf[at - sy]!, pointOf[at]!, !here)
        if (here !== values[at + sy]! < 0) quad(pointOf[at - 1 - sz]!, pointOf[at - 1]!, pointOf[at - sz]!, pointOf[at]!, !here)
        if (here !== values[at + sz]! < 0) quad(pointOf[at - 1 - sy]!, pointOf[at - sy]!, pointOf[at - 1]!, pointOf[at]!, !here)
      }
  return settled(solid, Float32Array.from(points), Uint32Array.from(triangles), cell)
}

/// Distances at the grid's nodes; far from the surface only every fourth node is asked.
function sampled(solid: Solid, low: Vector, cell: number, nx: number, ny: number, nz: number): Float32Array {
  const values = new Float32Array(nx * ny * nz)
  const step = 4
  const reach = cell * step * 1.8
  for (let k = 0; k < nz; k += step)
    for (let j = 0; j < ny; j += step)
      for (let i = 0; i < nx; i += step) {
        const centre = solid(low[0] + (i + 1.5) * cell, low[1] + (j + 1.5) * cell, low[2] + (k + 1.5) * cell)
        const near = Math.abs(centre) < reach
        for (let c = k; c < Math.min(nz, k + step); c++)
          for (let b = j; b < Math.min(ny, j + step); b++)
            for (let a = i; a < Math.min(nx, i + step); a++)
              values[a + b * nx + c * nx * ny] = near ? solid(low[0] + a * cell, low[1] + b * cell, low[2] + c * cell) : centre
      }
  return values
}

function settled(solid: Solid, points: Float32Array, triangles: Uint32Array, cell: number): Surface {
  const normals = new Float32Array(points.length)
  const h = cell * 0.4
  for (let i = 0; i < points.length; i += 3) {
    let x = points[i]!
    let y = points[i + 1]!
    let z = points[i + 2]!
    let gx = solid(x + h, y, z) - solid(x - h, y, z)
    let gy = solid(x, y + h, z) - solid(x, y - h, z)
    let gz = solid(x, y, z + h) - solid(x, y, z - h)
    const length = Math.hypot(gx, gy, gz) || 1
    gx /= length
    gy /= length
    gz /= length
    const d = Math.max(-cell, Math.min(cell, solid(x, y, z)))
    x -= d * gx
    y -= d * gy
    z -= d * gz
    points.set([x, y, z], i)
    normals.set([gx, gy, gz], i)
  }
  return { points, normals, triangles }
}
