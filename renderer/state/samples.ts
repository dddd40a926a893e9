import type { PackHead, ProjectState } from '../../app/edit/project-state'
import { landmarkKey, type LandmarkHead } from '../../app/edit/records'
import type { Sample } from '../../app/project/film'
import { engine } from './engine'
import { readPage, samplePages, withPage, type SamplesRead } from './sample-pages'

/// While many samples are being read, what has come is told of this often.
const TELLING_MS = 500

/// The samples of one project, read page by page. Edits bring the samples along that they change.
export class Samples {
  #read: SamplesRead = new Map()
  readonly #merged = new Map<
    string,
    { readonly packs: readonly PackHead[]; readonly from: ReadonlyMap<number, readonly Sample[]> | undefined; readonly samples: Sample[] }
  >()
  #left = false

  /// Reads every sample of a state; `came` is told that there are more. `between`: what the pages behind the first wait for.
  async readAll(state: ProjectState, came: () => void, between: () => Promise<unknown>): Promise<void> {
    const turns = samplePages(state.tables.packs.list())
    let told = -Infinity
    for (const [i, pages] of turns.entries()) {
      const read = await Promise.all(pages.map((page) => readPage(page, (of) => engine.call('landmarks.samples', { ...of }))))
      if (this.#left) return
      this.#read = withPage(this.#read, read.flat())
      if (i > 0 && i + 1 < turns.length && performance.now() - told < TELLING_MS) continue
      came()
      told = performance.now()
      if (i === 0 && turns.length > 1) await between()
    }
  }

  /// The project was left: what is still to be read of it is of no use.
  leave(): void {
    this.#left = true
  }

  /// A landmark's samples in a state: of packs that an edit brought along as the edit has them, else as they were read.
  /// The same list where nothing of it has changed.
  in(state: ProjectState): (of: LandmarkHead) => Sample[] {
    const packs = new Map<string, PackHead[]>()
    for (const pack of state.tables.packs.list()) {
      const of = packs.get(landmarkKey(pack))
      if (of) of.push(pack)
      else packs.set(landmarkKey(pack), [pack])
    }
    const read = this.#read
    return (of) => {
      const key = landmarkKey(of)
      const own = (packs.get(key) ?? []).sort((x, y) => x.pack - y.pack)
      const known = this.#merged.get(key)
      const from = read.get(key)
      if (known && known.from === from && known.packs.length === own.length && own.every((pack, i) => pack === known.packs[i]))
        return known.samples
      const samples = own.flatMap((pack) => pack.samples ?? from?.get(pack.pack) ?? [])
      this.#merged.set(key, { packs: own, from, samples })
      return samples
    }
  }
}
