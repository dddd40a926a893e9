import { mediaAddress, stillAddress } from '../../app/contract/addresses'
import type { FilmFacts, FilmTable } from '../../app/contract/footage-calls'
import { colourOf } from '../player/film-frames'
import { filmClock } from '../player/frame-clock'
import { FilmReel } from '../player/film-reel'
import { uprightPicture } from '../player/upright-picture'
import { KeptPictures } from './kept-pictures'

/// Whole pictures of a film one after another, onward or back, for the tracker: a reel of its own, so that the stage is not
/// kept waiting; stills where the browser does not decode the film.

/// Going back, so many frames are decoded at a time and kept; going onward, read ahead.
const STRETCH = 12

export class TrackFrames {
  readonly #ready = new KeptPictures<ImageBitmap>()
  #last = -1

  private constructor(
    private readonly reel: FilmReel | null,
    private readonly facts: FilmFacts,
    private readonly table: FilmTable,
  ) {}

  static async open(facts: FilmFacts, table: FilmTable): Promise<TrackFrames> {
    const colour = colourOf(facts.coding)
    return new TrackFrames(colour ? await FilmReel.open(mediaAddress(table.id), filmClock(table), colour, false) : null, facts, table)
  }

  /// The receiver closes the picture. Null where there is none.
  async take(frame: number): Promise<ImageBitmap | null> {
    const back = frame < this.#last
    this.#last = frame
    if (!this.#ready.has(frame)) await this.#read(back ? Math.max(0, frame - STRETCH + 1) : frame)
    const ready = this.#ready.take(frame)
    if (ready) return ready
    const answer = await fetch(stillAddress(this.table.id, frame))
    return answer.ok ? createImageBitmap(await answer.blob()) : null
  }

  close(): void {
    this.#ready.end()
    this.reel?.dispose()
  }

  async #read(from: number): Promise<void> {
    if (!this.reel) return
    this.#ready.clear()
    const { width, height } = this.table.picture
    await this.reel.read(from, STRETCH, async (frame, picture) => {
      if (frame < from || frame >= from + STRETCH || this.#ready.has(frame)) return
      this.#ready.keep(frame, await uprightPicture(picture, this.facts.coding?.turn ?? 0, width, height))
    })
  }
}
