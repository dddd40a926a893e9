import type { SequencedEvent } from '../../app/contract/events'
import type { CallOutput } from '../../app/contract/calls'
import type { NextUndo } from '../../app/contract/edit-calls'
import type { FilmFacts, FilmTable } from '../../app/contract/footage-calls'
import type { Refusal } from '../../app/contract/refusal'
import { stateOfReplica } from '../../app/contract/replica'
import type { Job } from '../../app/contract/work-calls'
import { applyEdit } from '../../app/edit/apply-edit'
import type { Change, Edit } from '../../app/edit/edit'
import { breakdownOf, type PackHead, type ProjectState } from '../../app/edit/project-state'
import { sentOf } from '../../app/edit/sent-edit'
import { landmarkKey, type LandmarkHead } from '../../app/edit/records'
import type { Reading } from '../../app/measure/reading'
import type { Breakdown } from '../../app/project/breakdown'
import type { Sample } from '../../app/project/film'
import type { Finding } from '../../app/script/claims/finding'
import { rational, type Rational } from '../../app/time/rational'
import { forgetFilms } from '../player/films'
import { engine } from './engine'
import { storedWords, storeWords, unstoreWords } from './kept-store'
import { goToEdit, leavePlaces } from './place'
import { readPage, samplePages, withPage, type SamplesRead } from './sample-pages'

export type EditChange = Omit<Change, 'selection'>

/// What a room sees of the open project at one moment. A new object for every change.
export interface Shown {
  readonly phase: 'starting' | 'none' | 'open' | 'lost'
  readonly file: string
  readonly readOnly: boolean
  readonly state: ProjectState | null
  readonly breakdown: Breakdown | null
  readonly readings: ReadonlyMap<string, Reading>
  readonly films: ReadonlyMap<string, FilmFacts>
  readonly tables: ReadonlyMap<string, FilmTable>
  readonly takes: ReadonlyMap<string, Rational>
  readonly findings: readonly Finding[]
  readonly jobs: readonly Job[]
  readonly next: NextUndo
  /// Something that was done is not yet on the disk: on its way, or waiting for what goes before it.
  readonly saving: boolean
  /// What was refused last; null once it was read.
  readonly refusal: Refusal | null
  /// Words that refused edits would have put in, the earliest first: each stands until a person puts it away.
  readonly kept: readonly string[]
}

const nothing: Shown = {
  phase: 'starting', file: '', readOnly: false, state: null, breakdown: null, readings: new Map(), films: new Map(), tables: new Map(), takes: new Map(), findings: [], jobs: [],
  next: { undo: null, redo: null }, saving: false, refusal: null, kept: [],
}

/// How long the hand pauses before what follows from the words is worked out anew.
const SETTLING_MS = 250
/// While many samples are being read, what has come is shown this often.
const SHOWING_MS = 500
/// Behind their first page, samples wait for films that were read before and are being found again, and for what then needs
/// the window for a first frame; for so long at most.
const FILMS_FIRST_MS = 2000
const FIRST_FRAME_MS = 250
/// How long nothing must be on its way before all is said to be saved.
const CALM_MS = 250

/// The window's replica of the open project: follows the engine's events, and is the one gate for edits.
export class Project {
  #shown = nothing
  readonly #listeners = new Set<() => void>()
  #samples: SamplesRead = new Map()
  /// Resolves once every sample has been read: until then a change of samples could not know what was there.
  #reading: Promise<void> = Promise.resolve()
  readonly #merged = new Map<string, { readonly packs: readonly PackHead[]; readonly from: ReadonlyMap<number, readonly Sample[]> | undefined; readonly samples: Sample[] }>()
  /// Frame times that are being asked for, by film.
  readonly #asked = new Map<string, Promise<void>>()
  #polling = 0
  /// Counts the projects that were loaded or left: what was asked for one of them is of no use to the next.
  #loads = 0
  /// The state that is on its way, and the number of the last event that is in the one that came last.
  #loading: Promise<unknown> = Promise.resolve()
  #after = -1
  #queue: Promise<unknown> = Promise.resolve()
  #settling: ReturnType<typeof setTimeout> | undefined
  #asking: ReturnType<typeof setTimeout> | undefined

  /// Edits on their way or waiting for others, and words that wait to be sent.
  #pending = 0
  #calming: ReturnType<typeof setTimeout> | undefined

  /// Set by the script's editor: resolves once what it has not sent yet is on the disk.
  unsent: (() => Promise<void>) | null = null

  subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener)
    return () => this.#listeners.delete(listener)
  }
  shown = (): Shown => this.#shown

  /// Once. What an earlier window held and nobody put away is held again.
  async start(): Promise<void> {
    this.#shown = { ...this.#shown, kept: storedWords() }
    await this.#load()
  }

  async open(file: string): Promise<void> {
    const opened = await engine.call('project.open', { file })
    if (opened.ok) await this.#load()
    else this.#show({ refusal: opened.error })
  }

  async create(file: string, title: string, template: 'blank' | 'walkthrough'): Promise<void> {
    const made = await engine.call('project.new', { file, title, template })
    if (made.ok) await this.#load()
    else this.#show({ refusal: made.error })
  }

  /// Closes the open project. Null when it is done, else why not.
  async close(): Promise<Refusal | null> {
    await this.unsent?.()
    await this.#queue
    const answer = await engine.call('project.close', {})
    if (!answer.ok) return answer.error
    await this.#load()
    return null
  }

  /// Sends a change; one at a time, in order. Null when it was refused: the refusal is shown, nothing changed. A change
  /// that speaks of records as they are then is given as a verb; null from it: there is nothing to do. `base`: the
  /// version that its steps were made on, where that is not the latest.
  edit(change: EditChange | ((state: ProjectState) => EditChange | null), group: string | null = null, base?: () => number): Promise<ProjectState | null> {
    // Said from here on: it may wait long for edits before it, and for samples.
    this.#save(1)
    const sent = this.#queue.then(async () => {
      await this.#reading
      const { state } = this.#shown
      const made = state && (typeof change === 'function' ? change(state) : change)
      if (!made) return null
      const edit: Edit = { ...made, selection: null, id: crypto.randomUUID(), group, base: base?.() ?? state.version }
      const answer = await engine.call('edit.apply', { edit: sentOf(edit) })
      if (!answer.ok) {
        this.#show({ refusal: answer.error })
        return null
      }
      this.#follow(answer.value.edits)
      this.#showNext(answer.value)
      return this.#shown.state
    }).finally(() => this.#save(-1))
    this.#queue = sent.catch(() => null)
    return sent
  }

  /// In its turn among the edits: what is done after it is done on what it leaves.
  async undo(kind: 'undo' | 'redo'): Promise<void> {
    this.#save(1)
    try {
      if (this.unsent) await this.unsent()
      const done = this.#queue.then(() => this.#undo(kind))
      this.#queue = done.catch(() => null)
      await done
    } finally {
      this.#save(-1)
    }
  }

  async #undo(kind: 'undo' | 'redo'): Promise<void> {
    // The person sees it happen: first there, then the change.
    const step = this.#shown.next[kind]
    if (step) goToEdit(step.place)
    const answer = await engine.call(kind === 'undo' ? 'edit.undo' : 'edit.redo', {})
    if (!answer.ok) return this.#show({ refusal: answer.error })
    this.#follow(answer.value.edits)
    this.#showNext(answer.value)
  }

  /// Adds films by path. What is refused is said.
  async addFilms(files: readonly string[]): Promise<void> {
    const answer = await engine.call('footage.add', { files: [...files] })
    const refused = answer.ok ? answer.value.refused[0]?.refusal : answer.error
    if (refused) this.#show({ refusal: refused })
  }

  async render(file: string, quality: 'draft' | 'final', burnCaptions = false): Promise<void> {
    const answer = await engine.call('render.start', { file, quality, replace: true, burnCaptions })
    if (!answer.ok) this.#show({ refusal: answer.error })
  }

  async cancel(job: string): Promise<void> {
    const answer = await engine.call('jobs.cancel', { job })
    if (!answer.ok) this.#show({ refusal: answer.error })
  }

  /// Shows why something was refused, in whatever room the person is.
  refuse(refusal: Refusal): void {
    this.#show({ refusal })
  }

  /// The refusal was read. Words that it left over stay.
  dismiss(): void {
    this.#show({ refusal: null })
  }

  /// Holds words of a refused edit, for the person to take back.
  keep(words: string): void {
    if (words.trim() === '') return
    storeWords(words)
    this.#show({ kept: [...this.#shown.kept, words] })
  }

  /// Lets go of words that were held.
  putAway(at: number): void {
    const words = this.#shown.kept[at]
    if (words === undefined) return
    unstoreWords(words)
    this.#show({ kept: this.#shown.kept.toSpliced(at, 1) })
  }

  /// Whether a window that went away now would lose something that was done. What waits for more keys is sent at once.
  leaving(): boolean {
    const unsaved = this.#pending > 0
    if (unsaved) void this.unsent?.()
    return unsaved
  }

  /// Words are waiting to be sent (`true`), or have been (`false`): "all saved" is not said meanwhile.
  waiting(has: boolean): void {
    this.#save(has ? 1 : -1)
  }

  /// "saving" is shown at once, and taken away only when nothing has been on its way for a moment: it does not flicker.
  #save(by: 1 | -1): void {
    this.#pending += by
    clearTimeout(this.#calming)
    if (this.#pending > 0) {
      if (!this.#shown.saving) this.#show({ saving: true })
    } else this.#calming = setTimeout(() => this.#show({ saving: false }), CALM_MS)
  }

  /// What can be undone as of a version; of one that has been left behind it is no longer so.
  #showNext({ version, next }: { readonly version: number; readonly next: NextUndo }): void {
    if (version < (this.#shown.state?.version ?? 0)) return
    if (JSON.stringify(next) !== JSON.stringify(this.#shown.next)) this.#show({ next })
  }

  #show(parts: Partial<Shown>): void {
    this.#shown = { ...this.#shown, ...parts }
    for (const listener of this.#listeners) listener()
  }

  async #load(): Promise<void> {
    const asked = engine.call('project.state', {})
    this.#loading = asked
    const answer = await asked
    this.#loads++
    this.#asked.clear()
    if (!answer.ok) {
      this.#shown = { ...nothing, kept: this.#shown.kept, phase: answer.error.code === 'no-project' ? 'none' : 'lost', refusal: answer.error.code === 'no-project' ? this.#shown.refusal : answer.error }
      this.#show({})
      return
    }
    const { value } = answer
    this.#after = value.after
    this.#samples = new Map()
    this.#merged.clear()
    if (value.file !== this.#shown.file) {
      forgetFilms()
      leavePlaces()
    }
    this.#show({ ...nothing, kept: this.#shown.kept, saving: this.#shown.saving, phase: 'open', file: value.file, readOnly: value.readOnly, next: value.next, ...this.#derived(stateOfReplica(value.replica)) })
    void this.#poll(value.engine, value.after, ++this.#polling)
    const films = this.#readFilms()
    this.#reading = this.#readSamples(this.#loads, films)
    await Promise.all([films, this.#reading, this.#readTakes(), this.#readJobs(), this.#readReadings().then(() => this.#readFindings())])
  }

  /// Asks for events until another project is opened.
  async #poll(name: string, after: number, turn: number): Promise<void> {
    for (let at = after; turn === this.#polling; ) {
      const page = await engine.events(name, at)
      if (turn !== this.#polling) return
      if (!page.ok) {
        await new Promise((done) => setTimeout(done, 1000))
        continue
      }
      if (page.value.lost) return void this.#load()
      for (const event of page.value.events) this.#hear(event)
      at = page.value.next
    }
  }

  #hear(event: SequencedEvent): void {
    // Whoever opened it here has loaded it already, or is about to.
    if (event.kind === 'project') void this.#loading.then(() => (event.number > this.#after ? this.#load() : undefined))
    else if (event.kind === 'edits') {
      this.#follow(event.edits)
      this.#showNext(event)
    } else if (event.kind === 'readings') {
      const readings = new Map(this.#shown.readings)
      for (const reading of event.changed) readings.set(reading.id, reading)
      for (const id of event.gone) readings.delete(id)
      this.#show({ readings })
      this.#askFindings()
    } else if (event.kind === 'film') {
      if (this.#shown.films.get(event.film.id)?.shared.length !== event.film.shared.length) this.#askFindings()
      this.#show({ films: new Map(this.#shown.films).set(event.film.id, event.film) })
      if (event.film.state === 'ready') void this.#readTable(event.film.id)
      else this.#asked.delete(event.film.id)
    } else if (event.kind === 'job') {
      // Whoever hands a project over waits for it, in whatever room.
      const failed = event.job.kind === 'bundle' && event.job.state === 'failed' ? event.job.refusal : null
      if (failed) this.refuse(failed)
      this.#show({ jobs: [event.job, ...this.#shown.jobs.filter((job) => job.id !== event.job.id)] })
    } else void this.#readTakes()
  }

  /// Leads the replica on by edits that it has not seen.
  #follow(edits: readonly Edit[]): void {
    let { state } = this.#shown
    if (!state) return
    for (const edit of edits) {
      if (edit.base < state.version) continue
      const applied = applyEdit(state, edit)
      if (!applied.ok) return void this.#load()
      state = applied.value.state
    }
    if (state === this.#shown.state) return
    if (edits.some((edit) => edit.diffs.length > 0)) {
      clearTimeout(this.#settling)
      this.#show(this.#derived(state))
    } else {
      // Typing: the film is laid out anew when the hand pauses, not at every key.
      this.#show({ state })
      this.#settle()
    }
    this.#askFindings()
  }

  /// Works out what follows from the words, once the hand pauses.
  #settle(): void {
    clearTimeout(this.#settling)
    this.#settling = setTimeout(() => {
      if (this.#pending > 0) this.#settle()
      else if (this.#shown.state) this.#show(this.#derived(this.#shown.state))
    }, SETTLING_MS)
  }

  #derived(state: ProjectState): Pick<Shown, 'state' | 'breakdown'> {
    return { state, breakdown: breakdownOf(state, this.#sampled(state)) }
  }

  /// A landmark's samples: of packs that an edit brought along as the edit has them, else as they were read.
  #sampled(state: ProjectState): (of: LandmarkHead) => Sample[] {
    const packs = new Map<string, PackHead[]>()
    for (const pack of state.tables.packs.list()) {
      const of = packs.get(landmarkKey(pack))
      if (of) of.push(pack)
      else packs.set(landmarkKey(pack), [pack])
    }
    const read = this.#samples
    return (of) => {
      const key = landmarkKey(of)
      const own = (packs.get(key) ?? []).sort((x, y) => x.pack - y.pack)
      const known = this.#merged.get(key)
      const from = read.get(key)
      if (known && known.from === from && known.packs.length === own.length && own.every((pack, i) => pack === known.packs[i])) return known.samples
      const samples = own.flatMap((pack) => pack.samples ?? from?.get(pack.pack) ?? [])
      this.#merged.set(key, { packs: own, from, samples })
      return samples
    }
  }

  /// Reads every sample, page by page; what has come is shown meanwhile. Edits bring the samples along that they change.
  async #readSamples(load: number, films: Promise<void>): Promise<void> {
    const turns = samplePages(this.#shown.state?.tables.packs.list() ?? [])
    let shown = -Infinity
    for (const [i, pages] of turns.entries()) {
      const read = await Promise.all(pages.map((page) => readPage(page, (of) => engine.call('landmarks.samples', { ...of }))))
      if (load !== this.#loads) return
      this.#samples = withPage(this.#samples, read.flat())
      if (i > 0 && i + 1 < turns.length && performance.now() - shown < SHOWING_MS) continue
      if (this.#shown.state) this.#show(this.#derived(this.#shown.state))
      shown = performance.now()
      if (i === 0 && turns.length > 1) await Promise.race([films.then(() => this.#filmsKnown()).then(() => pause(FIRST_FRAME_MS)), pause(FILMS_FIRST_MS)])
    }
  }

  /// Resolves once every film is known, or is being read for the first time, which takes long.
  #filmsKnown(): Promise<void> {
    const known = (): boolean => [...this.#shown.films.values()].every(({ id, state, job }) => (state === 'ready' ? this.#shown.tables.has(id) : state !== 'reading' || job !== null))
    return new Promise((done) => {
      const look = (): void => {
        if (!known()) return
        leave()
        done()
      }
      const leave = this.subscribe(look)
      look()
    })
  }

  async #readFilms(): Promise<void> {
    const answer = await engine.call('footage.facts', {})
    if (!answer.ok) return
    this.#show({ films: new Map(answer.value.films.map((film) => [film.id, film])) })
    await Promise.all(answer.value.films.filter((film) => film.state === 'ready').map((film) => this.#readTable(film.id)))
  }

  /// One question at a time for each film: its facts and the news of it ask alike.
  #readTable(footage: string): Promise<void> {
    const asked = this.#asked.get(footage)
    if (asked) return asked
    const answered: Promise<void> = engine.call('footage.table', { footage }).then((answer) => {
      if (this.#asked.get(footage) !== answered) return
      this.#asked.delete(footage)
      if (answer.ok) this.#show({ tables: new Map(this.#shown.tables).set(footage, answer.value) })
    })
    this.#asked.set(footage, answered)
    return answered
  }

  async #readReadings(): Promise<void> {
    const answer = await engine.call('readings.list', {})
    if (answer.ok) this.#show({ readings: new Map(answer.value.readings.map((reading) => [reading.id, reading])) })
  }

  #askFindings(): void {
    clearTimeout(this.#asking)
    this.#asking = setTimeout(() => void this.#readFindings(), SETTLING_MS)
  }

  async #readFindings(): Promise<void> {
    const answer = await engine.call('findings.list', {})
    if (answer.ok && JSON.stringify(answer.value.findings) !== JSON.stringify(this.#shown.findings)) this.#show({ findings: answer.value.findings })
  }

  async #readJobs(): Promise<void> {
    const answer = await engine.call('jobs.list', {})
    if (answer.ok) this.#show({ jobs: answer.value.jobs })
  }

  async #readTakes(): Promise<void> {
    const answer: { ok: true; value: CallOutput<'takes.list'> } | { ok: false; error: Refusal } = await engine.call('takes.list', {})
    if (!answer.ok) return
    const lengths = answer.value.takes.flatMap((take) => (take.state === 'finished' && take.file !== null && take.samples > 0 ? [[take.file, rational(take.samples, take.sampleRate)] as const] : []))
    this.#show({ takes: new Map(lengths) })
  }
}

const pause = (ms: number): Promise<void> => new Promise((done) => setTimeout(done, ms))
