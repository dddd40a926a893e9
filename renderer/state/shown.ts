import type { NextUndo } from '../../app/contract/edit-calls'
import type { FilmFacts, FilmTable } from '../../app/contract/footage-calls'
import type { Refusal } from '../../app/contract/refusal'
import type { Job } from '../../app/contract/work-calls'
import type { ProjectState } from '../../app/edit/project-state'
import type { Reading } from '../../app/measure/reading'
import type { Breakdown } from '../../app/project/breakdown'
import type { Finding } from '../../app/script/claims/finding'
import type { Rational } from '../../app/time/rational'

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

/// What is shown before there is a project.
export const nothingShown: Shown = {
  phase: 'starting',
  file: '',
  readOnly: false,
  state: null,
  breakdown: null,
  readings: new Map(),
  films: new Map(),
  tables: new Map(),
  takes: new Map(),
  findings: [],
  jobs: [],
  next: { undo: null, redo: null },
  saving: false,
  refusal: null,
  kept: [],
}

/// What is shown now, and those who hear of every change of it.
export class ShownNow {
  #shown = nothingShown
  readonly #listeners = new Set<() => void>()

  get now(): Shown {
    return this.#shown
  }

  /// Changes these parts; the others stay the same objects.
  show(parts: Partial<Shown>): void {
    this.#shown = { ...this.#shown, ...parts }
    for (const listener of this.#listeners) listener()
  }

  /// What it answers ends the listening.
  subscribe(listener: () => void): () => void {
    this.#listeners.add(listener)
    return () => this.#listeners.delete(listener)
  }
}
