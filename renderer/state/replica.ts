import type { NextUndo } from '../../app/contract/edit-calls'
import type { SequencedEvent } from '../../app/contract/events'
import { stateOfReplica } from '../../app/contract/replica'
import { applyEdit } from '../../app/edit/apply-edit'
import type { Edit } from '../../app/edit/edit'
import { breakdownOf, type ProjectState } from '../../app/edit/project-state'
import { forgetFilms } from '../player/films'
import { engine } from './engine'
import { FilmsRead } from './films-read'
import { ListsRead } from './lists-read'
import { leavePlaces } from './place'
import { Samples } from './samples'
import type { Saving } from './saving'
import { nothingShown, type Shown, type ShownNow } from './shown'

/// How long the hand pauses before what follows from the words is worked out anew.
const SETTLING_MS = 250
/// Behind their first page, samples wait for films that were read before and are being found again, and for what then needs
/// the window for a first frame; for so long at most.
const FILMS_FIRST_MS = 2000
const FIRST_FRAME_MS = 250

/// The window's copy of the project that is open in the engine: read once, then led on by the engine's news and by the
/// answers to edits.
export class Replica {
  readonly #films: FilmsRead
  readonly #lists: ListsRead
  #samples = new Samples()
  /// Resolves once every sample has been read: until then a change of samples could not know what was there.
  whole: Promise<void> = Promise.resolve()
  /// The state that is on its way, and the number of the last event that is in the one that came last.
  #loading: Promise<unknown> = Promise.resolve()
  #after = -1
  #polling = 0
  #settling: ReturnType<typeof setTimeout> | undefined

  constructor(
    private readonly shown: ShownNow,
    private readonly saving: Saving,
  ) {
    this.#films = new FilmsRead(shown)
    this.#lists = new ListsRead(shown, saving)
  }

  /// Reads whatever is open in the engine now. Resolves once all of it is shown.
  async load(): Promise<void> {
    const asked = engine.call('project.state', {})
    this.#loading = asked
    const answer = await asked
    this.#films.leave()
    this.#samples.leave()
    const { kept, saving, refusal, file } = this.shown.now
    if (!answer.ok) {
      const none = answer.error.code === 'no-project'
      return this.shown.show({ ...nothingShown, kept, phase: none ? 'none' : 'lost', refusal: none ? refusal : answer.error })
    }
    const { value } = answer
    this.#after = value.after
    this.#samples = new Samples()
    if (value.file !== file) {
      forgetFilms()
      leavePlaces()
    }
    const state = stateOfReplica(value.replica)
    this.shown.show({
      ...nothingShown,
      kept,
      saving,
      phase: 'open',
      file: value.file,
      readOnly: value.readOnly,
      next: value.next,
      ...this.#derived(state),
    })
    void this.#poll(value.engine, value.after, ++this.#polling)
    const films = this.#films.readAll()
    const filmsFirst = (): Promise<unknown> =>
      Promise.race([films.then(() => this.#films.known()).then(() => pause(FIRST_FRAME_MS)), pause(FILMS_FIRST_MS)])
    this.whole = this.#samples.readAll(state, () => this.#derive(), filmsFirst)
    await Promise.all([films, this.whole, this.#lists.readAll()])
  }

  /// Leads the replica on by edits that it has not seen, and shows what can be undone then.
  follow({ edits, version, next }: { readonly edits: readonly Edit[]; readonly version: number; readonly next: NextUndo }): void {
    this.#apply(edits)
    // Of a version that has been left behind it is no longer so.
    if (version < (this.shown.now.state?.version ?? 0)) return
    if (JSON.stringify(next) !== JSON.stringify(this.shown.now.next)) this.shown.show({ next })
  }

  #apply(edits: readonly Edit[]): void {
    let { state } = this.shown.now
    if (!state) return
    for (const edit of edits) {
      if (edit.base < state.version) continue
      const applied = applyEdit(state, edit)
      if (!applied.ok) return void this.load()
      state = applied.value.state
    }
    if (state === this.shown.now.state) return
    if (edits.some((edit) => edit.diffs.length > 0)) {
      clearTimeout(this.#settling)
      this.shown.show(this.#derived(state))
    } else {
      // Typing: the film is laid out anew when the hand pauses, not at every key.
      this.shown.show({ state })
      this.#settle()
    }
    this.#lists.findingsMayChange()
  }

  /// Asks for events until another project is opened.
  async #poll(name: string, after: number, turn: number): Promise<void> {
    for (let at = after; turn === this.#polling;) {
      const page = await engine.events(name, at)
      if (turn !== this.#polling) return
      if (!page.ok) {
        await pause(1000)
        continue
      }
      if (page.value.lost) return void this.load()
      for (const event of page.value.events) this.#hear(event)
      at = page.value.next
    }
  }

  #hear(event: SequencedEvent): void {
    // Whoever opened it here has loaded it already, or is about to.
    if (event.kind === 'project') void this.#loading.then(() => (event.number > this.#after ? this.load() : undefined))
    else if (event.kind === 'edits') this.follow(event)
    else if (event.kind === 'readings') this.#lists.hearReadings(event.changed, event.gone)
    else if (event.kind === 'film') {
      if (this.shown.now.films.get(event.film.id)?.shared.length !== event.film.shared.length) this.#lists.findingsMayChange()
      this.#films.hear(event.film)
    } else if (event.kind === 'job') {
      // Whoever hands a project over waits for it, in whatever room.
      const failed = event.job.kind === 'bundle' && event.job.state === 'failed' ? event.job.refusal : null
      if (failed) this.shown.show({ refusal: failed })
      this.#lists.hearJob(event.job)
    } else void this.#lists.readTakes()
  }

  /// Works out what follows from the words, once the hand pauses.
  #settle(): void {
    clearTimeout(this.#settling)
    this.#settling = setTimeout(() => {
      if (this.saving.any) this.#settle()
      else this.#derive()
    }, SETTLING_MS)
  }

  #derive(): void {
    const { state } = this.shown.now
    if (state) this.shown.show(this.#derived(state))
  }

  #derived(state: ProjectState): Pick<Shown, 'state' | 'breakdown'> {
    return { state, breakdown: breakdownOf(state, this.#samples.in(state)) }
  }
}

const pause = (ms: number): Promise<void> => new Promise((done) => setTimeout(done, ms))
