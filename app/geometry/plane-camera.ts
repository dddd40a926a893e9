import type { Point } from '../project/fields'
import { misfitOf, nearest, teller, type FitProblem } from './damped-fit'
import { homographyOf, type Homography } from './homography'
import { cross3, dot3, squared3, times3, turned3, type Vector3 } from './vector3'

/// A camera from one picture of a plane with known marks: with square pixels and its axis through the picture's middle, how long
/// its lens is and how it stands to the plane follow from the marks.

/// How a camera stands to a plane.
export interface PlanePose {
  /// px.
  readonly focal: number
  /// The plane's two axes and its upward normal, by the camera's own: right, down, forward. Upward is the side on which it stands.
  readonly across: Vector3
  readonly along: Vector3
  readonly up: Vector3
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
  readonly turn: readonly Vector3[]
  readonly shift: Vector3
}

const PARAMETERS = 7
/// Focal lengths to start from besides the one that the map tells, in widths of the picture: wide, usual, long.
const STARTS = [0.7, 1.3, 3] as const
/// Rounds that tell which start is the nearest, and rounds at most from there.
const [FIRST_ROUNDS, ROUNDS] = [8, 80]

/// Fits the camera to marks on the picture (px), their places on the plane and the σ of their placings (px, per axis); `middle`: where
/// its axis meets the picture, px. Null where nothing fits. Begins with the two constraints that a plane puts on the focal length
/// (Zhang 2000 §3.1; Hartley and Zisserman 2003 §8.8), then takes the least squares of the picture (Gauss and Newton, Levenberg's
/// damping), which is the most likely camera with errors of the placings alone. A plane seen straight on tells no focal length: then
/// σ says so.
export function planeCamera(
  picture: readonly Point[],
  plane: readonly Point[],
  sigmas: readonly number[],
  middle: Point,
  width: number,
): PlaneCamera | null {
  const n = plane.length
  const centre: Point = [plane.reduce((s, p) => s + p[0], 0) / n, plane.reduce((s, p) => s + p[1], 0) / n]
  const size = plane.reduce((s, p) => s + Math.hypot(p[0] - centre[0], p[1] - centre[1]), 0) / n
  const places = plane.map(([x, y]): Point => [(x - centre[0]) / size, (y - centre[1]) / size])
  const seen = picture.map(([x, y]): Point => [(x - middle[0]) / width, (y - middle[1]) / width])
  const weights = sigmas.map((sigma) => width / sigma)
  const map = homographyOf(places, seen, weights)
  if (!map) return null

  const problem: FitProblem<State> = {
    parameters: PARAMETERS,
    moved,
    residuals: (state) =>
      places.flatMap((place, i) => {
        const [x, y] = projected(state, place)
        return [weights[i]! * (seen[i]![0] - x), weights[i]! * (seen[i]![1] - y)]
      }),
  }
  const state = nearest(
    problem,
    [...toldFocal(map), ...STARTS].flatMap((focal) => startOf(map, focal) ?? []),
    FIRST_ROUNDS,
    ROUNDS,
  )
  const told = state && teller(problem, state)
  if (!told) return null
  const poseOf = (of: State): PlanePose => poseFrom(of, width, centre, size)
  return {
    pose: poseOf(state),
    misfit: misfitOf(problem, state),
    freedom: 2 * n - PARAMETERS,
    tell: (value) => told((of) => value(poseOf(of))),
  }
}

const column = (turn: readonly Vector3[], k: 0 | 1 | 2): Vector3 => [turn[0]![k], turn[1]![k], turn[2]![k]]

function projected({ focal, turn, shift }: State, [x, y]: Point): Point {
  const [a, b, c] = [0, 1, 2].map((row) => turn[row]![0] * x + turn[row]![1] * y + shift[row]!) as [number, number, number]
  const f = Math.exp(focal)
  return [(f * a) / c, (f * b) / c]
}

/// The focal length by the map's two constraints; none where they tell none.
function toldFocal(h: Homography): number[] {
  const [a, b] = [
    [h[0], h[3], h[6]],
    [h[1], h[4], h[7]],
  ] as [Vector3, Vector3]
  const A = [a[0] * b[0] + a[1] * b[1], a[0] ** 2 + a[1] ** 2 - b[0] ** 2 - b[1] ** 2] as const
  const B = [a[2] * b[2], a[2] ** 2 - b[2] ** 2] as const
  const q = -(A[0] * B[0] + A[1] * B[1]) / (A[0] ** 2 + A[1] ** 2)
  return q > 1e-4 && q < 25 ? [1 / Math.sqrt(q)] : []
}

function startOf(h: Homography, focal: number): State | null {
  const back = ([x, y, z]: Vector3): Vector3 => [x / focal, y / focal, z]
  const [a, b, t] = [back([h[0], h[3], h[6]]), back([h[1], h[4], h[7]]), back([h[2], h[5], h[8]])]
  // In front of the camera the marks' middle has a depth above 0.
  const by = (2 * Math.sign(t[2])) / (Math.sqrt(dot3(a, a)) + Math.sqrt(dot3(b, b)))
  const [across, along] = squared3(times3(a, by), times3(b, by))
  const normal = cross3(across, along)
  const turn = [0, 1, 2].map((k): Vector3 => [across[k]!, along[k]!, normal[k]!])
  return turn.flat().every(Number.isFinite) ? { focal: Math.log(focal), turn, shift: times3(t, by) } : null
}

/// The state a step away: the focal length's logarithm, a turn about the camera's axes (radians), a shift.
function moved({ focal, turn, shift }: State, [f, a, b, c, x, y, z]: readonly number[]): State {
  const columns = ([0, 1, 2] as const).map((k) => turned3(column(turn, k), [a!, b!, c!]))
  return {
    focal: focal + f!,
    turn: ([0, 1, 2] as const).map((row): Vector3 => [columns[0]![row], columns[1]![row], columns[2]![row]]),
    shift: [shift[0] + x!, shift[1] + y!, shift[2] + z!],
  }
}

function poseFrom({ focal, turn, shift }: State, width: number, centre: Point, size: number): PlanePose {
  const [across, along, normal] = [column(turn, 0), column(turn, 1), column(turn, 2)]
  // Where the camera stands, by the plane's own axes: −Rᵀt.
  const height = -dot3(normal, shift)
  return {
    focal: Math.exp(focal) * width,
    across,
    along,
    up: height < 0 ? times3(normal, -1) : normal,
    height: Math.abs(height) * size,
    beneath: [centre[0] - size * dot3(across, shift), centre[1] - size * dot3(along, shift)],
  }
}
