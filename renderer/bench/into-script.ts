import { Transform } from 'prosemirror-transform'
import type { Change } from '../../app/edit/edit'
import type { ProjectState } from '../../app/edit/project-state'
import type { StepJson } from '../../app/script/script-json'
import { scriptSchema } from '../../app/script/schema'

/// The change that puts a measure's live value at the end of a paragraph (the last one when it is not there), and the
/// paragraph's first words; null in a script without paragraphs.
export function intoScript(state: ProjectState, paragraph: string | null, measure: string): { readonly change: Omit<Change, 'selection'>; readonly paragraph: string; readonly words: string } | null {
  const found: { id: string; end: number; words: string }[] = []
  state.script.forEach((node, offset) => {
    if (node.type === scriptSchema.nodes.paragraph) found.push({ id: String(node.attrs['id']), end: offset + node.nodeSize - 1, words: node.textContent })
  })
  const at = found.find(({ id }) => id === paragraph) ?? found.at(-1)
  if (!at) return null
  const transform = new Transform(state.script)
  const value = scriptSchema.nodes.value.create({ measure, form: null })
  const space = at.words === '' || at.words.endsWith(' ') ? [] : [scriptSchema.text(' ')]
  transform.insert(at.end, [...space, value])
  return { change: { label: 'Put in a value', steps: transform.steps.map((step) => step.toJSON() as StepJson), diffs: [] }, paragraph: at.id, words: at.words.slice(0, 40) }
}
