import type { Bvh } from '../mocap/bvh'
import { between, plus, timesTurn, turnAbout, turned, UNTURNED, type Quaternion, type Vector } from './quaternion'

/// The captured motion carried by the drawn figure: the turns are the capture's, some lengths are
/// the figure's own (the capture's retargeted skeleton is narrow in the shoulder and short in the
/// thigh). Angles and times stay what was captured; the truth is of the figure as drawn.

export interface Figure {
  readonly names: readonly string[]
  readonly parents: readonly number[]
  /// From the parent, metres.
  readonly offsets: readonly Vector[]
  /// Joint places with every joint unturned and the root at the origin, metres.
  readonly rest: readonly Vector[]
  readonly index: ReadonlyMap<string, number>
  /// Local turns and root places per captured frame.
  readonly turns: readonly (readonly Quaternion[])[]
  readonly roots: readonly Vector[]
}

/// Every joint's place and turn in the hall at one instant.
export interface Pose {
  readonly places: readonly Vector[]
  readonly turns: readonly Quaternion[]
}

const AXES: Record<string, Vector> = { X: [1, 0, 0], Y: [0, 1, 0], Z: [0, 0, 1] }

/// Scales of single offsets, by joint. Limbs are scaled alike in every direction, so that they point
/// as captured; the shoulders are only moved outwards.
const LENGTHS: Record<string, readonly [number, number, number]> = {
  lShldr: [1.55, 1, 1],
  rShldr: [1.55, 1, 1],
  lShin: [1.12, 1.12, 1.12],
  rShin: [1.12, 1.12, 1.12],
}

/// Only the frames `from` … `to` (included) are kept; the others are empty.
/// `lift` raises everything, metres, so that the shoes stand on y = 0.
export function figureOf(bvh: Bvh, from: number, to: number, lift: number): Figure {
  const names = bvh.joints.map((j) => j.name)
  const offsets = bvh.joints.map((j): Vector => {
    const k = LENGTHS[j.name] ?? [1, 1, 1]
    return [j.offset[0] * 0.01 * k[0], j.offset[1] * 0.01 * k[1], j.offset[2] * 0.01 * k[2]]
  })
  const parents = bvh.joints.map((j) => j.parent)
  const rest: Vector[] = []
  offsets.forEach((o, i) => rest.push(parents[i]! < 0 ? [0, 0, 0] : plus(rest[parents[i]!]!, o)))
  const turns: Quaternion[][] = []
  const roots: Vector[] = []
  for (let f = 0; f < bvh.frames; f++) {
    if (f < from || f > to) {
      turns.push([])
      roots.push([0, 0, 0])
      continue
    }
    const row = f * bvh.channelCount
    let root: [number, number, number] = [0, 0, 0]
    turns.push(
      bvh.joints.map((j) => {
        let q: Quaternion = UNTURNED
        j.channels.forEach((channel, c) => {
          const value = bvh.motion[row + j.firstChannel + c]!
          if (channel === 'Xposition') root = [value * 0.01, root[1], root[2]]
          else if (channel === 'Yposition') root = [root[0], value * 0.01 + lift, root[2]]
          else if (channel === 'Zposition') root = [root[0], root[1], value * 0.01]
          else q = timesTurn(q, turnAbout(AXES[channel[0]!]!, value))
        })
        return q
      }),
    )
    roots.push(root)
  }
  return { names, parents, offsets, rest, index: new Map(names.map((n, i) => [n, i])), turns, roots }
}

/// The pose at `at` captured frames (fractions between two frames turn at constant speed).
export function poseAt(figure: Figure, at: number): Pose {
  const f = Math.floor(at)
  const part = at - f
  const a = figure.turns[f]!
  const b = part === 0 ? a : figure.turns[f + 1]!
  const places: Vector[] = []
  const turns: Quaternion[] = []
  figure.offsets.forEach((offset, i) => {
    const parent = figure.parents[i]!
    const local = part === 0 ? a[i]! : between(a[i]!, b[i]!, part)
    if (parent < 0) {
      const from = figure.roots[f]!
      const to = part === 0 ? from : figure.roots[f + 1]!
      places.push(plus([from[0] * (1 - part), from[1] * (1 - part), from[2] * (1 - part)], to, part))
      turns.push(local)
    } else {
      places.push(plus(places[parent]!, turned(turns[parent]!, offset)))
      turns.push(timesTurn(turns[parent]!, local))
    }
  })
  return { places, turns }
}

/// Where a point given in the rest pose, fixed to joint `bone`, is now.
export function carried(figure: Figure, pose: Pose, bone: number, point: Vector): Vector {
  const r = figure.rest[bone]!
  return plus(pose.places[bone]!, turned(pose.turns[bone]!, [point[0] - r[0], point[1] - r[1], point[2] - r[2]]))
}
