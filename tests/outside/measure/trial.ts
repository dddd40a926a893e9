import { readFileSync } from 'node:fs'
import { gunzipSync } from 'node:zlib'
import { jointPositions, readBvh, type Vector3 } from '../../../demo-data/mocap/bvh'
import { pinhole, type Pinhole } from '../../../demo-data/mocap/camera'

/// Captured motion as landmarks in space. The data was obtained from mocap.cs.cmu.edu; the
/// database was created with funding from NSF EIA-0196217 (demo-data/mocap/NOTICE.md).

/// Frames that the conversion added: a T-pose and its blend into the motion.
const ADDED_FRAMES = 12

const LANDMARKS: Readonly<Record<string, string>> = {
  'shoulder.left': 'lShldr',
  'elbow.left': 'lForeArm',
  'wrist.left': 'lHand',
  'hip.left': 'lThigh',
  'knee.left': 'lShin',
  'ankle.left': 'lFoot',
  'toe.left': 'lFoot.end',
  'shoulder.right': 'rShldr',
  'elbow.right': 'rForeArm',
  'wrist.right': 'rHand',
  'hip.right': 'rThigh',
  'knee.right': 'rShin',
  'ankle.right': 'rFoot',
  'toe.right': 'rFoot.end',
  neck: 'neck',
  head: 'head',
}

export type Pose = ReadonlyMap<string, Vector3>

export interface Trial {
  readonly rate: number
  /// From the first captured frame on; index 0 is the file's frame 12.
  readonly poses: readonly Pose[]
  /// Standing height judged from thigh and shank by Winter's shares, metres.
  readonly height: number
}

export const addedFrames = ADDED_FRAMES

export function readTrial(file: 'cmu_13_18_first_15s' | 'cmu_10_05'): Trial {
  const bvh = readBvh(gunzipSync(readFileSync(`demo-data/mocap/${file}.bvh.gz`)).toString('utf8'))
  const poses: Pose[] = []
  for (let frame = ADDED_FRAMES; frame < bvh.frames; frame++) {
    const joints = jointPositions(bvh, frame)
    poses.push(new Map(Object.entries(LANDMARKS).map(([name, joint]) => [name, joints.get(joint)!])))
  }
  const first = poses[0]!
  const span = (a: string, b: string): number => distance(first.get(a)!, first.get(b)!)
  const height = (span('hip.left', 'knee.left') / 0.245 + span('knee.left', 'ankle.left') / 0.246) / 2
  return { rate: 120, poses, height }
}

export const between = (a: Vector3, b: Vector3): Vector3 => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2]
export const minus3 = (a: Vector3, b: Vector3): Vector3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
export const dot3 = (a: Vector3, b: Vector3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
export const cross3 = (a: Vector3, b: Vector3): Vector3 => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
export const distance = (a: Vector3, b: Vector3): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2])

export interface CameraPlace {
  readonly azimuth_deg: number
  /// Degrees above the pelvis's horizon.
  readonly elevation_deg: number
  /// Standing height of the figure on the picture.
  readonly figure_px: number
  readonly distance_m: number
  readonly roll_deg?: number
}

export const PICTURE = { width: 1920, height: 1080 } as const

/// A camera that looks at the pelvis of one pose.
export function cameraAround(trial: Trial, pose: Pose, place: CameraPlace): Pinhole {
  const pelvis = between(pose.get('hip.left')!, pose.get('hip.right')!)
  const azimuth = (place.azimuth_deg * Math.PI) / 180
  const elevation = (place.elevation_deg * Math.PI) / 180
  const d = place.distance_m
  const position: Vector3 = [
    pelvis[0] + d * Math.cos(elevation) * Math.sin(azimuth),
    pelvis[1] + d * Math.sin(elevation),
    pelvis[2] + d * Math.cos(elevation) * Math.cos(azimuth),
  ]
  return pinhole({
    position,
    target: pelvis,
    focal_px: (place.figure_px * d) / trial.height,
    ...PICTURE,
    ...(place.roll_deg === undefined ? {} : { roll_deg: place.roll_deg }),
  })
}
