import type { Node } from 'prosemirror-model'
import { Step } from 'prosemirror-transform'
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

/// Puts steps on a document, one after the other. Refused ('wrong-use') when one does not fit:
/// steps that were made for another document may fail or throw, and both are answers here.
export function takeSteps(script: Node, steps: readonly StepJson[]): Result<{ readonly script: Node; readonly inverse: StepJson[] }, CodedError> {
  const inverse: StepJson[] = []
  let at = script
  try {
    for (const json of steps) {
      const step = Step.fromJSON(scriptSchema, json)
      const { doc, failed } = step.apply(at)
      if (!doc) return refused(new CodedError('wrong-use', { problem: failed ?? 'the step does not fit' }))
      inverse.unshift(step.invert(at).toJSON() as StepJson)
      at = doc
    }
  } catch (cause) {
    return refused(new CodedError('wrong-use', { problem: cause instanceof Error ? cause.message : 'the step does not fit' }, { cause }))
  }
  return ok({ script: at, inverse })
}
