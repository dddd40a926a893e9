import { setTimeout } from 'node:timers/promises'
import type { Edit } from '../../app/edit/edit'
import { breakdownOf } from '../../app/edit/project-state'
import { landmarkKey, type LandmarkHead, type TableName } from '../../app/edit/records'
import { sameRecord } from '../../app/edit/same-record'
import type { Reading } from '../../app/measure/reading'
import { readingsOf } from '../../app/measure/readings'
import type { Breakdown } from '../../app/project/breakdown'
import type { Sample } from '../../app/project/film'
import type { FrameTable } from '../../app/time/frame-table'
import type { Project } from '../store/project'

export interface ReadingNews {
  readonly version: number
  readonly changed: readonly Reading[]
  readonly gone: readonly string[]
}

/// What a reading hangs on; an edit of nothing else leaves all readings as they are.
const PARTS: ReadonlySet<TableName> = new Set(['clips', 'views', 'events', 'landmarks', 'packs', 'measures', 'subjects', 'footage'])
/// Edits that come one upon the other are answered together.
const PATIENCE_MS = 15
/// Samples are read in for so long at a time, and the pauses last so many times that.
const PIECE_MS = 8
const PAUSE = 2

/// The readings of the open project, kept level with its edits and with what is known of its films.
export class ReadingDesk {
  #readings: readonly Reading[] = []
  #version = -1
  #due: NodeJS.Timeout | null = null
  #closed = false
  readonly #samples = new Map<string, Sample[]>()

  constructor(
    private readonly project: Project,
    private readonly tableOf: (footage: string) => FrameTable | null,
    private readonly tell: (news: ReadingNews) => void,
    private readonly onFault: (error: unknown) => void,
  ) {
    this.#readings = project.readings()
  }

  /// The readings as of the project's present version.
  list(): readonly Reading[] {
    this.level()
    return this.#readings
  }

  /// The whole project as one value, samples included.
  breakdown(): Breakdown {
    return breakdownOf(this.project.state, (of) => this.#samplesOf(of))
  }

  /// Reads in the samples that are not yet, in pieces, with pauses for other questions: all at once, a large clip would hold
  /// the window up that waits for its first frame. Whoever asks for the readings of a project waits for this first; they are
  /// as right without it, and later.
  async readIn(): Promise<void> {
    let began = performance.now()
    for (const of of this.project.state.tables.landmarks.list()) {
      if (this.#closed) return
      this.#samplesOf(of)
      const worked = performance.now() - began
      if (worked < PIECE_MS) continue
      await setTimeout(PAUSE * worked)
      began = performance.now()
    }
  }

  noteEdit(edit: Edit): void {
    for (const diff of edit.diffs) {
      if (diff.table !== 'packs' && diff.table !== 'landmarks') continue
      this.#samples.delete(landmarkKey(diff.change === 'updated' ? diff.to : diff.record))
    }
    if (edit.diffs.some((diff) => PARTS.has(diff.table))) this.#schedule()
    else if (this.#version === this.project.version - 1) this.#version = this.project.version
  }

  /// A film's frame times became known, or were lost.
  noteFilm(): void {
    this.#schedule()
  }

  /// Works the readings out now, where something changed since, and tells of those that differ.
  level(): void {
    if (this.#due) clearTimeout(this.#due)
    else if (this.#version === this.project.version) return
    this.#due = null
    const before = new Map(this.#readings.map((reading) => [reading.id, reading]))
    this.#readings = readingsOf(this.breakdown(), this.tableOf)
    this.#version = this.project.version
    const changed = this.#readings.filter((reading) => !sameRecord(before.get(reading.id), reading))
    const there = new Set(this.#readings.map((reading) => reading.id))
    const gone = [...before.keys()].filter((id) => !there.has(id))
    if (changed.length > 0 && !this.project.readOnly) this.project.storeReadings(changed)
    if (changed.length > 0 || gone.length > 0) this.tell({ version: this.#version, changed, gone })
  }

  close(): void {
    this.#closed = true
    if (this.#due) clearTimeout(this.#due)
    this.#due = null
  }

  #schedule(): void {
    this.#due ??= globalThis.setTimeout(() => {
      this.readIn()
        .then(() => !this.#closed && this.level())
        .catch((error: unknown) => this.onFault(error))
    }, PATIENCE_MS)
  }

  #samplesOf(of: LandmarkHead): Sample[] {
    const key = landmarkKey(of)
    const known = this.#samples.get(key)
    if (known) return known
    const read = this.project.samples(of.clip, of.subject, of.point, 0, Infinity)
    this.#samples.set(key, read)
    return read
  }
}
