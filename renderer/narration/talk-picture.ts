import type { DrawContext } from '../../app/marks/draw-context'
import { framesCovering } from '../../app/programme/cadence'
import { clipOf } from '../../app/programme/lay-shot'
import { pictureOfShot } from '../../app/programme/picture-at'
import type { Picture } from '../../app/programme/programme'
import {
  act,
  beginHands,
  frameIn,
  placeIn,
  ranOn,
  seenIn,
  stoodAt,
  stretchAt,
  type HandAction,
  type HandContext,
  type Seen,
  type Stretch,
} from '../../app/programme/talk-over'
import { mustWait, talkShots } from '../../app/programme/talk-over-shots'
import { exact } from '../../app/project/fields'
import type { Shot } from '../../app/project/picture'
import { rational, toNumber } from '../../app/time/rational'
import type { FilmFrames } from '../player/film-frames'
import { paintPicture } from '../player/paint-picture'

/// An action of the hands before its time is known.
export type Deed = HandAction extends infer A ? (A extends HandAction ? Omit<A, 'at'> : never) : never

export interface TalkScene {
  readonly hand: HandContext
  readonly draw: DrawContext
  /// Null while a footage's frame times are not known.
  readonly framesOf: (footage: string) => FilmFrames | null
}

/// What stands on the picture, for the words beside it.
export interface TalkShown {
  readonly clip: string
  readonly frame: number
  /// Null: it stands.
  readonly speed: string | null
  readonly marks: number
}

/// The picture under the hands while a take is recorded, or before: painted from the same description as the film will be
/// rendered from, by the recording's own samples.
export class TalkPicture {
  #hands: readonly Stretch[]
  #samples: (ms: number) => number | null
  /// The picture that was painted, or waits for its frames: its stretch and place in it.
  #shown: { readonly stretch: Stretch; readonly at: number } | null = null
  /// What stands on the canvas, its stretch, and the last output frame at which it was the one to be seen.
  #seen: { readonly picture: Seen; readonly stretch: Stretch; readonly n: number } | null = null
  /// The output frame from which on the canvas lacks the picture to be seen.
  #missedSince: number | null = null
  /// A run that waits for its frames: with which picture it goes on, whether that is the one that stands meanwhile, and the
  /// frames that it needs for it.
  #waits: { readonly from: Seen; readonly speed: string; readonly goesOn: boolean; readonly needs: readonly number[] } | null = null
  #recording = false
  #request = 0
  #sheet: OffscreenCanvas | null = null
  #film: { readonly footage: string; readonly frames: FilmFrames; readonly unheard: () => void } | null = null
  /// Samples never run backwards, and stand where the recording has ended.
  #last = 0

  constructor(
    private readonly canvas: HTMLCanvasElement,
    private scene: TalkScene,
    start: { readonly clip: string; readonly frame: number },
    private readonly tell: (shown: TalkShown) => void,
  ) {
    this.#hands = beginHands(start.clip, start.frame, scene.hand)
    this.#samples = this.#ownClock()
    this.#request = requestAnimationFrame(this.#tick)
  }

  /// What it is painted from, from now on. The picture stands, unless a recording runs.
  show(scene: TalkScene): void {
    this.scene = scene
    if (!this.#recording) this.#stand()
  }

  /// What the hands do now.
  do(deed: Deed): void {
    const now = performance.now()
    this.#hands = act(this.#hands, { ...deed, at: this.#heard(now) } as HandAction, this.scene.hand)
    if (deed.does !== 'mark' && deed.does !== 'clear') this.#waits = null
    this.#look(now)
  }

  /// From now on the recording's samples are the clock; the picture stands as it begins.
  begin(samples: (ms: number) => number | null): void {
    this.#stand()
    this.#last = 0
    this.#samples = samples
    this.#recording = true
  }

  /// The recording ended after `samples`: what was seen until then. The picture stands.
  end(samples: number): readonly Shot[] {
    const { hand } = this.scene
    const frames = framesCovering(rational(samples, hand.sampleRate), exact(hand.shots.output.rate))
    const shots = talkShots(this.#hands, frames, hand)
    this.leave()
    return shots
  }

  /// The recording came to nothing, or is over: the picture stands, under the window's own clock.
  leave(): void {
    if (!this.#recording) return
    this.#recording = false
    this.#stand()
    this.#last = 0
    this.#samples = this.#ownClock()
  }

  /// The picture that stands on the canvas, to draw on it.
  picture(): Picture | null {
    return this.#shown && pictureOfShot(this.#shown.stretch.laid, this.#shown.at)
  }

  /// The clip and footage frame that are shown.
  place(): { readonly clip: string; readonly frame: number } {
    const n = this.#outputFrame(performance.now())
    return seenIn(stretchAt(this.#hands, n), n)
  }

  close(): void {
    cancelAnimationFrame(this.#request)
    this.#film?.unheard()
  }

  #ownClock(): (ms: number) => number {
    const began = performance.now()
    const { sampleRate } = this.scene.hand
    return (ms) => (Math.max(0, ms - began) / 1000) * sampleRate
  }

  #stand(): void {
    const { clip, frame } = this.place()
    this.#hands = beginHands(clip, frame, this.scene.hand)
    this.#seen = null
    this.#missedSince = null
    this.#waits = null
  }

  #heard(now: number): number {
    return (this.#last = Math.max(this.#last, this.#samples(now) ?? 0))
  }

  #outputFrame(now: number): number {
    const { shots, sampleRate } = this.scene.hand
    return Math.floor((this.#heard(now) * toNumber(exact(shots.output.rate))) / sampleRate)
  }

  /// The frames of a footage, heard of as they become ready; those of one before it rest.
  #filmOf(footage: string): FilmFrames | null {
    const frames = this.scene.framesOf(footage)
    if (frames === (this.#film?.frames ?? null)) return frames
    this.#film?.frames.look([])
    this.#film?.unheard()
    const hear = (frame: number): void => {
      if (this.picture()?.panels.some((panel) => panel.footage === footage && panel.frame === frame))
        this.#paint(this.#outputFrame(performance.now()))
    }
    this.#film = frames && { footage, frames, unheard: frames.listen(hear) }
    return frames
  }

  readonly #tick = (): void => {
    this.#look(performance.now())
    this.#request = requestAnimationFrame(this.#tick)
  }

  /// Moves the films' cursors to what is to be seen now, and paints it where that is another picture.
  #look(now: number): void {
    const n = this.#outputFrame(now)
    this.#wait(n, false)
    const stretch = stretchAt(this.#hands, n)
    const at = placeIn(stretch, n)
    const { shot } = stretch
    const stands = 'hold' in shot
    const same = this.#shown?.stretch === stretch && this.#shown.at === at
    if (same && this.#missedSince === null) {
      if (this.#seen) this.#seen = { ...this.#seen, n }
      return
    }
    if (!same) {
      const frame = frameIn(stretch, n)
      const before = this.#seen?.picture.frame ?? frame
      this.#shown = { stretch, at }
      const [next = frame] = this.#waits?.needs ?? []
      this.#filmOf(stretch.laid.panels[0]?.footage ?? '')?.look([this.#waits ? next : frame], {
        onward: stands && !this.#waits ? frame - before : 1,
        whole: stands && !this.#waits,
      })
      this.tell({
        clip: stands ? shot.hold : shot.run,
        frame,
        speed: this.#waits?.speed ?? (stands ? null : shot.speed),
        marks: shot.marks?.length ?? 0,
      })
    }
    this.#paint(n)
    if (this.#missedSince !== null) this.#wait(n, true)
  }

  /// A run whose picture was not there in time stands from then on, and goes on where it was seen last as soon as its next
  /// frames are there.
  #wait(n: number, missing: boolean): void {
    const { hand } = this.scene
    const seen = this.#seen
    const stretch = stretchAt(this.#hands, n)
    if (!this.#waits && seen && 'run' in stretch.shot && mustWait(n, Math.max(seen.n, stretch.from), missing)) {
      const { speed } = stretch.shot
      const goesOn = seen.stretch === stretch
      const from = goesOn ? seen.picture : seenIn(stretch, stretch.from)
      const [next] = ranOn([], 0, from, speed, hand)
      this.#waits = { from, speed, goesOn, needs: [...new Set(next?.laid.panels[0]?.frames.subarray(1, 5))] }
      this.#hands = stoodAt(this.#hands, seen.n, seen.picture, hand)
    }
    const waits = this.#waits
    if (!waits) return
    const film = this.#filmOf(clipOf(hand.shots.breakdown, waits.from.clip).footage)
    if (!film || waits.needs.some((frame) => !film.take(frame))) return
    const { marks } = waits.goesOn ? seenIn(stretchAt(this.#hands, n), n) : waits.from
    this.#waits = null
    this.#hands = ranOn(this.#hands, n, { ...waits.from, marks }, waits.speed, hand)
  }

  #paint(n: number): void {
    const picture = this.picture()
    const { draw, hand } = this.scene
    if (!picture || !this.#shown) return
    if (this.#sheet?.width !== draw.width || this.#sheet.height !== draw.height) this.#sheet = new OffscreenCanvas(draw.width, draw.height)
    const surface = this.#sheet.getContext('2d', { alpha: false })
    if (!surface) return
    const { stretch, at } = this.#shown
    if (paintPicture(surface, picture, draw, (footage) => this.#filmOf(footage), 'run' in stretch.shot) === 'missing') {
      this.#missedSince ??= n
      return
    }
    this.canvas.getContext('bitmaprenderer')?.transferFromImageBitmap(this.#sheet.transferToImageBitmap())
    this.canvas.dataset['frame'] = String(picture.panels[0]?.frame)
    const wanted = seenIn(stretch, stretch.from + at)
    const [since, seen] = [this.#missedSince, this.#seen]
    this.#missedSince = null
    this.#seen = { picture: wanted, stretch, n }
    // A standing picture that came late: what was seen until then stood until then.
    if (since === null || !seen || 'run' in stretch.shot || n - since <= 1) return
    this.#hands = stoodAt(stoodAt(this.#hands, since, seen.picture, hand), n, wanted, hand)
    const late = stretchAt(this.#hands, n)
    this.#shown = { stretch: late, at: 0 }
    this.#seen = { picture: wanted, stretch: late, n }
  }
}
