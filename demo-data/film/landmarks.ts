import type { Strike } from './cast'
import { CAPTURE_RATE, fistOf } from './cast'
import { BAG_BOTTOM, BAG_TOP } from './bag'
import { SOLE_BELOW_ANKLE } from './body'
import { carried, poseAt } from './pose'
import { plus, unit, type Vector } from './quaternion'

/// Where every named point of the boxer and the bag truly is: joint centres, the glove's front,
/// crown, chin, heel and toe. Middles are halfway between left and right, in space.

export interface TruePoint {
  readonly name: string
  readonly at: Vector
  /// How deep under the surface that shows it a camera may find the point, metres.
  readonly depth: number
}

const JOINTS = [
  ['shoulder', 'Shldr', 0.09],
  ['elbow', 'ForeArm', 0.07],
  ['wrist', 'Hand', 0.06],
  ['hip', 'Thigh', 0.2],
  ['knee', 'Shin', 0.075],
  ['ankle', 'Foot', 0.085],
] as const

export function truePoints(strike: Strike, seconds: number): TruePoint[] {
  const { figure } = strike.cast
  const pose = poseAt(figure, seconds * CAPTURE_RATE)
  const bone = (name: string): number => figure.index.get(name)!
  const out: TruePoint[] = []
  for (const [word, side] of [
    ['left', 'l'],
    ['right', 'r'],
  ] as const) {
    for (const [name, joint, depth] of JOINTS) out.push({ name: `${name}.${word}`, at: pose.places[bone(side + joint)]!, depth })
    const fist = fistOf(figure, pose, side)
    const towards = unit(plus(fist.centre, pose.places[bone(`${side}Hand`)]!, -1))
    out.push({ name: `fist.${word}`, at: plus(fist.centre, towards, fist.radius), depth: 0.05 })
    const foot = bone(`${side}Foot`)
    const ankle = figure.rest[foot]!
    out.push({
      name: `heel.${word}`,
      at: carried(figure, pose, foot, [ankle[0], ankle[1] - SOLE_BELOW_ANKLE, ankle[2] - 0.074]),
      depth: 0.06,
    })
    out.push({
      name: `toe.${word}`,
      at: carried(figure, pose, foot, [ankle[0] + (side === 'l' ? 0.012 : -0.012), ankle[1] - SOLE_BELOW_ANKLE + 0.02, ankle[2] + 0.155]),
      depth: 0.06,
    })
  }
  const find = (name: string): Vector => out.find((p) => p.name === name)!.at
  const head = bone('head')
  out.push({ name: 'head.top', at: carried(figure, pose, head, [0, 0.84, -0.01]), depth: 0.06 })
  out.push({ name: 'chin', at: carried(figure, pose, head, [0, 0.612, 0.085]), depth: 0.06 })
  for (const name of ['hip', 'shoulder']) {
    const a = find(`${name}.left`)
    out.push({ name: `${name}.mid`, at: plus(a, plus(find(`${name}.right`), a, -1), 0.5), depth: 0.16 })
  }
  const bag = strike.bag.at(seconds)
  const hang = (y: number): Vector => [strike.bag.home[0] + bag.x * ((3.7 - y) / 2.5), y, strike.bag.home[1] + bag.z * ((3.7 - y) / 2.5)]
  out.push({ name: 'bag.top', at: hang(BAG_TOP), depth: 0.2 }, { name: 'bag.bottom', at: hang(BAG_BOTTOM), depth: 0.2 })
  return out
}
