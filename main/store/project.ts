import type { Database } from 'better-sqlite3'
import { breakdownOf, type ProjectState } from '../../app/edit/project-state'
import type { Breakdown } from '../../app/project/breakdown'
import type { Sample } from '../../app/project/film'
import type { RecordRows } from './record-rows'

/// An open project file.
export class Project {
  constructor(
    readonly path: string,
    private readonly db: Database,
    private readonly rows: RecordRows,
    private readonly state: ProjectState,
  ) {}

  /// Sequence number of the last edit; 0 before the first.
  get version(): number {
    return this.state.version
  }

  /// The whole project as one value, every sample read in.
  breakdown(): Breakdown {
    return breakdownOf(this.state, (of) => this.rows.packs(of, 0, Infinity).flatMap((pack) => pack.samples))
  }

  /// A landmark's samples on frames `from` (included) to `to` (excluded), in the order of their frames.
  samples(clip: string, subject: string, point: string, from: number, to: number): Sample[] {
    return this.rows.packs({ clip, subject, point }, from, to).flatMap((pack) => pack.samples.filter((s) => s.frame >= from && s.frame < to))
  }

  close(): void {
    this.db.close()
  }
}
