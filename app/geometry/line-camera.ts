import { EigenvalueDecomposition, Matrix } from 'ml-matrix'
import type { Point } from '../project/fields'
import { misfitOf, nearest, refined, teller, type FitProblem } from './damped-fit'
import { cross3, dot3, squared3, times3, turned3, unit3, type Vector3 } from './vector3'

/// A camera from one picture of straight lines of three kinds: level ones along one direction, level ones square to it, and upright
/// ones. With square pixels and an axis near the picture's middle, how long its lens is and how it is turned follow from where the
/// lines of each kind run together.

export const LINE_WAYS = ['along', 'across', 'upright'] as const
export type LineWay = (typeof LINE_WAYS)[number]

/// Two places on a line, px, and the σ of each, px per axis.
export interface SeenLine {
  readonly way: LineWay
  readonly ends: readonly [Point, Point]
  readonly sigmas: readonly [number, number]
}

/// How a camera is turned against level directions.
export interface LinePose {
  /// px.
  readonly focal: number
  /// Where its axis meets the picture, px.
  readonly middle: Point
  /// The two level directions, of either sign, and straight up, by the camera's own axes: right, down, forward.
  readonly along: Vector3
  readonly across: Vector3
  readonly up: Vector3
}

/// How well the lines of one kind run together, by themselves: two always do. `without`: the misfit without each of them.
export interface WayMisfit {
  readonly way: LineWay
  readonly misfit: number
  readonly freedom: number
  readonly without: () => number[]
}

export interface LineCamera {
  readonly pose: LinePose
  /// A value that the pose tells, and its σ to first order: by the ends of the lines, by how true lines are, and by where the axis
  /// meets the picture.
  readonly tell: (value: (pose: LinePose) => number) => { readonly value: number; readonly sigma: number }
  /// σ of the focal length as a share of it, Infinity where the lines leave it to the bounds of any lens; the largest σ of a direction,
  /// radians. Far beyond a seventh and five degrees the fit is too bent for σ to hold.
  readonly focalShare: number
  readonly turnSigma: number
  /// Σ (residual / σ)², what is known of axis and squareness among them, and its degrees: the lines, less the four of turn and focal
  /// length.
  readonly misfit: number
  readonly freedom: number
  readonly ways: readonly WayMisfit[]
}

/// What is known before a line is seen, each 1 σ: how far the axis meets the picture from its middle, per axis, as a share of the
/// picture's width; how true a line is to the others of its kind, per axis, and how square the two level directions are, radians.
export interface LineKnowledge {
  readonly middleShare: number
  readonly trueness: Readonly<Record<LineWay, number>>
  readonly squareness: number
}

interface State {
  /// Logarithm of the focal length, in widths of the picture.
  readonly focal: number
  readonly turn: Readonly<Record<LineWay, Vector3>>
  /// From the picture's middle, in widths.
  readonly middle: Point
  /// By how much the lines across are turned from square to those along, radians.
  readonly skew: number
}

/// Focal length, turn about three axes, the axis's place, skew; and how many of them are known from elsewhere.
const PARAMETERS = 7
const KNOWN = 3
/// Focal lengths to start from besides those that the lines tell, in widths of the picture: wide, usual, long.
const STARTS = [0.7, 1.3, 3] as const
/// Rounds that tell which start is the nearest, and rounds at most from there.
const [FIRST_ROUNDS, ROUNDS] = [8, 80]
/// No lens is shorter or longer, in widths; beyond, the fit is held back, within it is free.
const SHORTEST = Math.log(0.25)
const LONGEST = Math.log(40)
const HELD_BACK = 0.1
/// What is known of a lens of which nothing is known: 1 σ of its logarithm about any usual one. It moves no value, and keeps σ finite
/// where the lines leave the lens open.
const LENS_SIGMA = 1.5

/// Fits the camera to the lines, two along and two across at least; null where nothing fits. Begins with the points where lines of
/// each kind run together (their directions d₁ ⟂ d₂: f² = −v₁·v₂ about the axis; Caprile and Torre 1990, Hartley and Zisserman 2003
/// §8.8), then takes the least squares of all lines: of each, how far the plane through it and the camera is from holding its
/// direction, over σ of that by its ends and by how true it is (Sampson's distance, §4.2.6), and of the axis, how far it is from the
/// picture's middle.
export function lineCamera(
  lines: readonly SeenLine[],
  { width, height }: { readonly width: number; readonly height: number },
  { middleShare, trueness, squareness }: LineKnowledge,
): LineCamera | null {
  const seen = lines.map(({ way, ends, sigmas }): SeenLine => ({
    way,
    sigmas: [sigmas[0] / width, sigmas[1] / width],
    ends: [
      [(ends[0][0] - width / 2) / width, (ends[0][1] - height / 2) / width],
      [(ends[1][0] - width / 2) / width, (ends[1][1] - height / 2) / width],
    ],
  }))
  const of = (way: LineWay): SeenLine[] => seen.filter((line) => line.way === way)
  const misses = (line: SeenLine, direction: Vector3, { focal, middle }: Pick<State, 'focal' | 'middle'>): number =>
    missOf(line, direction, Math.exp(focal), middle, trueness[line.way])
  const problem: FitProblem<State> = {
    parameters: PARAMETERS,
    moved,
    residuals: (state) => [
      ...seen.map((line) => misses(line, directionOf(state, line.way), state)),
      state.middle[0] / middleShare,
      state.middle[1] / middleShare,
      state.skew / squareness,
      (Math.max(0, SHORTEST - state.focal) + Math.max(0, state.focal - LONGEST)) / HELD_BACK,
    ],
  }
  const meets = Object.fromEntries(LINE_WAYS.map((way) => [way, meetingOf(of(way))])) as Record<LineWay, Vector3 | null>
  const { along, across } = meets
  if (!along || !across) return null
  const state = nearest(
    problem,
    [...toldFocals(meets), ...STARTS].flatMap((focal) => startOf(along, across, focal) ?? []),
    FIRST_ROUNDS,
    ROUNDS,
  )
  const told = state && teller(problem, state, [1 / LENS_SIGMA ** 2])
  if (!told) return null
  const poseOf = (at: State): LinePose => poseFrom(at, width, height)
  return {
    pose: poseOf(state),
    misfit: misfitOf(problem, state),
    freedom: lines.length + KNOWN - PARAMETERS,
    tell: (value) => told((at) => value(poseOf(at))),
    focalShare: state.focal > SHORTEST && state.focal < LONGEST ? told(({ focal }) => focal).sigma : Infinity,
    turnSigma: Math.max(...LINE_WAYS.flatMap((way) => ([0, 1, 2] as const).map((axis) => told(({ turn }) => turn[way][axis]).sigma))),
    ways: LINE_WAYS.filter((way) => of(way).length > 0).map((way) => {
      const own = of(way)
      const misfitBy = (some: readonly SeenLine[]): number => {
        const free: FitProblem<Vector3> = {
          parameters: 2,
          residuals: (direction) => some.map((line) => misses(line, direction, state)),
          moved: leaned,
        }
        return some.length < 3 ? 0 : misfitOf(free, refined(free, directionOf(state, way), ROUNDS))
      }
      return {
        way,
        misfit: misfitBy(own),
        freedom: Math.max(0, own.length - 2),
        without: () => own.map((line) => misfitBy(own.filter((other) => other !== line))),
      }
    }),
  }
}

/// Where lines of a kind run: those across are askew by what the two level directions lack to a right angle.
const directionOf = ({ turn, skew }: State, way: LineWay): Vector3 =>
  way === 'across' ? turned3(turn.across, times3(turn.upright, skew)) : turn[way]

/// How far a line is from running in a direction, in σ: the plane through its ends and the camera holds the direction where it does.
function missOf({ ends, sigmas }: SeenLine, direction: Vector3, f: number, [cx, cy]: Point, trueness: number): number {
  const [p, q] = ends.map(([x, y]): Vector3 => [x - cx, y - cy, f]) as [Vector3, Vector3]
  const normal = cross3(p, q)
  const [byP, byQ] = [cross3(q, direction), cross3(direction, p)]
  const variance =
    sigmas[0] ** 2 * (byP[0] ** 2 + byP[1] ** 2) + sigmas[1] ** 2 * (byQ[0] ** 2 + byQ[1] ** 2) + trueness ** 2 * dot3(normal, normal)
  return dot3(normal, direction) / Math.sqrt(variance)
}

/// Where lines run together, in homogeneous places on the picture, widths: the direction nearest to square to all their planes. Null
/// with fewer than two.
function meetingOf(lines: readonly SeenLine[]): Vector3 | null {
  if (lines.length < 2) return null
  const sum = Matrix.zeros(3, 3)
  for (const {
    ends: [[x, y], [u, v]],
  } of lines) {
    const normal = Matrix.columnVector([...unit3(cross3([x, y, 1], [u, v, 1]))])
    sum.add(normal.mmul(normal.transpose()))
  }
  const { realEigenvalues, eigenvectorMatrix } = new EigenvalueDecomposition(sum, { assumeSymmetric: true })
  const least = realEigenvalues.indexOf(Math.min(...realEigenvalues))
  const [x, y, w] = eigenvectorMatrix.getColumn(least) as [number, number, number]
  return [x, y, w]
}

/// The focal lengths that two meeting points at right angles tell, in widths; none where they tell none.
function toldFocals(meets: Readonly<Record<LineWay, Vector3 | null>>): number[] {
  const pairs: readonly (readonly [LineWay, LineWay])[] = [
    ['along', 'across'],
    ['along', 'upright'],
    ['across', 'upright'],
  ]
  return pairs.flatMap(([one, other]) => {
    const [a, b] = [meets[one], meets[other]]
    const square = a && b ? -(a[0] * b[0] + a[1] * b[1]) / (a[2] * b[2]) : NaN
    return square > Math.exp(2 * SHORTEST) && square < Math.exp(2 * LONGEST) ? [Math.sqrt(square)] : []
  })
}

function startOf(one: Vector3, other: Vector3, focal: number): State | null {
  const [along, across] = squared3([one[0], one[1], one[2] * focal], [other[0], other[1], other[2] * focal])
  const upright = cross3(along, across)
  return upright.every(Number.isFinite) ? { focal: Math.log(focal), turn: { along, across, upright }, middle: [0, 0], skew: 0 } : null
}

/// The state a step away: the focal length's logarithm, a turn about the camera's axes (radians), a shift of the axis, a skew.
function moved({ focal, turn, middle, skew }: State, [f, a, b, c, x, y, s]: readonly number[]): State {
  const by = (v: Vector3): Vector3 => turned3(v, [a!, b!, c!])
  return {
    focal: focal + f!,
    turn: { along: by(turn.along), across: by(turn.across), upright: by(turn.upright) },
    middle: [middle[0] + x!, middle[1] + y!],
    skew: skew + s!,
  }
}

/// A direction leaned two ways.
function leaned(direction: Vector3, [a, b]: readonly number[]): Vector3 {
  const beside = unit3(cross3(direction, Math.abs(direction[2]) < 0.7 ? [0, 0, 1] : [1, 0, 0]))
  const third = cross3(direction, beside)
  return turned3(direction, [0, 1, 2].map((k) => a! * beside[k]! + b! * third[k]!) as unknown as Vector3)
}

/// Up lies nearer to this than down does, for a camera that looks anywhere from steeply up to past straight down: by its own axes.
const UPWARD: Vector3 = [0, -Math.cos(Math.PI / 6), -Math.sin(Math.PI / 6)]

function poseFrom({ focal, turn, middle }: State, width: number, height: number): LinePose {
  const { along, across, upright } = turn
  return {
    focal: Math.exp(focal) * width,
    middle: [width / 2 + middle[0] * width, height / 2 + middle[1] * width],
    along,
    across,
    up: dot3(upright, UPWARD) < 0 ? times3(upright, -1) : upright,
  }
}
