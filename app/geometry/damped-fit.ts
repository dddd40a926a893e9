import { CholeskyDecomposition, inverse, Matrix } from 'ml-matrix'

/// Least squares of what is not linear: Gauss and Newton, Levenberg's damping. Slopes are taken by steps to both sides.
export interface FitProblem<State> {
  readonly parameters: number
  /// Each in σ of its own.
  readonly residuals: (state: State) => readonly number[]
  /// The state a step away, one number for each parameter.
  readonly moved: (state: State, by: readonly number[]) => State
}

const STEP = 1e-6
/// A misfit that falls by less than this has been reached: every number is then within 1e-4 σ.
const REACHED = 1e-8

const unit = (n: number, k: number, by: number): number[] => Array.from({ length: n }, (_, i) => (i === k ? by : 0))

/// Sum of the squares of the residuals.
export const misfitOf = <State>({ residuals }: FitProblem<State>, state: State): number => residuals(state).reduce((s, r) => s + r * r, 0)

/// How the residuals fall as each parameter grows.
function slopes<State>({ parameters, residuals, moved }: FitProblem<State>, state: State): Matrix {
  return new Matrix(
    Array.from({ length: parameters }, (_, k) => {
      const [more, less] = [residuals(moved(state, unit(parameters, k, STEP))), residuals(moved(state, unit(parameters, k, -STEP)))]
      return more.map((r, i) => -(r - less[i]!) / (2 * STEP))
    }),
  ).transpose()
}

/// The state with the least misfit that can be reached downwards from here in so many rounds.
export function refined<State>(problem: FitProblem<State>, start: State, rounds: number): State {
  let [state, at, damping] = [start, misfitOf(problem, start), 1e-3]
  for (let round = 0; round < rounds; round++) {
    const J = slopes(problem, state)
    const normal = J.transpose().mmul(J)
    const right = J.transpose().mmul(Matrix.columnVector([...problem.residuals(state)]))
    const damped = normal.clone()
    normal.diagonal().forEach((v, i) => damped.set(i, i, v * (1 + damping) + 1e-12))
    const factors = new CholeskyDecomposition(damped)
    const next = factors.isPositiveDefinite() ? problem.moved(state, factors.solve(right).to1DArray()) : null
    const then = next ? misfitOf(problem, next) : Infinity
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

/// The nearest state by several starts: a few rounds tell which of them leads there. Null where none has a finite misfit.
export function nearest<State>(problem: FitProblem<State>, starts: readonly State[], firstRounds: number, rounds: number): State | null {
  const begun = starts.map((start) => refined(problem, start, firstRounds)).filter((state) => Number.isFinite(misfitOf(problem, state)))
  if (begun.length === 0) return null
  return refined(
    problem,
    begun.reduce((best, each) => (misfitOf(problem, each) < misfitOf(problem, best) ? each : best)),
    rounds,
  )
}

export type Tell<State> = (value: (state: State) => number) => { readonly value: number; readonly sigma: number }

/// How to tell a value of the fitted state with its σ, to first order. `known`: what is known of each parameter besides, 1/σ² (0:
/// nothing). Null where the residuals leave one of them wholly open.
export function teller<State>(problem: FitProblem<State>, state: State, known: readonly number[] = []): Tell<State> | null {
  const { parameters: n, moved } = problem
  const J = slopes(problem, state)
  const normal = J.transpose().mmul(J)
  known.forEach((more, i) => normal.set(i, i, normal.get(i, i) + more))
  // Scaled by its own diagonal: a number that is hardly told must not spoil the rest.
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
  return (
    covariance &&
    ((value) => {
      const slope = Matrix.columnVector(
        Array.from({ length: n }, (_, k) => (value(moved(state, unit(n, k, STEP))) - value(moved(state, unit(n, k, -STEP)))) / (2 * STEP)),
      )
      return { value: value(state), sigma: Math.sqrt(Math.max(0, slope.transpose().mmul(covariance).mmul(slope).get(0, 0))) }
    })
  )
}
