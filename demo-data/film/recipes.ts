import type { PinholeSetup } from '../mocap/camera'
import type { RingSide } from './hall'
import type { Look } from './painter'

/// The films of the demo: two evenings at an invented club, each a strike of the captured boxing
/// trial on a heavy bag. Nobody in them exists.

export interface Bout {
  readonly id: 'a' | 'b'
  /// Near which second of the capture the right fist meets the bag, and where the bag hangs (x, z).
  readonly near_s: number
  readonly bag: readonly [number, number]
  /// Raises the figure so that its lowest step stands on the canvas, metres.
  readonly lift: number
  readonly look: Look
}

export interface FilmRecipe {
  readonly name: string
  readonly bout: Bout
  readonly camera: PinholeSetup
  readonly open: readonly RingSide[]
  /// Frames shown, and the capture's instant of the first, in capture frames (120 a second).
  readonly first: number
  readonly frames: number
  /// Real frames a second, and the frames a second that the file plays at.
  readonly captureRate: number
  readonly fileRate: number
  readonly shutter_s: number
  readonly samples: number
}

const WARM: readonly [number, number, number] = [1.0, 0.72, 0.42]
const WHITE: readonly [number, number, number] = [1.0, 0.93, 0.82]
const COOL: readonly [number, number, number] = [0.5, 0.72, 1.0]

const evening: Look = {
  kit: {
    skin: [0.36, 0.2, 0.13],
    trunks: [0.022, 0.035, 0.1],
    trunksTrim: [0.62, 0.43, 0.12],
    glove: [0.36, 0.018, 0.018],
    gloveTrim: [0.6, 0.57, 0.52],
    shoe: [0.03, 0.03, 0.034],
    headguard: [0.3, 0.016, 0.018],
    vest: [0.33, 0.02, 0.022],
    vestTrim: [0.6, 0.57, 0.52],
    bag: [0.045, 0.04, 0.038],
    bagTrim: [0.3, 0.24, 0.1],
  },
  hall: {
    centre: [-1.35, 0.5],
    half: [3.7, 3.2],
    canvas: [0.315, 0.3, 0.28],
    ring: [0.05, 0.075, 0.15],
    ropes: [
      [0.62, 0.6, 0.57],
      [0.42, 0.03, 0.03],
      [0.62, 0.6, 0.57],
      [0.04, 0.06, 0.2],
    ],
    posts: [0.3, 0.03, 0.03],
    air: [0.5, 0.55, 0.75],
    lamps: [WARM, WHITE, WARM, COOL],
    seed: 3,
  },
  rig: {
    key: [-0.5, 1.0, 0.42],
    keyColour: [1.75, 1.52, 1.22],
    rim: [0.85, 0.42, -0.3],
    rimColour: [0.75, 0.95, 1.35],
    skyColour: [0.3, 0.33, 0.4],
    floorColour: [0.17, 0.16, 0.16],
  },
  grain: 2.1,
}

const lateShow: Look = {
  kit: {
    skin: [0.46, 0.29, 0.205],
    trunks: [0.42, 0.42, 0.4],
    trunksTrim: [0.02, 0.16, 0.17],
    glove: [0.02, 0.1, 0.3],
    gloveTrim: [0.58, 0.56, 0.5],
    shoe: [0.36, 0.36, 0.36],
    headguard: [0.02, 0.085, 0.25],
    vest: [0.02, 0.1, 0.28],
    vestTrim: [0.58, 0.56, 0.5],
    bag: [0.12, 0.042, 0.026],
    bagTrim: [0.045, 0.042, 0.04],
  },
  hall: {
    centre: [1.45, 0.5],
    half: [3.7, 3.2],
    canvas: [0.2, 0.235, 0.29],
    ring: [0.32, 0.3, 0.26],
    ropes: [
      [0.04, 0.055, 0.16],
      [0.55, 0.54, 0.52],
      [0.04, 0.055, 0.16],
      [0.55, 0.54, 0.52],
    ],
    posts: [0.04, 0.06, 0.2],
    air: [0.42, 0.62, 0.75],
    lamps: [COOL, WHITE, COOL, [1.0, 0.55, 0.5]],
    seed: 8,
  },
  rig: {
    key: [0.45, 1.0, 0.5],
    keyColour: [1.5, 1.5, 1.5],
    rim: [-0.85, 0.45, -0.25],
    rimColour: [1.3, 0.9, 0.62],
    skyColour: [0.3, 0.36, 0.44],
    floorColour: [0.13, 0.15, 0.18],
  },
  grain: 2.4,
}

export const boutA: Bout = { id: 'a', near_s: 1229 / 120, bag: [0.1, 1.08], lift: -0.008, look: evening }
export const boutB: Bout = { id: 'b', near_s: 1440 / 120, bag: [-0.3, 1.235], lift: 0, look: lateShow }

const SIZE = { width: 1280, height: 720 }

export const films: readonly FilmRecipe[] = [
  {
    name: 'bout-a-side',
    bout: boutA,
    camera: { ...SIZE, position: [-4.75, 1.35, 0.52], target: [0, 0.92, 0.52], focal_px: 1440 },
    open: ['-x'],
    first: 1229 - 156,
    frames: 240,
    captureRate: 120,
    fileRate: 120,
    shutter_s: 1 / 240,
    samples: 5,
  },
  {
    name: 'bout-b-side',
    bout: boutB,
    camera: { ...SIZE, position: [4.8, 1.3, 0.5], target: [-0.05, 0.92, 0.5], focal_px: 1440 },
    open: ['+x'],
    first: 1439 - 132,
    frames: 240,
    captureRate: 120,
    fileRate: 120,
    shutter_s: 1 / 240,
    samples: 5,
  },
  {
    name: 'bout-a-high',
    bout: boutA,
    camera: { ...SIZE, position: [-1.6, 5.0, -2.0], target: [0.16, 0.86, 0.62], focal_px: 2050 },
    open: ['-x'],
    first: 1229 - 60,
    frames: 96,
    captureRate: 120,
    fileRate: 120,
    shutter_s: 1 / 240,
    samples: 5,
  },
  {
    name: 'bout-b-far',
    bout: boutB,
    camera: { ...SIZE, position: [3.1, 1.6, 4.6], target: [0, 0.92, 0.5], focal_px: 1440 },
    open: ['+x', '+z'],
    first: 1439 - 132,
    frames: 60,
    captureRate: 30,
    fileRate: 30,
    shutter_s: 1 / 90,
    samples: 12,
  },
  {
    name: 'bout-b-replay',
    bout: boutB,
    camera: { ...SIZE, position: [-3.0, 1.15, -2.5], target: [-0.12, 0.98, 0.62], focal_px: 1560 },
    open: ['-x', '-z'],
    first: 1439 - 48,
    frames: 84,
    captureRate: 120,
    fileRate: 30,
    shutter_s: 1 / 240,
    samples: 5,
  },
]

/// The instant that a film's frame shows, seconds of the capture.
export const instantOf = (film: FilmRecipe, frame: number): number => film.first / 120 + frame / film.captureRate

/// Raised whenever the painting itself changes, so that films are made again.
export const PAINTING_VERSION = '4'
