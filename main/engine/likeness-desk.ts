import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { setImmediate as slice } from 'node:timers/promises'
import { z } from 'zod'
import type { SharedPictures } from '../../app/project/shared-pictures'
import { frameAtSeconds, secondsAt, type FrameTable } from '../../app/time/frame-table'
import { rational } from '../../app/time/rational'
import type { LibraryFilm } from '../media/film-library'
import type { FfmpegTool } from '../media/find-ffmpeg'
import { trackBytes, trackOfBytes, trackPictures, TRACK_RATE, type PictureTrack } from '../media/picture-track'
import { sharedStretches } from '../media/same-pictures'
import { writeWhole } from '../whole-file'
import type { JobDesk } from './job-desk'
import { readKept, writeKept } from './kept-json'

/// A film of the project whose frames are known.
export interface KnownFilm {
  readonly id: string
  readonly file: string
  /// The file that it was made of, where it was: then it is no second upload.
  readonly madeOf: string | null
  readonly film: LibraryFilm
}

export interface LikenessDeskOptions {
  readonly tool: () => Promise<FfmpegTool>
  readonly cache: string
  readonly jobs: JobDesk
  /// What a film shares with earlier ones.
  readonly tell: (id: string, shared: readonly SharedPictures[]) => void
}

/// What two films share, by their identities: kept, since comparing many long films takes a while.
const Stretch = z.strictObject({ from: z.int(), to: z.int(), otherFrom: z.int(), otherTo: z.int(), mirrored: z.boolean() })
const Pairs = z.record(z.string(), z.array(Stretch))
type Pairs = z.infer<typeof Pairs>

/// Looks whether a project's films show the same pictures, in the background: each film is held against those before it.
/// One film alone is never looked at.
export class LikenessDesk {
  readonly #stop = new AbortController()
  #films: readonly KnownFilm[] = []
  #pairs: Promise<Pairs>
  /// Films that could not be looked at, or of which somebody cancelled it: not again while the project is open.
  readonly #left = new Set<string>()
  #atWork: string | null = null

  constructor(private readonly options: LikenessDeskOptions) {
    this.#pairs = readKept(this.#pairsFile, Pairs).then((kept) => kept ?? {})
  }

  /// Brings the desk level with the films that are there now, in the project's order.
  async level(films: readonly KnownFilm[]): Promise<void> {
    this.#films = films
    const pairs = await this.#pairs
    if (this.#stop.signal.aborted || this.#films !== films) return
    films.forEach((film, i) => this.options.tell(film.id, sharedOf(film, films.slice(0, i), pairs)))
    this.#begin(pairs)
  }

  close(): void {
    this.#stop.abort()
  }

  get #pairsFile(): string {
    return join(this.options.cache, 'likeness.json')
  }

  /// Starts the next film's job, if there is one to do and none at work.
  #begin(pairs: Pairs): void {
    if (this.#atWork !== null) return
    const open = (film: KnownFilm, at: number): readonly KnownFilm[] =>
      this.#left.has(film.id)
        ? []
        : this.#films
            .slice(0, at)
            .filter((each) => !this.#left.has(each.id) && !oneOfTheOther(film, each) && pairs[pairKey(film, each)] === undefined)
    const at = this.#films.findIndex((each, i) => open(each, i).length > 0)
    const film = this.#films[at]
    if (!film) return
    const earlier = open(film, at)
    this.#atWork = film.id
    const { outcome } = this.options.jobs.start(
      { kind: 'likeness', label: `looking whether ${film.file} shows what another film shows`, footage: film.id },
      ({ signal, report }) => this.#compare(film, earlier, pairs, AbortSignal.any([signal, this.#stop.signal]), report),
    )
    void outcome.then(({ state }) => {
      this.#atWork = null
      if (state !== 'done') this.#left.add(film.id)
      if (!this.#stop.signal.aborted) void this.level(this.#films)
    })
  }

  async #compare(
    film: KnownFilm,
    earlier: readonly KnownFilm[],
    pairs: Pairs,
    signal: AbortSignal,
    report: (fraction: number) => void,
  ): Promise<void> {
    const part = (done: number) => (fraction: number) => report((done + fraction) / (earlier.length + 1))
    const own = await this.#track(film.film, signal, part(0))
    for (const [i, each] of earlier.entries()) {
      // One of the earlier films may not be decodable; this one is held against the others.
      const its = await this.#track(each.film, signal, part(i + 1)).catch((error: unknown) => {
        if (signal.aborted) throw error
        this.#left.add(each.id)
        return null
      })
      if (!its) continue
      const stretches = await sharedStretches(own, its, async () => {
        await slice()
        signal.throwIfAborted()
      })
      pairs[pairKey(film, each)] = stretches.map(({ from, to, otherFrom, otherTo, mirrored }) => ({
        from,
        to,
        otherFrom,
        otherTo,
        mirrored,
      }))
    }
    await writeKept(this.#pairsFile, pairs)
  }

  /// A film's track, made once and kept in the cache folder.
  async #track(film: LibraryFilm, signal: AbortSignal, onProgress: (fraction: number) => void): Promise<PictureTrack> {
    const file = join(this.options.cache, 'tracks', `${film.identity}.track`)
    const kept = await readFile(file).then(trackOfBytes, () => null)
    if (kept) return kept
    const track = await trackPictures(await this.options.tool(), film, { signal, onProgress })
    await writeWhole(file, trackBytes(track))
    return track
  }
}

const oneOfTheOther = (a: KnownFilm, b: KnownFilm): boolean =>
  a.madeOf === b.file || b.madeOf === a.file || (a.madeOf !== null && a.madeOf === b.madeOf)

const pairKey = (film: KnownFilm, earlier: KnownFilm): string => `${film.film.identity} ${earlier.film.identity}`

function sharedOf(film: KnownFilm, earlier: readonly KnownFilm[], pairs: Pairs): SharedPictures[] {
  return earlier.flatMap((other) =>
    (pairs[pairKey(film, other)] ?? []).map((stretch) => {
      const [from, to] = framesOf(film.film.table, stretch.from, stretch.to)
      const [otherFrom, otherTo] = framesOf(other.film.table, stretch.otherFrom, stretch.otherTo)
      return { footage: other.id, from, to, otherFrom, otherTo, mirrored: stretch.mirrored }
    }),
  )
}

/// The frames that samples `from` to `to` (excluded) of a film's track stand for; `to` excluded here too.
function framesOf(table: FrameTable, from: number, to: number): readonly [number, number] {
  const frame = (sample: number): number =>
    Math.max(0, frameAtSeconds(table, rational(Math.round((secondsAt(table, 0) + sample / TRACK_RATE) * 1_000_000), 1_000_000)))
  return [frame(from), frame(to - 0.5) + 1]
}
