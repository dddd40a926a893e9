import type { TextRun } from './text-run'

/// A reference as it is printed in a report, with what was noted of it; what was not noted is empty.
export interface ReportedReference {
  readonly id: string
  readonly text: string
  /// The same with the styles of its fields.
  readonly runs: readonly TextRun[]
  readonly finding: string
  readonly population: string
  readonly limits: string
  readonly setting: readonly string[]
}
