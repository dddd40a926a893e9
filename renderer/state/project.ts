import type { SequencedEvent } from '../../app/contract/events'
import type { CallOutput } from '../../app/contract/calls'
import type { NextUndo } from '../../app/contract/edit-calls'
import type { FilmFacts, FilmTable } from '../../app/contract/footage-calls'
import type { Refusal } from '../../app/contract/refusal'
import { stateOfReplica } from '../../app/contract/replica'
import type { Job } from '../../app/contract/work-calls'
import { applyEdit } from '../../app/edit/apply-edit'
import type { Change, Edit } from '../../app/edit/edit'
import { breakdownOf, type ProjectState } from '../../app/edit/project-state'
import type { Reading } from '../../app/measure/reading'
import type { Breakdown } from '../../app/project/breakdown'
import type { Landmark } from '../../app/project/film'
import type { Finding } from '../../app/script/claims/finding'
import { rational, type Rational } from '../../app/time/rational'
import { engine } from './engine'

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
  /// An edit is on its way and not yet on the disk.
  readonly saving: boolean
  /// What was refused last; null once it was read.
  readonly refusal: Refusal | null
}

const nothing: Shown = {
  phase: 'starting', file: '', readOnly: false, state: null, breakdown: null, readings: new Map(), films: new Map(), tables: new Map(), takes: new Map(), findings: [], jobs: [],
  next: { undo: null, redo: null }, saving: false, refusal: null,
}

/// The window's replica of the open project: follows the engine's events, and is the one gate for edits.
export class Project {
  #shown = nothing
  readonly #listeners = new Set<() => void>()
  #samples: readonly Landmark[] = []
  #polling = 0
  #queue: Promise<unknown> = Promise.resolve()

  subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener)
    return () => this.#listeners.delete(listener)
  }
  shown = (): Shown => this.#shown

  async start(): Promise<void> {
    await this.#load()
  }

  async open(file: string): Promise<void> {
    const opened = await engine.call('project.open', { file })
    if (opened.ok) await this.#load()
    else this.#show({ refusal: opened.error })
  }

  async create(file: string, title: string): Promise<void> {
    const made = await engine.call('project.new', { file, title, template: 'walkthrough' })
    if (made.ok) await this.#load()
    else this.#show({ refusal: made.error })
  }

  /// Sends a change; one at a time, in order. Null when it was refused: the refusal is shown, nothing changed.
  edit(change: Omit<Change, 'selection'>, group: string | null = null): Promise<ProjectState | null> {
    const sent = this.#queue.then(async () => {
      const { state } = this.#shown
      if (!state) return null
      this.#show({ saving: true })
      const edit: Edit = { ...change, selection: null, id: crypto.randomUUID(), group, base: state.version }
      const answer = await engine.call('edit.apply', { edit })
      this.#show({ saving: false, ...(answer.ok ? {} : { refusal: answer.error }) })
      if (!answer.ok) return null
      this.#follow(answer.value.edits)
      this.#show({ next: answer.value.next })
      return this.#shown.state
    })
    this.#queue = sent.catch(() => null)
    return sent
  }

  async undo(kind: 'undo' | 'redo'): Promise<void> {
    await this.#queue
    const answer = await engine.call(kind === 'undo' ? 'edit.undo' : 'edit.redo', {})
    if (!answer.ok) return this.#show({ refusal: answer.error })
    this.#follow(answer.value.edits)
    this.#show({ next: answer.value.next })
  }

  /// Adds films by path. What is refused is said.
  async addFilms(files: readonly string[]): Promise<void> {
    const answer = await engine.call('footage.add', { files: [...files] })
    const refused = answer.ok ? answer.value.refused[0]?.refusal : answer.error
    if (refused) this.#show({ refusal: refused })
  }

  async render(file: string, quality: 'draft' | 'final'): Promise<void> {
    const answer = await engine.call('render.start', { file, quality, replace: true })
    if (!answer.ok) this.#show({ refusal: answer.error })
  }

  async cancel(job: string): Promise<void> {
    const answer = await engine.call('jobs.cancel', { job })
    if (!answer.ok) this.#show({ refusal: answer.error })
  }

  dismiss(): void {
    this.#show({ refusal: null })
  }

  #show(parts: Partial<Shown>): void {
    this.#shown = { ...this.#shown, ...parts }
    for (const listener of this.#listeners) listener()
  }

  async #load(): Promise<void> {
    const answer = await engine.call('project.state', {})
    if (!answer.ok) {
      this.#shown = { ...nothing, phase: answer.error.code === 'no-project' ? 'none' : 'lost', refusal: answer.error.code === 'no-project' ? this.#shown.refusal : answer.error }
      this.#show({})
      return
    }
    const { value } = answer
    this.#samples = []
    this.#show({ ...nothing, phase: 'open', file: value.file, readOnly: value.readOnly, next: value.next, ...this.#derived(stateOfReplica(value.replica)) })
    void this.#poll(value.engine, value.after, ++this.#polling)
    await Promise.all([this.#readFilms(), this.#readReadings(), this.#readTakes(), this.#readSamples(), this.#readFindings(), this.#readJobs()])
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
    if (event.kind === 'project') void this.#load()
    else if (event.kind === 'edits') {
      this.#follow(event.edits)
      this.#show({ next: event.next })
    } else if (event.kind === 'readings') {
      const readings = new Map(this.#shown.readings)
      for (const reading of event.changed) readings.set(reading.id, reading)
      for (const id of event.gone) readings.delete(id)
      this.#show({ readings })
      void this.#readFindings()
    } else if (event.kind === 'film') {
      this.#show({ films: new Map(this.#shown.films).set(event.film.id, event.film) })
      if (event.film.state === 'ready') void this.#readTable(event.film.id)
    } else if (event.kind === 'job') this.#show({ jobs: [event.job, ...this.#shown.jobs.filter((job) => job.id !== event.job.id)] })
    else void this.#readTakes()
  }

  /// Leads the replica on by edits that it has not seen.
  #follow(edits: readonly Edit[]): void {
    let { state } = this.#shown
    if (!state) return
    let placed = false
    for (const edit of edits) {
      if (edit.base < state.version) continue
      const applied = applyEdit(state, edit)
      if (!applied.ok) return void this.#load()
      state = applied.value.state
      placed ||= edit.diffs.some((diff) => diff.table === 'packs')
    }
    if (state === this.#shown.state) return
    this.#show(this.#derived(state))
    void this.#readFindings()
    if (placed) void this.#readSamples()
  }

  #derived(state: ProjectState): Pick<Shown, 'state' | 'breakdown'> {
    const samples = new Map(this.#samples.map((l) => [`${l.clip}/${l.subject}/${l.point}`, l.samples]))
    return { state, breakdown: breakdownOf(state, (of) => [...(samples.get(`${of.clip}/${of.subject}/${of.point}`) ?? [])]) }
  }

  async #readSamples(): Promise<void> {
    const { state } = this.#shown
    if (!state) return
    const answers = await Promise.all(state.tables.clips.list().map((clip) => engine.call('landmarks.samples', { clip: clip.id })))
    // A clip with more samples than travel at once is drawn without its landmarks.
    this.#samples = answers.flatMap((answer) => (answer.ok ? answer.value.landmarks : []))
    if (this.#shown.state) this.#show(this.#derived(this.#shown.state))
  }

  async #readFilms(): Promise<void> {
    const answer = await engine.call('footage.facts', {})
    if (!answer.ok) return
    this.#show({ films: new Map(answer.value.films.map((film) => [film.id, film])) })
    await Promise.all(answer.value.films.filter((film) => film.state === 'ready').map((film) => this.#readTable(film.id)))
  }

  async #readTable(footage: string): Promise<void> {
    const answer = await engine.call('footage.table', { footage })
    if (answer.ok) this.#show({ tables: new Map(this.#shown.tables).set(footage, answer.value) })
  }

  async #readReadings(): Promise<void> {
    const answer = await engine.call('readings.list', {})
    if (answer.ok) this.#show({ readings: new Map(answer.value.readings.map((reading) => [reading.id, reading])) })
  }

  async #readFindings(): Promise<void> {
    const answer = await engine.call('findings.list', {})
    if (answer.ok) this.#show({ findings: answer.value.findings })
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

