import { beforeAll, describe, expect, it } from 'vitest'
import { FilmPainting } from '../../../demo-data/film/film-painting'
import { films, type FilmRecipe } from '../../../demo-data/film/recipes'
import type { Truth } from '../../../demo-data/film/truth'
import { pinhole } from '../../../demo-data/mocap/camera'

/// A small, short film of the first recipe: a quarter of its size, around contact.
const whole = films[0]!
const small: FilmRecipe = {
  ...whole,
  camera: { ...whole.camera, width: 320, height: 180, focal_px: whole.camera.focal_px / 4 },
  first: whole.first + 150,
  frames: 14,
  samples: 3,
}
const capture = 'demo-data/mocap/cmu_13_18_first_15s.bvh.gz'

describe('a painted film', () => {
  let frames: Uint8Array[] = []
  let again: Uint8Array[] = []
  let truth: Truth
  beforeAll(() => {
    const paint = (): [Uint8Array[], Truth] => {
      const painting = new FilmPainting(small, capture)
      return [Array.from({ length: small.frames }, (_, n) => painting.paint(n)), painting.truth()]
    }
    ;[frames, truth] = paint()
    ;[again] = paint()
  }, 60_000)

  it('is the same to the last bit when painted again', () => {
    for (const [n, frame] of frames.entries()) expect(Buffer.compare(frame, again[n]!), `frame ${n}`).toBe(0)
  })

  it('keeps to the studio range', () => {
    const luma = frames[3]!.subarray(0, 320 * 180)
    expect(Math.min(...luma)).toBeGreaterThanOrEqual(16)
    expect(Math.max(...luma)).toBeLessThanOrEqual(235)
    expect(Math.max(...luma) - Math.min(...luma)).toBeGreaterThan(120)
  })

  it('writes the exact projection of every landmark', () => {
    const camera = pinhole(truth.camera)
    for (const track of truth.points)
      track.metres.forEach((at, n) => {
        const { x, y } = camera.project(at)
        expect(Math.hypot(x - track.px[n]![0], y - track.px[n]![1]), `${track.name} ${n}`).toBeLessThan(1e-3)
      })
  })

  it('says how it was shot', () => {
    expect(truth.captureFactor).toBe('1')
    expect(truth.contact.frame / 120).toBeCloseTo(truth.contact.seconds, 4)
    expect(
      truth.points.every((p) => p.seen.length === small.frames && p.px.length === small.frames && p.blur.length === small.frames),
    ).toBe(true)
  })

  it('shows the red glove where the truth says it is', () => {
    const fist = truth.points.find((p) => p.name === 'fist.right')!
    const wrist = truth.points.find((p) => p.name === 'wrist.right')!
    const red = (n: number, x: number, y: number): number => frames[n]![320 * 180 + 160 * 90 + Math.floor(y / 2) * 160 + Math.floor(x / 2)]!
    for (const n of [0, 13]) {
      const x = 0.7 * fist.px[n]![0] + 0.3 * wrist.px[n]![0]
      const y = 0.7 * fist.px[n]![1] + 0.3 * wrist.px[n]![1]
      expect(red(n, x, y), `frame ${n}`).toBeGreaterThan(145)
      expect(red(n, x, y + 60), `frame ${n}, below the glove`).toBeLessThan(138)
    }
  })
})
