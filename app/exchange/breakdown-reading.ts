import { CodedError } from '../errors/coded-error'
import { Breakdown } from '../project/breakdown'
import { ok, refused, type Result } from '../result'
import { checkBreakdown } from './breakdown-checking'
import { wordIssue } from './breakdown-wording'
import { inspectJson } from './json-inspection'
import { placeWithin, ProblemList } from './problem-list'

/// 256 MB of text; longer documents are refused unread.
const LONGEST_DOCUMENT = 256 * 1024 * 1024

export interface ReadingOptions {
  /// What to do with a value, cue or mark of the script whose measure or event is gone, as can
  /// happen while a project is being edited: `refuse` (the default), or `keep` it, to be shown as dangling.
  readonly dangling?: 'refuse' | 'keep'
}

/// Reads a breakdown document. `file` is its name as the person wrote it, for messages alone.
/// Every problem is listed with its place, up to 50: first those of the single fields (wrong
/// type, unknown key, text that cannot be kept); when there are none of these, those between
/// records (see `checkBreakdown`). Never throws for any text.
/// Minus zero is read as zero; a name given twice in one object counts once, the last time, as in
/// every JSON reader.
export function readBreakdown(text: string, file: string, options: ReadingOptions = {}): Result<Breakdown, CodedError> {
  const problems = new ProblemList()
  const invalid = (): Result<never, CodedError> => refused(new CodedError('document-invalid', { file, problems: problems.list() }))

  if (text.length > LONGEST_DOCUMENT) {
    problems.add('', 'is longer than 256 MB')
    return invalid()
  }
  let raw: unknown
  try {
    raw = JSON.parse(text.startsWith('\uFEFF') ? text.slice(1) : text)
  } catch (cause) {
    const problem = cause instanceof Error ? cause.message.slice(0, 200) : 'it cannot be read'
    return refused(new CodedError('document-not-json', { file, problem }, { cause }))
  }
  inspectJson(raw, problems)
  if (!problems.empty) return invalid()

  const parsed = Breakdown.safeParse(raw, { error: wordIssue })
  if (!parsed.success) {
    for (const issue of parsed.error.issues) {
      const place = issue.path.reduce<string>(placeWithin, '')
      if (issue.code === 'unrecognized_keys') for (const key of issue.keys) problems.add(placeWithin(place, key), 'is not a known key')
      else problems.add(place, issue.message)
    }
    return invalid()
  }
  checkBreakdown(parsed.data, problems, { dangling: options.dangling ?? 'refuse' })
  return problems.empty ? ok(parsed.data) : invalid()
}
