import { CodedError } from '../../app/errors/coded-error'
import type { Breakdown } from '../../app/project/breakdown'
import { ok, refused, type Result } from '../../app/result'
import { openProject } from './open-project'

/// The breakdown that a project holds, read without touching the file, also while it is open
/// elsewhere.
export function dumpProject(path: string): Result<Breakdown, CodedError> {
  const opened = openProject(path, { readOnly: true })
  if (!opened.ok) return opened
  const project = opened.value
  try {
    return ok(project.breakdown())
  } catch (cause) {
    return refused(
      new CodedError('project-damaged', { file: path, problem: cause instanceof Error ? cause.message : 'it cannot be read' }, { cause }),
    )
  } finally {
    project.close()
  }
}
