import { readFileSync } from 'node:fs'
import { gunzipSync } from 'node:zlib'
import { readBvh } from '../mocap/bvh'
import { BAG_POINTS, bagRest, bagTriangles, bagUnwrapped, contactInstant, hangBag, swing, type BagMotion, type Fist } from './bag'
import { bodyParts, FIST_RADIUS, FIST_REACH, handAxis, type Material, type Part } from './body'
import { clouds } from './noise'
import { carried, figureOf, poseAt, type Figure, type Pose } from './pose'
import { plus, type Vector } from './quaternion'
import { carry, dualQuaternions, skinOf, type Skin } from './skin'

/// Everything that moves, as one list of points and triangles: the boxer in his kit, and the bag.

export const CAPTURE_RATE = 120
export const MATERIALS = ['skin', 'trunks', 'glove', 'shoe', 'headguard', 'bag', 'vest'] as const satisfies readonly (Material | 'bag')[]

/// Features a metre of each material's quick and slow mottle.
const MOTTLE: readonly (readonly [number, number])[] = [
  [16, 8],
  [22, 9],
  [26, 9],
  [30, 9],
  [28, 9],
  [1, 1],
  [24, 10],
]

export interface Cast {
  readonly figure: Figure
  readonly skins: readonly Skin[]
  readonly triangles: Uint32Array
  /// Per point: index into MATERIALS; rest place (for textures); two depths of mottle, −1 … 1 (on
  /// the bag: the place on its texture).
  readonly material: Uint8Array
  readonly rest: Float32Array
  readonly mottle: Float32Array
  readonly count: number
}

/// Reads the capture and builds the figure for capture frames `from` … `to`.
export function castOf(capture: string, from: number, to: number, lift: number): Cast {
  const figure = figureOf(readBvh(gunzipSync(readFileSync(capture)).toString('latin1')), from, to, lift)
  const parts = bodyParts(figure)
  const skins = parts.map((part) => skinOf(figure, part.surface, part.bones))
  const count = parts.reduce((n, p) => n + p.surface.points.length / 3, 0) + BAG_POINTS
  const material = new Uint8Array(count)
  const rest = new Float32Array(count * 3)
  const triangles: number[] = []
  let at = 0
  const add = (kind: (typeof MATERIALS)[number], points: Float32Array, faces: Uint32Array): void => {
    material.fill(MATERIALS.indexOf(kind), at, at + points.length / 3)
    rest.set(points, at * 3)
    for (const i of faces) triangles.push(i + at)
    at += points.length / 3
  }
  for (const part of parts)
    add(part.material, part.surface.points, part.material === 'skin' ? uncovered(part, parts) : part.surface.triangles)
  add('bag', bagRest, bagTriangles)
  const mottle = new Float32Array(count * 2)
  for (let v = 0; v < count; v++) {
    const [x, y, z] = [rest[3 * v]!, rest[3 * v + 1]!, rest[3 * v + 2]!]
    const [quick, slow] = MOTTLE[material[v]!]!
    mottle[2 * v] = clouds(quick * x + 3, quick * y, quick * z)
    mottle[2 * v + 1] = clouds(slow * x, slow * y + 11, slow * z)
  }
  mottle.set(bagUnwrapped, (count - BAG_POINTS) * 2)
  return { figure, skins, triangles: Uint32Array.from(triangles), material, rest, mottle, count }
}

/// Skin that no kit hides: only triangles with a corner less than 7 mm under everything else.
function uncovered(skin: Part, parts: readonly Part[]): Uint32Array {
  const { points, triangles } = skin.surface
  const hidden = new Uint8Array(points.length / 3)
  for (const { material, solid } of parts) {
    if (material === 'skin') continue
    for (let v = 0; v < hidden.length; v++) if (solid(points[3 * v]!, points[3 * v + 1]!, points[3 * v + 2]!) < -0.007) hidden[v] = 1
  }
  const kept: number[] = []
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [triangles[t]!, triangles[t + 1]!, triangles[t + 2]!]
    if (!(hidden[a] && hidden[b] && hidden[c])) kept.push(a, b, c)
  }
  return Uint32Array.from(kept)
}

/// The glove's striking end: a ball fixed to the hand.
export function fistOf(figure: Figure, pose: Pose, side: 'l' | 'r'): Fist {
  const bone = figure.index.get(`${side}Hand`)!
  const axis = handAxis(figure)
  const wrist = figure.rest[bone]!
  const mirrored: Vector = side === 'l' ? axis : [-axis[0], axis[1], axis[2]]
  return { centre: carried(figure, pose, bone, plus(wrist, mirrored, FIST_REACH)), radius: FIST_RADIUS }
}

/// One strike of the trial on one bag: who, when, where the bag hangs, and the instant of contact.
export interface Strike {
  readonly cast: Cast
  readonly bag: BagMotion
  readonly contact_s: number
}

export function strikeOf(cast: Cast, home: readonly [number, number], from_s: number, to_s: number, near_s: number): Strike {
  const poseOf = (t: number): Pose => poseAt(cast.figure, t * CAPTURE_RATE)
  const fists = new Map<number, Fist[]>()
  const fistsAt = (t: number): Fist[] => {
    const key = Math.round(t * 960)
    let found = fists.get(key)
    if (!found) {
      const pose = poseOf(key / 960)
      found = [fistOf(cast.figure, pose, 'l'), fistOf(cast.figure, pose, 'r')]
      fists.set(key, found)
    }
    return found
  }
  const bag = swing(home, fistsAt, from_s, to_s)
  const contact_s = contactInstant(bag, (t) => fistOf(cast.figure, poseOf(t), 'r'), near_s - 0.06, near_s + 0.06)
  return { cast, bag, contact_s }
}

/// Puts everything in its place at one instant (file seconds of the capture).
export function placeCast(strike: Strike, seconds: number, points: Float32Array, normals: Float32Array): void {
  const { cast, bag } = strike
  const pose = poseAt(cast.figure, seconds * CAPTURE_RATE)
  const bones = dualQuaternions(cast.figure, pose)
  let at = 0
  for (const skin of cast.skins) {
    carry(skin, bones, points, normals, at)
    at += skin.surface.points.length
  }
  hangBag(bag.home, bag.at(seconds), [fistOf(cast.figure, pose, 'l'), fistOf(cast.figure, pose, 'r')], points, normals, at)
}

/// The same without normals.
export function moveCast(strike: Strike, seconds: number, points: Float32Array): void {
  const { cast, bag } = strike
  const pose = poseAt(cast.figure, seconds * CAPTURE_RATE)
  const bones = dualQuaternions(cast.figure, pose)
  let at = 0
  for (const skin of cast.skins) {
    carry(skin, bones, points, null, at)
    at += skin.surface.points.length
  }
  hangBag(bag.home, bag.at(seconds), [fistOf(cast.figure, pose, 'l'), fistOf(cast.figure, pose, 'r')], points, null, at)
}
