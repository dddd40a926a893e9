import type { Node, Slice } from 'prosemirror-model'
import type { Transaction } from 'prosemirror-state'
import { Mapping, ReplaceStep, Transform, type Step } from 'prosemirror-transform'
import type { RecordDiff } from '../../app/edit/edit'
import type { ProjectState } from '../../app/edit/project-state'
import type { Told } from './editor-commands'

/// What the editor did and the engine has not taken yet. `diffs` is worked out when it is sent, from the records as they
/// are then.
export interface Unsent {
  readonly label: string
  readonly steps: readonly Step[]
  readonly diffs: ((state: ProjectState) => RecordDiff[]) | null
  /// When the hand did it: its first key and its last, ms.
  readonly began: number
  readonly ended: number
}

const TYPING = 'Type'

/// Whether it is keys typed, which may go and be undone together with others.
export const isTyping = ({ label, diffs }: Unsent): boolean => label === TYPING && diffs === null

/// What a transaction did; `all`: with those that plugins put behind it.
export function unsentOf(transaction: Transaction, all: readonly Transaction[], nowMs: number): Unsent {
  const told = transaction.getMeta('told') as Told | undefined
  return {
    label: told?.label ?? labelOf(transaction),
    steps: all.flatMap(({ steps }) => steps),
    diffs: told?.diffs ?? null,
    began: nowMs,
    ended: nowMs,
  }
}

const LABELS: Readonly<Record<string, string>> = { paste: 'Paste', cut: 'Cut', drop: 'Move words' }

const labelOf = (transaction: Transaction): string => LABELS[String(transaction.getMeta('uiEvent'))] ?? TYPING

/// The one step that leads from a document to another; null where they are the same.
export function stepBetween(from: Node, to: Node): Step | null {
  const start = from.content.findDiffStart(to.content)
  const end = from.content.findDiffEnd(to.content)
  if (start === null || !end) return null
  const overlap = Math.max(0, start - Math.min(end.a, end.b))
  const step = new ReplaceStep(start, end.a + overlap, to.slice(start, end.b + overlap))
  try {
    if (step.apply(from).doc?.eq(to)) return step
  } catch {
    // The two differ across levels: the whole is replaced instead.
  }
  return new ReplaceStep(0, from.content.size, to.slice(0, to.content.size))
}

/// The words that steps put in, for someone whose edit was refused.
export function wordsOf(steps: readonly Step[]): string {
  const words: string[] = []
  for (const step of steps) {
    const { slice } = step as Step & { readonly slice?: Slice }
    if (slice) words.push(slice.content.textBetween(0, slice.content.size, ' '))
  }
  return words.join('')
}

/// The document after steps; null where they do not fit.
export function afterSteps(doc: Node | null, steps: readonly Step[]): Node | null {
  let at = doc
  for (const step of steps) {
    try {
      at = at && step.apply(at).doc
    } catch {
      return null
    }
  }
  return at
}

/// Puts what is unsent on another document. It was made on `confirmed` after `flight` (steps that are now done or
/// refused, and in `script` or not). What no longer fits falls away.
export function rebase(
  unsent: readonly Unsent[],
  confirmed: Node,
  flight: readonly Step[],
  script: Node,
): { readonly doc: Node; readonly unsent: Unsent[] } {
  const all = unsent.flatMap(({ steps }) => steps)
  const mapping = new Mapping()
  for (const step of [...flight, ...all].toReversed()) mapping.appendMap(step.getMap().invert())
  const theirs = stepBetween(confirmed, script)
  if (theirs) mapping.appendMap(theirs.getMap())
  const transform = new Transform(script)
  let mirror = all.length
  const put = (step: Step): Step[] => {
    const mapped = step.map(mapping.slice(mirror))
    mirror -= 1
    if (!mapped || !fits(transform, mapped)) return []
    mapping.appendMap(mapped.getMap(), mirror)
    return [mapped]
  }
  const kept = unsent.map((each) => ({ ...each, steps: each.steps.flatMap(put) }))
  return { doc: transform.doc, unsent: kept.filter(({ steps, diffs }) => steps.length > 0 || diffs !== null) }
}

/// A stale step may throw as well as fail.
function fits(transform: Transform, step: Step): boolean {
  try {
    return transform.maybeStep(step).failed === null
  } catch {
    return false
  }
}
