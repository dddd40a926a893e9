import type { Node } from 'prosemirror-model'
import { AddMarkStep, RemoveMarkStep, ReplaceStep, Step } from 'prosemirror-transform'
import { CodedError } from '../errors/coded-error'
import { ok, refused, type Result } from '../result'
import { scriptSchema } from './schema'

/// A step of the script document as JSON, as it travels and is kept.
export type StepJson = { readonly stepType: string } & { readonly [key: string]: unknown }

/// The document of its JSON. Throws when it is no script.
export function scriptFromJson(json: unknown): Node {
  const node = scriptSchema.nodeFromJSON(json)
  node.check()
  return node
}

/// Puts steps on a document, one after the other. `inverse` takes them back exactly, last first.
/// Refused ('wrong-use') when one does not fit: steps that were made for another document may fail
/// or throw, and both are answers here.
export function takeSteps(
  script: Node,
  steps: readonly StepJson[],
): Result<{ readonly script: Node; readonly inverse: StepJson[] }, CodedError> {
  const refuse = (problem: string, cause?: unknown): Result<never, CodedError> =>
    refused(new CodedError('wrong-use', { problem }, { cause }))
  const inverse: StepJson[] = []
  let at = script
  try {
    for (const json of steps) {
      if (!runsForward(json)) return refuse('the step runs backwards')
      const step = Step.fromJSON(scriptSchema, json)
      const { doc, failed } = step.apply(at)
      if (!doc) return refuse(failed ?? 'the step does not fit')
      inverse.unshift(inverseOf(step, at).toJSON() as StepJson)
      at = doc
    }
  } catch (cause) {
    return refuse(cause instanceof Error ? cause.message : 'the step does not fit', cause)
  }
  return ok({ script: at, inverse })
}

/// A step whose ends are swapped applies, doubles what lies between, and cannot be taken back.
function runsForward({ from, gapFrom, gapTo, to }: StepJson): boolean {
  const ends = [from, gapFrom, gapTo, to].filter((end) => typeof end === 'number')
  return ends.every((end, i) => end >= (ends[i - 1] ?? 0))
}

/// A mark step's own inverse forgets where the mark, or one that it drives out, was before; the
/// words themselves do not.
function inverseOf(step: Step, before: Node): Step {
  if (step instanceof AddMarkStep || step instanceof RemoveMarkStep)
    return new ReplaceStep(step.from, step.to, before.slice(step.from, step.to))
  return step.invert(before)
}
