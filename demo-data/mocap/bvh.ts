/// Reads motion capture in the Biovision hierarchy format (BVH) and walks its skeleton.

export type Vector3 = readonly [number, number, number]

export type Channel = 'Xposition' | 'Yposition' | 'Zposition' | 'Xrotation' | 'Yrotation' | 'Zrotation'

export interface BvhJoint {
  /// Its name in the file; an end site is named after its parent, "lFoot.end".
  readonly name: string
  /// Index into `joints`; −1 for the root. A parent comes before its children.
  readonly parent: number
  /// From the parent, in the file's own unit (centimetres here), at rest.
  readonly offset: Vector3
  readonly channels: readonly Channel[]
  /// Where this joint's first channel stands in a frame's row of `motion`.
  readonly firstChannel: number
}

export interface Bvh {
  readonly joints: readonly BvhJoint[]
  readonly frames: number
  /// Seconds.
  readonly frameTime: number
  /// `frames` rows of one number per channel, in the order of the joints.
  readonly motion: Float64Array
  readonly channelCount: number
}

const CHANNELS: readonly string[] = ['Xposition', 'Yposition', 'Zposition', 'Xrotation', 'Yrotation', 'Zrotation']

/// Reads a whole BVH text. Throws on text that is not BVH: the two files here are our own data.
export function readBvh(text: string): Bvh {
  const tokens = text.split(/\s+/).filter((t) => t !== '')
  let at = 0
  const next = (): string => {
    const token = tokens[at++]
    if (token === undefined) throw new RangeError('the BVH text ends early')
    return token
  }
  const expect = (word: string): void => {
    const token = next()
    if (token !== word) throw new RangeError(`the BVH text has "${token}" where "${word}" belongs`)
  }
  const number = (): number => {
    const value = Number(next())
    if (!Number.isFinite(value)) throw new RangeError('the BVH text has a word where a number belongs')
    return value
  }
  const joints: BvhJoint[] = []
  let channelCount = 0
  const readJoint = (name: string, parent: number): void => {
    expect('{')
    expect('OFFSET')
    const offset: Vector3 = [number(), number(), number()]
    const channels: Channel[] = []
    const firstChannel = channelCount
    const index = joints.length
    let token = next()
    if (token === 'CHANNELS') {
      const count = number()
      for (let i = 0; i < count; i++) {
        const channel = next()
        if (!CHANNELS.includes(channel)) throw new RangeError(`unknown BVH channel "${channel}"`)
        channels.push(channel as Channel)
      }
      channelCount += count
      token = next()
    }
    joints.push({ name, parent, offset, channels, firstChannel })
    while (token !== '}') {
      if (token === 'JOINT') readJoint(next(), index)
      else if (token === 'End') {
        expect('Site')
        readJoint(`${name}.end`, index)
      } else throw new RangeError(`the BVH text has "${token}" where a joint belongs`)
      token = next()
    }
  }
  expect('HIERARCHY')
  expect('ROOT')
  readJoint(next(), -1)
  expect('MOTION')
  expect('Frames:')
  const frames = number()
  expect('Frame')
  expect('Time:')
  const frameTime = number()
  const motion = new Float64Array(frames * channelCount)
  for (let i = 0; i < motion.length; i++) motion[i] = number()
  return { joints, frames, frameTime, motion, channelCount }
}

/// A 3×3 rotation, row by row.
type Rotation = readonly [number, number, number, number, number, number, number, number, number]
const UNTURNED: Rotation = [1, 0, 0, 0, 1, 0, 0, 0, 1]

function times(a: Rotation, b: Rotation): Rotation {
  const r = (i: number, j: number): number => a[3 * i]! * b[j]! + a[3 * i + 1]! * b[3 + j]! + a[3 * i + 2]! * b[6 + j]!
  return [r(0, 0), r(0, 1), r(0, 2), r(1, 0), r(1, 1), r(1, 2), r(2, 0), r(2, 1), r(2, 2)]
}

function rotationAbout(channel: Channel, deg: number): Rotation {
  const c = Math.cos((deg * Math.PI) / 180)
  const s = Math.sin((deg * Math.PI) / 180)
  if (channel === 'Xrotation') return [1, 0, 0, 0, c, -s, 0, s, c]
  if (channel === 'Yrotation') return [c, 0, s, 0, 1, 0, -s, 0, c]
  return [c, -s, 0, s, c, 0, 0, 0, 1]
}

const METRES_PER_UNIT = 0.01

/// Where every joint is at one frame of the file (0 first), in metres, Y up. Throws outside the file.
export function jointPositions(bvh: Bvh, frame: number): Map<string, Vector3> {
  if (!Number.isInteger(frame) || frame < 0 || frame >= bvh.frames)
    throw new RangeError(`frame ${frame} is outside the ${bvh.frames} captured`)
  const row = frame * bvh.channelCount
  const turned: Rotation[] = []
  const places: Vector3[] = []
  const named = new Map<string, Vector3>()
  for (const joint of bvh.joints) {
    let local: Rotation = UNTURNED
    let [dx, dy, dz] = joint.offset
    joint.channels.forEach((channel, i) => {
      const value = bvh.motion[row + joint.firstChannel + i]!
      if (channel === 'Xposition') dx += value
      else if (channel === 'Yposition') dy += value
      else if (channel === 'Zposition') dz += value
      else local = times(local, rotationAbout(channel, value))
    })
    const above = turned[joint.parent] ?? UNTURNED
    const [px, py, pz] = places[joint.parent] ?? [0, 0, 0]
    turned.push(times(above, local))
    const place: Vector3 = [
      px + above[0] * dx + above[1] * dy + above[2] * dz,
      py + above[3] * dx + above[4] * dy + above[5] * dz,
      pz + above[6] * dx + above[7] * dy + above[8] * dz,
    ]
    places.push(place)
    named.set(joint.name, [place[0] * METRES_PER_UNIT, place[1] * METRES_PER_UNIT, place[2] * METRES_PER_UNIT])
  }
  return named
}
