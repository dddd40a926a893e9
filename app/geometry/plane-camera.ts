import { CholeskyDecomposition, inverse, Matrix } from 'ml-matrix'
import type { Point } from '../project/fields'
import { homographyOf, type Homography } from './homography'

/// A camera from one picture of a plane with known marks: with square pixels and its axis through the picture's middle, how long
/// its lens is and how it stands to the plane follow from the marks.

type Vector = readonly [number, number, number]

/// How a camera stands to a plane.
export interface PlanePose {
  /// px.
  readonly focal: number
  /// The plane's two axes and its upward normal, by the camera's own: right, down, forward. Upward is the side on which it stands.
  readonly across: Vector
  readonly along: Vector
  readonly up: Vector
  /// The place on the plane beneath the camera, and how high above it, in the plane's unit.
  readonly beneath: Point
  readonly height: number
}

export interface PlaneCamera {
  readonly pose: PlanePose
  /// A value that the pose tells, and its σ by the marks' own, to first order.
  readonly tell: (value: (pose: PlanePose) => number) => { readonly value: number; readonly sigma: number }
  /// Σ (distance on the picture / σ)², and its degrees: two for each mark, less the seven of the camera.
  readonly misfit: number
  readonly freedom: number
}

interface State {
  /// Logarithm of the focal length, in widths of the picture.
  readonly focal: number
  /// Rows: the camera's axes; columns: across, along, and their normal.
  readonly turn: readonly Vector[]
  readonly shift: Vector
}

const PARAMETERS = 7
/// Focal lengths to start from besides the one that the map tells, in widths of the picture: wide, usual, long.
const STARTS = [0.7, 1.3, 3] as const
const STEP = 1e-6
/// Rounds that tell which start is the nearest, and rounds at most from there.
const [FIRST_ROUNDS, ROUNDS] = [8, 80]
/// A misfit that falls by less than this has been reached: every number is then within 1e-4 σ.
const REACHED = 1e-8

/// Fits the camera to marks on the picture (px), their places on the plane and the σ of their placings (px, per axis); `middle`: where
/// its axis meets the picture, px. Null where nothing fits. Begins with the two constraints that a plane puts on the focal length
/// (Zhang 2000 §3.1; Hartley and Zisserman 2003 §8.8), then takes the least squares of the picture (Gauss and Newton, Levenberg's
/// damping), which is the most likely camera with errors of the placings alone. A plane seen straight on tells no focal length: then
/// σ says so.
export function planeCamera(picture: readonly Point[], plane: readonly Point[], sigmas: readonly number[], middle: Point, width: number): PlaneCamera | null {
  const n = plane.length
  const centre: Point = [plane.reduce((s, p) => s + p[0], 0) / n, plane.reduce((s, p) => s + p[1], 0) / n]
  const size = plane.reduce((s, p) => s + Math.hypot(p[0] - centre[0], p[1] - centre[1]), 0) / n
  const places = plane.map(([x, y]): Point => [(x - centre[0]) / size, (y - centre[1]) / size])
  const seen = picture.map(([x, y]): Point => [(x - middle[0]) / width, (y - middle[1]) / width])
  const weights = sigmas.map((sigma) => width / sigma)
  const map = homographyOf(places, seen, weights)
  if (!map) return null

  const residuals = (state: State): number[] => places.flatMap((place, i) => {
    const [x, y] = projected(state, place)
    return [weights[i]! * (seen[i]![0] - x), weights[i]! * (seen[i]![1] - y)]
  })
  const sum = (state: State): number => residuals(state).reduce((s, r) => s + r * r, 0)
  const jacobian = (state: State): Matrix => new Matrix(Array.from({ length: PARAMETERS }, (_, k) => {
    const [more, less] = [residuals(moved(state, unit(k, STEP))), residuals(moved(state, unit(k, -STEP)))]
    return more.map((r, i) => -(r - less[i]!) / (2 * STEP))
  })).transpose()

  const begun = [...toldFocal(map), ...STARTS].flatMap((focal) => {
    const start = startOf(map, focal)
    const state = start && refined(start, FIRST_ROUNDS, sum, residuals, jacobian)
    return state && Number.isFinite(sum(state)) ? [state] : []
  })
  if (begun.length === 0) return null
  const nearest = begun.reduce((best, each) => (sum(each) < sum(best) ? each : best))
  const state = refined(nearest, ROUNDS, sum, residuals, jacobian)
  const J = jacobian(state)
  // Scaled by its own diagonal: a focal length that is hardly told must not spoil the rest.
  const normal = J.transpose().mmul(J)
  const scales = normal.diagonal().map((v) => 1 / Math.sqrt(v))
  if (!scales.every(Number.isFinite)) return null
  const byScales = (m: Matrix): Matrix => new Matrix(m.to2DArray().map((row, i) => row.map((v, j) => v * scales[i]! * scales[j]!)))
  const covariance = ((): Matrix | null => {
    try {
      return byScales(inverse(byScales(normal)))
    } catch {
      return null
    }
  })()
  if (!covariance) return null
  const poseOf = (of: State): PlanePose => poseFrom(of, width, centre, size)
  return {
    pose: poseOf(state), misfit: sum(state), freedom: 2 * n - PARAMETERS,
    tell(value) {
      const slopes = Matrix.columnVector(Array.from({ length: PARAMETERS }, (_, k) => (value(poseOf(moved(state, unit(k, STEP)))) - value(poseOf(moved(state, unit(k, -STEP))))) / (2 * STEP)))
      return { value: value(poseOf(state)), sigma: Math.sqrt(Math.max(0, slopes.transpose().mmul(covariance).mmul(slopes).get(0, 0))) }
    },
  }
}

const unit = (k: number, by: number): number[] => Array.from({ length: PARAMETERS }, (_, i) => (i === k ? by : 0))
const dot = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
const times = (a: Vector, by: number): Vector => [a[0] * by, a[1] * by, a[2] * by]
const add = (a: Vector, b: Vector): Vector => [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
const cross = (a: Vector, b: Vector): Vector => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
const unitOf = (a: Vector): Vector => times(a, 1 / Math.sqrt(dot(a, a)))
const column = (turn: readonly Vector[], k: 0 | 1 | 2): Vector => [turn[0]![k], turn[1]![k], turn[2]![k]]

function projected({ focal, turn, shift }: State, [x, y]: Point): Point {
  const [a, b, c] = [0, 1, 2].map((row) => turn[row]![0] * x + turn[row]![1] * y + shift[row]!) as [number, number, number]
  const f = Math.exp(focal)
  return [(f * a) / c, (f * b) / c]
}

/// The focal length by the map's two constraints; none where they tell none.
function toldFocal(h: Homography): number[] {
  const [a, b] = [[h[0], h[3], h[6]], [h[1], h[4], h[7]]] as [Vector, Vector]
  const A = [a[0] * b[0] + a[1] * b[1], a[0] ** 2 + a[1] ** 2 - b[0] ** 2 - b[1] ** 2] as const
  const B = [a[2] * b[2], a[2] ** 2 - b[2] ** 2] as const
  const q = -(A[0] * B[0] + A[1] * B[1]) / (A[0] ** 2 + A[1] ** 2)
  return q > 1e-4 && q < 25 ? [1 / Math.sqrt(q)] : []
}

function startOf(h: Homography, focal: number): State | null {
  const back = ([x, y, z]: Vector): Vector => [x / focal, y / focal, z]
  const [a, b, t] = [back([h[0], h[3], h[6]]), back([h[1], h[4], h[7]]), back([h[2], h[5], h[8]])]
  // In front of the camera the marks' middle has a depth above 0.
  const by = (2 * Math.sign(t[2])) / (Math.sqrt(dot(a, a)) + Math.sqrt(dot(b, b)))
  const [r, s] = [unitOf(times(a, by)), unitOf(times(b, by))]
  const [sum, difference] = [unitOf(add(r, s)), unitOf(add(r, times(s, -1)))]
  const across = times(add(sum, difference), Math.SQRT1_2)
  const along = times(add(sum, times(difference, -1)), Math.SQRT1_2)
  const normal = cross(across, along)
  const turn = [0, 1, 2].map((k): Vector => [across[k]!, along[k]!, normal[k]!])
  return turn.flat().every(Number.isFinite) ? { focal: Math.log(focal), turn, shift: times(t, by) } : null
}

/// The state a step away: the focal length's logarithm, a turn about the camera's axes (radians), a shift.
function moved({ focal, turn, shift }: State, [f, a, b, c, x, y, z]: readonly number[]): State {
  const axis: Vector = [a!, b!, c!]
  const angle = Math.sqrt(dot(axis, axis))
  const turned = (v: Vector): Vector => {
    if (angle === 0) return v
    // Rodrigues' formula.
    const k = times(axis, 1 / angle)
    return add(add(times(v, Math.cos(angle)), times(cross(k, v), Math.sin(angle))), times(k, dot(k, v) * (1 - Math.cos(angle))))
  }
  const columns = ([0, 1, 2] as const).map((k) => turned(column(turn, k)))
  return { focal: focal + f!, turn: ([0, 1, 2] as const).map((row): Vector => [columns[0]![row], columns[1]![row], columns[2]![row]]), shift: add(shift, [x!, y!, z!]) }
}

function refined(start: State, rounds: number, sum: (state: State) => number, residuals: (state: State) => number[], jacobian: (state: State) => Matrix): State {
  let [state, at, damping] = [start, sum(start), 1e-3]
  for (let round = 0; round < rounds; round++) {
    const J = jacobian(state)
    const normal = J.transpose().mmul(J)
    const right = J.transpose().mmul(Matrix.columnVector(residuals(state)))
    const damped = normal.clone()
    normal.diagonal().forEach((v, i) => damped.set(i, i, v * (1 + damping) + 1e-12))
    const factors = new CholeskyDecomposition(damped)
    const next = factors.isPositiveDefinite() ? moved(state, factors.solve(right).to1DArray()) : null
    const then = next ? sum(next) : Infinity
    if (next && then <= at) {
      const gained = at - then
      ;[state, at, damping] = [next, then, damping / 10]
      if (gained <= REACHED) break
    } else {
      damping *= 10
      if (damping > 1e8) break
    }
  }
  return state
}

function poseFrom({ focal, turn, shift }: State, width: number, centre: Point, size: number): PlanePose {
  const [across, along, normal] = [column(turn, 0), column(turn, 1), column(turn, 2)]
  // Where the camera stands, by the plane's own axes: −Rᵀt.
  const height = -dot(normal, shift)
  return {
    focal: Math.exp(focal) * width, across, along, up: height < 0 ? times(normal, -1) : normal, height: Math.abs(height) * size,
    beneath: [centre[0] - size * dot(across, shift), centre[1] - size * dot(along, shift)],
  }
}
