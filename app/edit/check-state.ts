import type { Node } from 'prosemirror-model'
import { checkBreakdown } from '../exchange/breakdown-checking'
import { wordIssue } from '../exchange/breakdown-wording'
import { placeWithin, ProblemList, type Problem } from '../exchange/problem-list'
import { ScriptRow } from '../project/picture'
import { nodeToRow } from '../script/conversion'
import type { RecordDiff } from './edit'
import { breakdownOf, type ProjectState } from './project-state'
import { landmarkKey, packOf } from './records'

/// What the script's words promise beside the schema of the document: paragraphs have ids of their
/// own, every row can be written into a breakdown, and whatever hangs on a paragraph (shots, take,
/// title, cue times) goes when it goes. Looks only at rows that differ from `before`.
export function checkWords(before: Node, after: ProjectState): readonly Problem[] {
  if (before === after.script) return []
  const problems = new ProblemList()
  const known = new Set(before.children)
  const ids = new Set<string>()
  after.script.children.forEach((node, i) => {
    const place = `script[${i}]`
    if (node.type.name === 'paragraph') {
      const id = String(node.attrs['id'])
      if (ids.has(id)) problems.add(`${place}.id`, `${id} is taken by an earlier paragraph`)
      ids.add(id)
    }
    if (!known.has(node)) checkRow(node, place, problems)
  })
  for (const id of after.tables.paragraphs.keys)
    if (!ids.has(id)) problems.add(`paragraphs ${id}`, 'its words are gone; remove its pictures with them')
  for (const time of after.tables.cueTimes.list())
    if (!ids.has(time.paragraph)) problems.add(`cueTimes ${time.paragraph}/${time.event}`, 'its paragraph is gone')
  return problems.list()
}

function checkRow(node: Node, place: string, problems: ProblemList): void {
  try {
    node.check()
  } catch (cause) {
    return problems.add(place, cause instanceof Error ? cause.message : 'cannot stand in a script')
  }
  node.children.forEach((child, i) => {
    if (!child.isText && child.marks.length > 0) problems.add(`${place}.text[${i}]`, 'a value or cite cannot be part of a cue or a note')
    if (child.text !== undefined && /\0|\p{Surrogate}/u.test(child.text))
      problems.add(`${place}.text[${i}]`, 'holds a character that cannot be kept')
  })
  const parsed = ScriptRow.safeParse(nodeToRow(node), { error: wordIssue })
  if (!parsed.success) for (const issue of parsed.error.issues) problems.add(issue.path.reduce<string>(placeWithin, place), issue.message)
}

/// The promises of `checkBreakdown` on a state after `diffs`, samples included by their extents.
export function checkState(after: ProjectState, diffs: readonly RecordDiff[]): readonly Problem[] {
  const problems = new ProblemList()
  checkBreakdown(
    breakdownOf(after, () => []),
    problems,
    { dangling: 'keep' },
  )
  if (diffs.some(({ table }) => table === 'clips' || table === 'landmarks' || table === 'packs')) checkPacks(after, diffs, problems)
  const ids = new Set(after.script.children.map((node) => String(node.attrs['id'])))
  for (const id of after.tables.paragraphs.keys) if (!ids.has(id)) problems.add(`paragraphs ${id}`, 'there is no such paragraph')
  return problems.list()
}

function checkPacks(after: ProjectState, diffs: readonly RecordDiff[], problems: ProblemList): void {
  for (const pack of after.tables.packs.list()) {
    const place = `landmark ${landmarkKey(pack)}`
    const clip = after.tables.clips.get(pack.clip)
    if (!after.tables.landmarks.has(landmarkKey(pack))) problems.add(place, 'has samples but is not there')
    else if (clip && pack.first < clip.from) problems.add(place, `${pack.first} is outside clip ${clip.id} (${clip.from}–${clip.to})`)
    else if (clip && pack.last >= clip.to) problems.add(place, `${pack.last} is outside clip ${clip.id} (${clip.from}–${clip.to})`)
  }
  for (const diff of diffs) {
    if (diff.table !== 'packs' || diff.change === 'removed') continue
    const { samples, pack } = diff.change === 'added' ? diff.record : diff.to
    samples.forEach((sample, i) => {
      if (packOf(sample.frame) !== pack) problems.add(`packs ${diff.key}`, `frame ${sample.frame} does not belong to it`)
      else if (i > 0 && sample.frame < (samples[i - 1]?.frame ?? 0))
        problems.add(`packs ${diff.key}`, 'samples go in the order of their frames')
    })
  }
}
