import type { ProjectState } from '../../app/edit/project-state'
import { scriptSchema } from '../../app/script/schema'

/// Where something from the Bench goes: a paragraph, the place behind its last word, and its first words.
export interface ParagraphInHand {
  readonly id: string
  readonly end: number
  readonly words: string
}

/// The paragraph of this id, the script's last one where it is not there; null in a script without paragraphs.
export function paragraphInHand(state: ProjectState, id: string | null): ParagraphInHand | null {
  const found: ParagraphInHand[] = []
  state.script.forEach((node, offset) => {
    if (node.type === scriptSchema.nodes.paragraph)
      found.push({ id: String(node.attrs['id']), end: offset + node.nodeSize - 1, words: node.textContent })
  })
  return found.find((paragraph) => paragraph.id === id) ?? found.at(-1) ?? null
}

/// The beginning of a paragraph's words, in quotes, for people.
export const beginningOf = ({ words }: ParagraphInHand): string =>
  `“${words.slice(0, 40) || 'an empty paragraph'}${words.length > 40 ? ' …' : ''}”`
