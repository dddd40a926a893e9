import { Matrix, solve } from 'ml-matrix'
import type { Point } from '../project/fields'

/// A body in free flight falls on one parabola as long as one scale holds: a check on the scale,
/// and on the frame rate, that a film carries within itself.

export interface Parabola {
  /// Acceleration along the picture's vertical, px/s², + downwards.
  readonly acceleration: number
  /// 1 σ of it, from the residuals.
  readonly u: number
  /// Root mean square distance of the samples from the parabola, down the picture, px.
  readonly rms: number
  /// The same from the line across the picture.
  readonly rmsAcross: number
}

/// Least squares: a line across the picture, a parabola down it. `times` in real seconds. Null for fewer
/// than five samples or none of any duration.
export function freeFlight(times: readonly number[], points: readonly Point[]): Parabola | null {
  const n = times.length
  if (n < 5 || n !== points.length) return null
  const middle = times.reduce((s, t) => s + t, 0) / n
  const span = Math.max(...times.map((t) => Math.abs(t - middle)))
  if (!(span > 0)) return null
  const design = new Matrix(times.map((t) => [1, (t - middle) / span, ((t - middle) / span) ** 2]))
  const normal = design.transpose().mmul(design)
  const fit = (k: 0 | 1, columns: number): { readonly left: number; readonly curve: number } => {
    const used = design.subMatrix(0, n - 1, 0, columns - 1)
    const values = Matrix.columnVector(points.map((p) => p[k]))
    const found = solve(used.transpose().mmul(used), used.transpose().mmul(values))
    const off = values.sub(used.mmul(found)).to1DArray()
    return { left: off.reduce((s, r) => s + r * r, 0), curve: columns === 3 ? found.get(2, 0) : 0 }
  }
  const [across, down] = [fit(0, 2), fit(1, 3)]
  const inverse = solve(normal, Matrix.eye(3, 3))
  return {
    acceleration: (2 * down.curve) / span ** 2,
    u: (2 * Math.sqrt((down.left / (n - 3)) * inverse.get(2, 2))) / span ** 2,
    rms: Math.sqrt(down.left / n),
    rmsAcross: Math.sqrt(across.left / n),
  }
}

export interface ScaleOnFlight {
  readonly first: Parabola
  readonly last: Parabola
  /// Whether both parts fall alike: within 5 % and the fits' own error.
  readonly holds: boolean
}

/// Parts of a flight whose falls differ by no more than this are taken to have one scale [J]: two
/// and a half per cent either way of what a distance is worth.
const ALIKE = 0.05

/// Whether one scale holds along a flight: its first and second part fitted apart. A body that
/// comes nearer or goes away falls faster or slower on the picture than one parabola allows.
/// `split`: index at which the second part begins; absent: half way. Null where a part is too short.
export function scaleAlong(times: readonly number[], points: readonly Point[], split = Math.floor(times.length / 2)): ScaleOnFlight | null {
  const first = freeFlight(times.slice(0, split), points.slice(0, split))
  const last = freeFlight(times.slice(split), points.slice(split))
  if (!first || !last) return null
  const apart = Math.abs(first.acceleration - last.acceleration)
  return { first, last, holds: apart <= Math.hypot(ALIKE * Math.abs(first.acceleration), 2 * Math.hypot(first.u, last.u)) }
}
