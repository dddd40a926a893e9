import type { Refusal } from '../../app/contract/refusal'
import type { Change, Edit } from '../../app/edit/edit'
import type { ProjectState } from '../../app/edit/project-state'
import { sentOf } from '../../app/edit/sent-edit'
import { engine } from './engine'
import { storedWords, storeWords, unstoreWords } from './kept-store'
import { goToEdit } from './place'
import { Replica } from './replica'
import { Saving } from './saving'
import { ShownNow, type Shown } from './shown'
import { Turns } from './turns'

export type EditChange = Omit<Change, 'selection'>

/// The open project as the window has it: what is shown of it, and the one gate for all that is done to it.
export class Project {
  readonly #shown = new ShownNow()
  readonly #saving = new Saving(this.#shown)
  readonly #replica = new Replica(this.#shown, this.#saving)
  readonly #turns = new Turns()

  /// Set by the script's editor: resolves once what it has not sent yet is on the disk.
  unsent: (() => Promise<void>) | null = null

  subscribe = (listener: () => void): (() => void) => this.#shown.subscribe(listener)
  shown = (): Shown => this.#shown.now

  /// Once. What an earlier window held and nobody put away is held again.
  async start(): Promise<void> {
    this.#shown.show({ kept: storedWords() })
    await this.#replica.load()
  }

  async open(file: string): Promise<void> {
    const opened = await engine.call('project.open', { file })
    if (opened.ok) await this.#replica.load()
    else this.refuse(opened.error)
  }

  async create(file: string, title: string, template: 'blank' | 'walkthrough'): Promise<void> {
    const made = await engine.call('project.new', { file, title, template })
    if (made.ok) await this.#replica.load()
    else this.refuse(made.error)
  }

  /// Closes the open project. Null when it is done, else why not.
  async close(): Promise<Refusal | null> {
    await this.unsent?.()
    await this.#turns.over()
    const answer = await engine.call('project.close', {})
    if (!answer.ok) return answer.error
    await this.#replica.load()
    return null
  }

  /// Sends a change; one at a time, in order. Null when it was refused: the refusal is shown, nothing changed. A change
  /// that speaks of records as they are then is given as a verb; null from it: there is nothing to do. `base`: the
  /// version that its steps were made on, where that is not the latest.
  edit(
    change: EditChange | ((state: ProjectState) => EditChange | null),
    group: string | null = null,
    base?: () => number,
  ): Promise<ProjectState | null> {
    return this.#saving.until(
      this.#turns.take(async () => {
        await this.#replica.whole
        const { state } = this.shown()
        const made = state && (typeof change === 'function' ? change(state) : change)
        if (!made) return null
        const edit: Edit = { ...made, selection: null, id: crypto.randomUUID(), group, base: base?.() ?? state.version }
        const answer = await engine.call('edit.apply', { edit: sentOf(edit) })
        if (!answer.ok) {
          this.refuse(answer.error)
          return null
        }
        this.#replica.follow(answer.value)
        return this.shown().state
      }),
    )
  }

  /// In its turn among the edits: what is done after it is done on what it leaves.
  undo(kind: 'undo' | 'redo'): Promise<void> {
    const inTurn = (): Promise<void> => this.#turns.take(() => this.#undo(kind))
    return this.#saving.until(this.unsent ? this.unsent().then(inTurn) : inTurn())
  }

  async #undo(kind: 'undo' | 'redo'): Promise<void> {
    // The person sees it happen: first there, then the change.
    const step = this.shown().next[kind]
    if (step) goToEdit(step.place)
    const answer = await engine.call(kind === 'undo' ? 'edit.undo' : 'edit.redo', {})
    if (answer.ok) this.#replica.follow(answer.value)
    else this.refuse(answer.error)
  }

  /// Adds films by path. What is refused is said.
  async addFilms(files: readonly string[]): Promise<void> {
    const answer = await engine.call('footage.add', { files: [...files] })
    const refused = answer.ok ? answer.value.refused[0]?.refusal : answer.error
    if (refused) this.refuse(refused)
  }

  async render(file: string, quality: 'draft' | 'final', burnCaptions = false): Promise<void> {
    const answer = await engine.call('render.start', { file, quality, replace: true, burnCaptions })
    if (!answer.ok) this.refuse(answer.error)
  }

  async cancel(job: string): Promise<void> {
    const answer = await engine.call('jobs.cancel', { job })
    if (!answer.ok) this.refuse(answer.error)
  }

  /// Shows why something was refused, in whatever room the person is.
  refuse(refusal: Refusal): void {
    this.#shown.show({ refusal })
  }

  /// The refusal was read. Words that it left over stay.
  dismiss(): void {
    this.#shown.show({ refusal: null })
  }

  /// Holds words of a refused edit, for the person to take back.
  keep(words: string): void {
    if (words.trim() === '') return
    storeWords(words)
    this.#shown.show({ kept: [...this.shown().kept, words] })
  }

  /// Lets go of words that were held.
  putAway(at: number): void {
    const { kept } = this.shown()
    const words = kept[at]
    if (words === undefined) return
    unstoreWords(words)
    this.#shown.show({ kept: kept.toSpliced(at, 1) })
  }

  /// Whether a window that went away now would lose something that was done. What waits for more keys is sent at once.
  leaving(): boolean {
    const unsaved = this.#saving.any
    if (unsaved) void this.unsent?.()
    return unsaved
  }

  /// Words are waiting to be sent (`true`), or have been (`false`): "all saved" is not said meanwhile.
  waiting(has: boolean): void {
    this.#saving.add(has ? 1 : -1)
  }
}
