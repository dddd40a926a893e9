import { pinhole } from '../mocap/camera'
import { CAPTURE_RATE, castOf, strikeOf, type Strike } from './cast'
import { truePoints } from './landmarks'
import { Painter } from './painter'
import { instantOf, type FilmRecipe } from './recipes'
import type { Truth, TruthTrack } from './truth'

/// Captured frames kept before a film's first: the turns before contact are looked for there.
const BEFORE = 60

/// Paints one film frame by frame and writes down its truth as it goes.
export class FilmPainting {
  readonly strike: Strike
  private readonly painter: Painter
  private readonly tracks = new Map<string, { px: [number, number][]; metres: [number, number, number][]; seen: string; blur: number[] }>()

  constructor(
    readonly recipe: FilmRecipe,
    capture: string,
  ) {
    const first = recipe.first
    const last = first + (recipe.frames * CAPTURE_RATE) / recipe.captureRate
    const cast = castOf(capture, first - BEFORE, Math.ceil(last) + 16, recipe.bout.lift)
    this.strike = strikeOf(cast, recipe.bout.bag, (first - 8) / CAPTURE_RATE, (last + 8) / CAPTURE_RATE, recipe.bout.near_s)
    this.painter = new Painter({
      strike: this.strike,
      camera: pinhole(recipe.camera),
      look: recipe.bout.look,
      open: recipe.open,
      shutter_s: recipe.shutter_s,
      samples: recipe.samples,
    })
  }

  /// Frame n as planar Y, Cb, Cr bytes. Frames are asked for in order, each once.
  paint(frame: number): Uint8Array {
    const seconds = instantOf(this.recipe, frame)
    const picture = this.painter.paint(seconds, frame)
    const camera = this.painter.view.camera
    const half = this.recipe.shutter_s / 2
    const before = truePoints(this.strike, seconds - half)
    const after = truePoints(this.strike, seconds + half)
    truePoints(this.strike, seconds).forEach((point, i) => {
      let track = this.tracks.get(point.name)
      if (!track) this.tracks.set(point.name, (track = { px: [], metres: [], seen: '', blur: [] }))
      const p = camera.project(point.at)
      const a = camera.project(before[i]!.at)
      const b = camera.project(after[i]!.at)
      track.px.push([rounded(p.x, 4), rounded(p.y, 4)])
      track.metres.push([rounded(point.at[0], 6), rounded(point.at[1], 6), rounded(point.at[2], 6)])
      const inside = p.x >= 0 && p.y >= 0 && p.x < camera.width && p.y < camera.height
      track.seen += !inside ? 'x' : this.painter.depthAt(p.x, p.y) < p.depth - point.depth ? 'o' : 's'
      track.blur.push(rounded(Math.hypot(b.x - a.x, b.y - a.y), 2))
    })
    return picture
  }

  truth(): Truth {
    const { recipe, strike } = this
    const start = instantOf(recipe, 0)
    const seconds = strike.contact_s - start
    const bearing = (name: string, t: number): number => {
      const points = truePoints(strike, t)
      const l = points.find((p) => p.name === `${name}.left`)!.at
      const r = points.find((p) => p.name === `${name}.right`)!.at
      return Math.atan2(r[2] - l[2], r[0] - l[0])
    }
    const fastest = (name: string): number => {
      let best = 0
      let at = 0
      for (let t = strike.contact_s - 0.3; t < strike.contact_s; t += 1 / 480) {
        const speed = Math.abs(turnBetween(bearing(name, t - 1 / 60), bearing(name, t + 1 / 60)))
        if (speed > best) [best, at] = [speed, t]
      }
      return rounded((at - start) * recipe.captureRate, 2)
    }
    const close = instantOf(recipe, Math.round(seconds * recipe.captureRate))
    return {
      film: recipe.name,
      note: "A drawn figure moved by CMU motion capture 13_18; see demo-data/mocap/NOTICE.md. Some limb lengths are the figure's own.",
      camera: recipe.camera,
      fileRate: `${recipe.fileRate}/1`,
      captureRate: `${recipe.captureRate}/1`,
      captureFactor: String(recipe.captureRate / recipe.fileRate),
      shutter_s: recipe.shutter_s,
      frames: recipe.frames,
      contact: { seconds: rounded(seconds, 6), frame: rounded(seconds * recipe.captureRate, 4) },
      turns: { hips: fastest('hip'), shoulders: fastest('shoulder') },
      separation_deg: rounded((turnBetween(bearing('hip', close), bearing('shoulder', close)) * 180) / Math.PI, 3),
      points: [...this.tracks].map(([name, track]): TruthTrack => ({ name, ...track })),
    }
  }
}

function turnBetween(a: number, b: number): number {
  const d = b - a
  return Math.atan2(Math.sin(d), Math.cos(d))
}

const rounded = (x: number, places: number): number => Math.round(x * 10 ** places) / 10 ** places
