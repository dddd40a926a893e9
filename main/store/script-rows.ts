import type { ProjectState } from '../../app/edit/project-state'
import { nodeToRow } from '../../app/script/conversion'
import type { RecordRows } from './record-rows'

type Script = ProjectState['script']
type ParagraphNode = Script['children'][number]

/// Writes the rows that follow from the script document: one a paragraph, and its anchors.
/// `before` is the document the rows stand for now; only paragraphs that differ are written.
/// Rows of paragraphs that are gone go with their anchors.
export function writeScriptRows(rows: RecordRows, before: Script | null, after: Script): void {
  const old = new Map<string, { node: ParagraphNode; position: number }>()
  before?.children.forEach((node, position) => {
    if (node.type.name === 'paragraph') old.set(String(node.attrs['id']), { node, position })
  })
  after.children.forEach((node, position) => {
    if (node.type.name !== 'paragraph') return
    const id = String(node.attrs['id'])
    const was = old.get(id)
    old.delete(id)
    if (!was) rows.run('INSERT INTO paragraph (id, position) VALUES (?, ?)', id, position)
    else if (was.position !== position) rows.run('UPDATE paragraph SET position = ? WHERE id = ?', position, id)
    if (was?.node === node) return
    if (was) rows.run('DELETE FROM paragraph_anchor WHERE paragraph = ?', id)
    writeAnchors(rows, id, node)
  })
  for (const id of old.keys()) rows.run('DELETE FROM paragraph WHERE id = ?', id)
}

function writeAnchors(rows: RecordRows, id: string, node: ParagraphNode): void {
  const row = nodeToRow(node)
  if ('chapter' in row) return
  row.text.forEach((inline, position) => {
    if (typeof inline === 'string' || 'note' in inline) return
    const [measure, event, word, reference] =
      'value' in inline
        ? [inline.value, null, null, null]
        : 'cite' in inline
          ? [null, null, null, inline.cite]
          : [null, inline.cue, inline.word, null]
    rows.run(
      'INSERT INTO paragraph_anchor (paragraph, position, measure, event, word, reference) VALUES (?, ?, ?, ?, ?, ?)',
      id,
      position,
      measure,
      event,
      word,
      reference,
    )
  })
}
