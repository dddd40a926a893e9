import type { ResolvedPos } from 'prosemirror-model'

/// Characters before a value that may hold a word like “approximately”.
const HEDGE = 24

/// The words of its row right before a place, as captions have them: notes and cites are not among them.
export function wordsBefore($at: ResolvedPos): string {
  let words = ''
  for (let i = $at.index() - 1; i >= 0 && words.length < HEDGE; i--) {
    const node = $at.parent.child(i)
    if (node.type.name === 'value') return `\uFFFC${words}`
    if (node.isText && !node.marks.some(({ type }) => type.name === 'note')) words = `${node.text ?? ''}${words}`
  }
  return words.slice(-HEDGE)
}
