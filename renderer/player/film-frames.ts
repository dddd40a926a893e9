import { mediaAddress, proxyAddress, stillAddress } from '../../app/contract/addresses'
import type { FilmFacts, FilmTable } from '../../app/contract/footage-calls'
import type { Detail, FrameCache } from './frame-cache'
import { filmClock, standInClock } from './frame-clock'
import { FilmReel, type ReelColour } from './film-reel'
import { FAR, reachWithin, roomFor, smallSize } from './read-ahead'
import { uprightPicture } from './upright-picture'

/// The exact frames of one film, decoded ahead of the eye: small ones around the cursor, from the stand-in where there
/// is one; the whole picture of the frame on which the hand rests.

/// Frames on either side of the cursor that come before those further off.
const NEAR = 10
/// How long the cursor must stand before the whole picture is read.
const REST_MS = 90
/// Stand-in frames are shown for this long each, whatever the film's own times (see the address table).
const STAND_IN_RATE = 60
/// A miss under the cursor waits at most for so many frames that are being read ahead.
const BATCH = 3

type Listener = (frame: number, detail: Detail) => void

export class FilmFrames {
  readonly #listeners = new Set<Listener>()
  #facts: FilmFacts
  /// The frames that are looked at: several where one film stands on the canvas more than once.
  #cursors: readonly number[] = []
  #onward = 1
  #restAt = 0
  #wholeWanted = true
  #ahead = true
  #pumping = false
  #closed = false
  /// Opened when first needed; null: this browser does not decode it.
  #small: Promise<FilmReel | null> | null = null
  #whole: Promise<FilmReel | null> | null = null
  readonly #failed = new Set<string>()

  constructor(
    facts: FilmFacts,
    private readonly table: FilmTable,
    private readonly cache: FrameCache,
  ) {
    this.#facts = facts
  }

  get width(): number {
    return this.table.picture.width
  }
  get height(): number {
    return this.table.picture.height
  }
  get frames(): number {
    return this.table.pts.length
  }

  /// Hears of frames that have become ready near the cursor.
  listen(listener: Listener): () => void {
    this.#listeners.add(listener)
    return () => this.#listeners.delete(listener)
  }

  /// What is known of the film now; a stand-in that has been made is taken into use.
  learn(facts: FilmFacts): void {
    const had = this.#facts.proxy
    this.#facts = facts
    if (facts.proxy !== 'ready' || had === 'ready') return
    void this.#small?.then((reel) => reel?.dispose())
    this.#small = null
    this.#failed.clear()
    this.#pump()
  }

  /// Moves the cursors: these frames are wanted now, their neighbours next, those that lie `onward` first. `whole`
  /// false: the picture is moving, or shown small, so whole pictures are not read. `ahead` false: nobody steps from here, so
  /// their neighbours are not read.
  look(
    frames: readonly number[],
    { onward = 1, whole = true, ahead = true }: { readonly onward?: number; readonly whole?: boolean; readonly ahead?: boolean } = {},
  ): void {
    if (
      whole === this.#wholeWanted &&
      ahead === this.#ahead &&
      frames.length === this.#cursors.length &&
      frames.every((frame, i) => frame === this.#cursors[i])
    )
      return
    this.#onward = onward >= 0 ? 1 : -1
    this.#cursors = frames
    this.#wholeWanted = whole
    this.#ahead = ahead
    this.#restAt = performance.now() + REST_MS
    this.cache.need(
      this.table.id,
      frames.length === 0
        ? null
        : {
            ...roomFor(frames.length, this.table.picture),
            has: (frame, detail) => (detail === 'small' ? this.#isNear(frame) : this.#cursors.includes(frame)),
          },
    )
    this.#pump()
  }

  /// The best picture there is of a frame, to be drawn at once; null when there is none yet.
  take(frame: number): { readonly picture: ImageBitmap; readonly detail: Detail } | null {
    const full = this.cache.take(this.table.id, frame, 'full')
    if (full) return { picture: full, detail: 'full' }
    const small = this.cache.take(this.table.id, frame, 'small')
    return small && { picture: small, detail: 'small' }
  }

  /// On how many frames to either side of one every picture is there; at the film's ends, what is there to be had.
  readyAround(frame: number): number {
    const there = (at: number): boolean =>
      at < 0 || at >= this.frames || this.cache.has(this.table.id, at, 'small') || this.cache.has(this.table.id, at, 'full')
    let reach = 0
    while (reach < FAR && there(frame + reach + 1) && there(frame - reach - 1)) reach++
    return reach
  }

  close(): void {
    this.#closed = true
    void this.#small?.then((reel) => reel?.dispose())
    void this.#whole?.then((reel) => reel?.dispose())
    this.cache.forget(this.table.id)
  }

  /// How far it reads ahead: less where the films that are looked at are large, or many.
  get #reach(): number {
    return reachWithin(this.cache.roomOf(this.table.id), this.#cursors.length, this.table.picture)
  }

  #pump(): void {
    if (!this.#pumping && !this.#closed) void this.#work()
  }

  /// Ends, and says so, within the task in which nothing more was wanted: what is wanted next in that very task begins anew.
  async #work(): Promise<void> {
    this.#pumping = true
    try {
      while (!this.#closed) {
        const cursors = this.#cursors
        const now = cursors.find((frame) => this.#wants(frame, 'small') && !this.cache.has(this.table.id, frame, 'full'))
        const whole = this.#wholeWanted ? cursors.find((frame) => this.#wants(frame, 'full')) : undefined
        const next = now === undefined && this.#readsAhead ? this.#nextAhead() : null
        if (now !== undefined) await this.#readSmall(now, 1)
        else if (whole !== undefined && performance.now() >= this.#restAt) await this.#readWhole(whole)
        else if (next !== null) await this.#readSmall(next.from, next.count)
        else if (whole !== undefined) await pause(Math.max(1, this.#restAt - performance.now()))
        else return
      }
    } finally {
      this.#pumping = false
    }
  }

  /// Stills come from the engine one by one: only the one under the cursor is asked for.
  get #readsAhead(): boolean {
    return this.#ahead && (this.#facts.proxy === 'ready' || colourOf(this.#facts.coding) !== null)
  }

  #wants(frame: number, detail: Detail): boolean {
    return frame >= 0 && frame < this.frames && !this.cache.has(this.table.id, frame, detail) && !this.#failed.has(`${detail}/${frame}`)
  }

  /// The next stretch of frames to read ahead: near ones onward, near ones behind, then the far ones.
  #nextAhead(): { from: number; count: number } | null {
    const far = this.#reach
    for (const reach of [Math.min(NEAR, far), far])
      for (const cursor of this.#cursors)
        for (const way of [this.#onward, -this.#onward]) {
          const stretch = this.#stretchFrom(cursor, way, reach)
          if (stretch) return stretch
        }
    return null
  }

  /// The nearest frames wanted one way from a cursor, as many together as are read at once; null where none are within reach.
  #stretchFrom(cursor: number, way: number, reach: number): { from: number; count: number } | null {
    for (let i = 1; i <= reach; i++) {
      const frame = cursor + way * i
      if (!this.#wants(frame, 'small')) continue
      let count = 1
      while (count < BATCH && i + count <= reach && this.#wants(frame + way * count, 'small')) count++
      return { from: way > 0 ? frame : frame - count + 1, count }
    }
    return null
  }

  #isNear(frame: number): boolean {
    const reach = this.#reach
    return this.#cursors.some((cursor) => Math.abs(frame - cursor) <= reach)
  }

  async #readSmall(from: number, count: number): Promise<void> {
    const reel = await (this.#small ??= this.#openSmall())
    const { width, height } = smallSize(this.table.picture)
    const standIn = this.#facts.proxy === 'ready'
    const turn = standIn ? 0 : (this.#facts.coding?.turn ?? 0)
    const wanted = (frame: number): boolean => this.#isNear(frame) && this.#wants(frame, 'small')
    const read = await reel?.read(
      from,
      count,
      async (frame, picture) => {
        if (!wanted(frame)) return
        this.#keep(
          frame,
          'small',
          await uprightPicture(picture, turn, standIn ? picture.displayWidth : width, standIn ? picture.displayHeight : height),
        )
      },
      { onTheWay: wanted },
    )
    if (read) {
      // A frame that lay beyond reach by the time it was read is asked for again when it is near.
      if (this.#wants(from, 'small') && this.#isNear(from)) this.#failed.add(`small/${from}`)
      return
    }
    if (this.#cursors.includes(from)) await this.#readStill(from, 'small', width)
    else for (let i = 0; i < count; i++) this.#failed.add(`small/${from + i}`)
  }

  async #readWhole(frame: number): Promise<void> {
    const { coding } = this.#facts
    const reel = await (this.#whole ??= this.#openFilm())
    const read = await reel?.read(
      frame,
      1,
      async (index, picture) => {
        if (index === frame) this.#keep(frame, 'full', await uprightPicture(picture, coding?.turn ?? 0, this.width, this.height, true))
      },
      { goesOn: () => this.#cursors.includes(frame) },
    )
    if (!read && this.#cursors.includes(frame)) await this.#readStill(frame, 'full')
  }

  #openSmall(): Promise<FilmReel | null> {
    if (this.#facts.proxy !== 'ready') return this.#openFilm()
    return FilmReel.open(proxyAddress(this.table.id), standInClock(this.frames, STAND_IN_RATE), { matrix: 'bt709', fullRange: false }, true)
  }

  async #openFilm(): Promise<FilmReel | null> {
    const colour = colourOf(this.#facts.coding)
    return colour ? FilmReel.open(mediaAddress(this.table.id), filmClock(this.table), colour, false) : null
  }

  async #readStill(frame: number, detail: Detail, width?: number): Promise<void> {
    try {
      const answer = await fetch(stillAddress(this.table.id, frame, width))
      if (!answer.ok) throw new Error(String(answer.status))
      this.#keep(frame, detail, await createImageBitmap(await answer.blob()))
    } catch {
      this.#failed.add(`${detail}/${frame}`)
    }
  }

  #keep(frame: number, detail: Detail, picture: ImageBitmap): void {
    if (this.#closed) return picture.close()
    this.cache.keep(this.table.id, frame, detail, picture)
    for (const listener of this.#listeners) listener(frame, detail)
  }
}

const pause = (ms: number): Promise<void> => new Promise((done) => setTimeout(done, ms))

type Coding = NonNullable<FilmFacts['coding']>

/// How the browser is to take a film's colours; null where it has no word for them, or they are changed on the way to the
/// render: stand-in and stills then show the film.
export function colourOf(coding: Coding | null): ReelColour | null {
  if (!coding || coding.prepared) return null
  const { matrix, fullRange } = coding
  return matrix === 'bt709' ? { matrix, fullRange } : matrix === 'bt601' ? { matrix: 'smpte170m', fullRange } : null
}
