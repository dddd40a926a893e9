import { expect, test } from 'vitest'
import { applySimilarity, type Similarity } from '../../../app/geometry/similarity'
import { cameraMotion } from '../../../app/measure/camera-motion'
import { measureContext } from '../../../app/measure/context'
import type { Breakdown } from '../../../app/project/breakdown'
import type { Point } from '../../../app/project/fields'
import { evenFrameTable } from '../../../app/time/frame-table'
import { rational } from '../../../app/time/rational'
import { followBackground, LEAST_AGREEING, type Background, type BackgroundPlan } from '../../../app/track/background'
import type { GreyPicture } from '../../../app/track/grey-picture'
import { CIRCLE_95 } from '../../../app/track/tracked-error'
import { films } from '../../../demo-data/film/recipes'
import { greysOf, paintedFilm } from '../../track-trial'

/// Cameras whose motion is known: a window that pans, rolls and zooms along a known path over the frames of a real film that
/// was shot from a stand (one signer; sample videos of the intel-iot-devkit collection, CC BY 4.0) and of a drawn one, people
/// moving in both. What is held to the truth is what a measure gets: the motion between two frames, and its own error.

interface View {
  readonly width: number
  readonly height: number
  /// From the film's picture to the window's, frame by frame.
  readonly map: (frame: number) => Similarity
}

/// The window's pictures, each pixel taken from between four of the film's.
function seenThrough(greys: readonly GreyPicture[], { width, height, map }: View): GreyPicture[] {
  return greys.map((grey, frame) => {
    const { a, b, e, f } = map(frame)
    const size = a * a + b * b
    const data = new Uint8Array(width * height)
    for (let j = 0; j < height; j++)
      for (let i = 0; i < width; i++) {
        const [u, v] = [i + 0.5 - e, j + 0.5 - f]
        const [x, y] = [(a * u + b * v) / size - 0.5, (a * v - b * u) / size - 0.5]
        const [x0, y0] = [Math.max(0, Math.min(grey.width - 2, Math.floor(x))), Math.max(0, Math.min(grey.height - 2, Math.floor(y)))]
        const [p, q] = [x - x0, y - y0]
        const at = y0 * grey.width + x0
        data[j * width + i] = Math.round(
          (1 - q) * ((1 - p) * grey.data[at]! + p * grey.data[at + 1]!) +
            q * ((1 - p) * grey.data[at + grey.width]! + p * grey.data[at + grey.width + 1]!),
        )
      }
    return { width, height, data }
  })
}

const turned = (zoom: number, roll: number, x: number, y: number): Similarity => ({
  a: zoom * Math.cos(roll),
  b: zoom * Math.sin(roll),
  e: x,
  f: y,
})

/// How far the motion from every frame to the first is off at five places of the picture, and how often its own error holds it.
function against(background: Background, view: View): { readonly off: number[]; readonly inside: number; readonly compared: number } {
  const landmarks = background.points.map(({ places }, i) => ({
    clip: 'c1',
    subject: 's1',
    point: `background.${i}`,
    samples: places.map(({ frame, at, sigma }) => ({ frame, at: [at[0], at[1]] as [number, number], sigma, origin: 'tracked' as const })),
  }))
  const names = landmarks.map(({ point }) => point)
  const breakdown: Breakdown = {
    format: 'claimframe-breakdown',
    version: 1,
    title: 'A pan',
    output: { width: 320, height: 180, rate: '30/1' },
    footage: [{ id: 'f1', file: 'pan.mp4' }],
    subjects: [{ id: 's1', name: 'Nela Varga' }],
    clips: [{ id: 'c1', footage: 'f1', from: 0, to: 1000, capture: { factor: '1', u: 0 } }],
    landmarks,
    script: [],
  }
  const context = measureContext(breakdown, () => ({ ...evenFrameTable(1000, rational(30)), picture: view }))
  const off: number[] = []
  let inside = 0
  for (let frame = 1; frame < background.frames; frame++) {
    const motion = cameraMotion(context, context.clip('c1')!, 's1', { background: names }, frame, 0)
    if (!motion.ok) continue
    for (const [u, v] of [
      [0.5, 0.5],
      [0.25, 0.25],
      [0.75, 0.25],
      [0.25, 0.75],
      [0.75, 0.75],
    ] as const) {
      const here: Point = [u * view.width, v * view.height]
      const { a, b, e, f } = view.map(frame)
      const size = a * a + b * b
      const source: Point = [(a * (here[0] - e) + b * (here[1] - f)) / size, (a * (here[1] - f) - b * (here[0] - e)) / size]
      const truth = applySimilarity(view.map(0), source)
      const { at, errors } = motion.value.steady(here)
      const distance = Math.hypot(at[0] - truth[0], at[1] - truth[1])
      off.push(distance)
      if (distance <= CIRCLE_95 * errors[0]!.sigma) inside++
    }
  }
  return { off: off.sort((x, y) => x - y), inside: inside / off.length, compared: off.length }
}

const run = async (greys: readonly GreyPicture[], plan: Pick<BackgroundPlan, 'people'>): Promise<Background> =>
  (await followBackground(
    { from: 0, last: greys.length - 1, ...plan },
    (frame) => Promise.resolve(greys[frame] ?? null),
    () => true,
    () => undefined,
  ))!
const told = (name: string, background: Background, { off, inside, compared }: ReturnType<typeof against>): void =>
  console.info(
    `${name}: ${background.frames} frames, ${background.points.length} places kept, residual ${background.residual?.toFixed(2)} px; off ${off[off.length >> 1]!.toFixed(2)} px median, ${off[Math.floor(0.95 * off.length)]!.toFixed(2)} p95, ${off.at(-1)!.toFixed(2)} at most; ${(100 * inside).toFixed(1)} % of ${compared} inside their own 95 % circle`,
  )

test.each([
  {
    name: 'the signer, pan and roll, her place known',
    people: [{ frame: 0, area: [130, 20, 270, 400] as const }],
    map: (n: number) => turned(1, 0.015 * Math.sin(n / 15), -45 + 35 * Math.sin(n / 14), -35 - 20 * Math.sin(n / 11)),
  },
  {
    name: 'the signer, pan and zoom, her place known',
    people: [{ frame: 0, area: [130, 20, 270, 400] as const }],
    map: (n: number) => turned(1.06 + 0.04 * Math.sin(n / 25), 0, -60 - 35 * Math.sin(n / 16), -40 + 20 * Math.sin(n / 11)),
  },
])(
  '$name: the camera’s motion is found, and its own error holds it',
  async ({ name, people, map }) => {
    const view: View = { width: 540, height: 400, map }
    const greys = seenThrough((await greysOf('tests/data/video/asl_walk.mkv', 640, 480)).slice(0, 60), view)
    const background = await run(greys, { people })
    expect(background.stopped).toBeNull()
    const result = against(background, view)
    told(name, background, result)
    expect(result.inside).toBeGreaterThanOrEqual(0.95)
    expect(result.off.at(-1)!).toBeLessThan(2)
  },
  60_000,
)

test('the drawn hall, pan and zoom, a striking figure before it: the camera’s motion is found, and its own error holds it', async () => {
  const recipe = films.find(({ name }) => name === 'bout-b-side')!
  const { greys: painted, truth } = await paintedFilm({ ...recipe, first: recipe.first + 92, frames: 41, samples: 1 })
  const { width, height } = recipe.camera
  const view: View = {
    width: width - 120,
    height: height - 100,
    map: (n) => turned(1.04 + 0.03 * Math.sin(n / 9), 0.01 * Math.sin(n / 7), -80 + 1.2 * n, -60 - 20 * Math.sin(n / 8)),
  }
  const people = [0, 20, 40].map((frame) => {
    const at = truth.points.map(({ px }) => applySimilarity(view.map(frame), px[frame]!))
    const [left, top] = [Math.min(...at.map(([x]) => x)) - 40, Math.min(...at.map(([, y]) => y)) - 60]
    return { frame, area: [left, top, Math.max(...at.map(([x]) => x)) + 40 - left, Math.max(...at.map(([, y]) => y)) + 40 - top] as const }
  })
  const background = await run(seenThrough(painted, view), { people })
  const result = against(background, view)
  told('the drawn hall', background, result)
  expect(background.stopped).toBeNull()
  expect(background.frames).toBe(41)
  expect(result.inside).toBeGreaterThanOrEqual(0.95)
  expect(result.off.at(-1)!).toBeLessThan(2)
}, 60_000)

test('a film in which too little agrees is told, with the frame, and nothing beyond it is kept', async () => {
  const still = (await greysOf('tests/data/video/asl_walk.mkv', 640, 480)).slice(0, 12)
  let seed = 7
  const noise = (): number => (seed = (seed * 1_103_515_245 + 12_345) % 2 ** 31) / 2 ** 31
  const broken = still.map((grey, n) => (n < 6 ? grey : { ...grey, data: Uint8Array.from(grey.data, () => 255 * noise()) }))
  const background = await run(broken, { people: [] })
  expect(background.stopped).toMatchObject({ frame: 6 })
  expect(background.stopped!.agreed).toBeLessThan(LEAST_AGREEING)
  expect(background.frames).toBe(6)
  expect(Math.max(...background.points.flatMap(({ places }) => places.map(({ frame }) => frame)))).toBe(5)
  const flat = await run(
    still.map((grey) => ({ ...grey, data: new Uint8Array(grey.data.length).fill(90) })),
    { people: [] },
  )
  expect(flat).toMatchObject({ points: [], frames: 1, residual: null, stopped: { frame: 0, agreed: 0, followed: 0 } })
})
