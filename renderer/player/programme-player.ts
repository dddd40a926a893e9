import type { DrawContext } from '../../app/marks/draw-context'
import { pictureAt } from '../../app/programme/picture-at'
import type { Programme } from '../../app/programme/programme'
import { toNumber } from '../../app/time/rational'
import type { FilmFrames } from './film-frames'
import { Narration } from './narration'
import { paintPicture } from './paint-picture'

export interface Laid {
  readonly programme: Programme
  readonly context: DrawContext
}

/// Paints the programme on one canvas: the frame that is asked for as soon as it is there, and again when its whole
/// picture is; or frame after frame by the clock.
export class ProgrammePlayer {
  #laid: Laid | null = null
  #span: readonly [number, number] = [0, 0]
  #frame = 0
  #speed = 0
  #request = 0
  #listening: (() => void)[] = []
  #films: ReadonlyMap<string, FilmFrames> = new Map()
  readonly #narration = new Narration()
  /// Painted on out of sight: a picture that is handed over whole costs nothing while the words beside it are typed.
  #sheet: OffscreenCanvas | null = null
  #clock: { readonly from: number; readonly seconds: () => number } | null = null
  /// Frames of this run that were told of and have not been asked for in answer: the answers come late, and are no wish to
  /// go back.
  #told: readonly number[] = []

  constructor(
    private readonly canvas: HTMLCanvasElement,
    private readonly tell: { readonly frame: (frame: number) => void; readonly ended: () => void },
  ) {}

  /// What is shown from now on.
  /// `span`: the output frames that a run keeps to, from included, to excluded.
  show(laid: Laid, films: ReadonlyMap<string, FilmFrames>, span: readonly [number, number]): void {
    this.#laid = laid
    this.#span = span
    this.#films = films
    for (const stop of this.#listening) stop()
    this.#listening = [...films].map(([footage, film]) => film.listen((frame) => this.#hear(footage, frame)))
    this.#look(this.#frame)
  }

  /// Goes to an output frame. While it runs, the run goes on from there.
  goTo(frame: number): void {
    const answered = this.#told.indexOf(frame)
    if (answered >= 0) this.#told = this.#told.slice(answered + 1)
    if (answered >= 0 || frame === this.#frame) return
    const onward = frame - this.#frame
    this.#frame = frame
    this.#told = []
    if (this.#speed !== 0) this.#setClock()
    else this.#look(frame, onward)
  }

  /// Runs at a multiple of full speed, backwards when negative; 0 stops.
  run(speed: number): void {
    // Whoever starts or stops it has heard of every frame before that.
    this.#told = []
    if (speed === this.#speed) return
    this.#turn(speed)
  }

  #turn(speed: number): void {
    this.#speed = speed
    this.#narration.stop()
    cancelAnimationFrame(this.#request)
    if (speed === 0) {
      this.#clock = null
      return this.#look(this.#frame)
    }
    this.#setClock()
    this.#request = requestAnimationFrame(this.#tick)
  }

  close(): void {
    cancelAnimationFrame(this.#request)
    this.#narration.close()
    for (const stop of this.#listening) stop()
  }

  /// The picture waits until its words are there to be heard, and then keeps to their clock: it never goes back to them.
  #setClock(): void {
    const from = this.#frame
    const byHand = (): { from: number; seconds: () => number } => {
      const started = performance.now()
      return { from, seconds: () => ((performance.now() - started) / 1000) * this.#speed }
    }
    this.#narration.stop()
    const heard = this.#speed === 1 && this.#laid ? this.#narration.play(this.#laid.programme, from, this.#span[1]) : null
    if (!heard) return void (this.#clock = byHand())
    const held = (this.#clock = { from, seconds: () => 0 })
    void heard.then((seconds) => {
      if (this.#clock === held) this.#clock = seconds ? { from, seconds } : byHand()
    })
  }

  readonly #tick = (): void => {
    const [laid, clock] = [this.#laid, this.#clock]
    if (!laid || !clock || this.#speed === 0) return
    const { programme } = laid
    const at = clock.from + Math.floor(clock.seconds() * toNumber(programme.rate))
    const [from, to] = this.#span
    const frame = Math.max(from, Math.min(to - 1, at))
    if (frame !== this.#frame) {
      this.#frame = frame
      this.#look(frame, this.#speed)
      this.#told = [...this.#told, frame]
      this.tell.frame(frame)
    }
    if (at < from || at >= to) {
      this.#turn(0)
      return this.tell.ended()
    }
    this.#request = requestAnimationFrame(this.#tick)
  }

  /// Moves every film's cursor to what the frame shows, and paints what is there.
  #look(frame: number, onward = 1): void {
    if (!this.#laid || frame >= this.#laid.programme.frames) return
    const { panels } = pictureAt(this.#laid.programme, frame)
    for (const [footage, film] of this.#films)
      film.look(
        panels.filter((panel) => panel.footage === footage).map((panel) => panel.frame),
        { onward, whole: this.#speed === 0 },
      )
    this.#paint()
  }

  /// Paints again when what became ready stands on the canvas.
  #hear(footage: string, frame: number): void {
    if (!this.#laid || this.#frame >= this.#laid.programme.frames) return
    if (pictureAt(this.#laid.programme, this.#frame).panels.some((panel) => panel.footage === footage && panel.frame === frame))
      this.#paint()
  }

  #paint(): void {
    if (!this.#laid || this.#frame >= this.#laid.programme.frames) return
    const { programme, context } = this.#laid
    if (this.#sheet?.width !== programme.width || this.#sheet.height !== programme.height)
      this.#sheet = new OffscreenCanvas(programme.width, programme.height)
    const surface = this.#sheet.getContext('2d', { alpha: false })
    if (!surface) return
    const detail = paintPicture(
      surface,
      pictureAt(programme, this.#frame),
      context,
      (footage) => this.#films.get(footage) ?? null,
      this.#speed !== 0,
    )
    if (detail !== 'missing') this.canvas.getContext('bitmaprenderer')?.transferFromImageBitmap(this.#sheet.transferToImageBitmap())
    // What stands on the canvas, for whoever must know: the output frame, and whether its pictures are whole.
    if (detail === 'missing') this.canvas.dataset['waiting'] = String(this.#frame)
    else {
      delete this.canvas.dataset['waiting']
      this.canvas.dataset['frame'] = String(this.#frame)
      this.canvas.dataset['detail'] = detail
    }
  }
}
