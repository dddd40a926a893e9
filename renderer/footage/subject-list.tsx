import type { Breakdown } from '../../app/project/breakdown'
import { Fields, TextField } from '../sheets/fields'
import { adding, freeId, updating } from '../state/record-change'
import { useProject, useShown } from '../state/use-project'

/// Who is on film: everyone by a name that can be changed, and room for another one.
export function SubjectList() {
  const project = useProject()
  const { breakdown, readOnly } = useShown()
  if (!breakdown || breakdown.clips.length === 0) return null
  const judge = (name: string): string | null => (name === '' || name.length > 200 ? 'a name of one line' : null)
  const rename = (id: string, name: string): Promise<unknown> =>
    project.edit((state) => {
      const before = state.tables.subjects.get(id)
      return before ? { label: `Call ${before.name} ${name}`, steps: [], diffs: [updating('subjects', before, { ...before, name })] } : null
    })
  const add = (name: string): Promise<unknown> =>
    project.edit((state) => ({
      label: `Name ${name}`,
      steps: [],
      diffs: [adding(state, 'subjects', { id: freeId(state, 'subjects', 's'), name })],
    }))
  if (readOnly)
    return breakdown.subjects.length > 0 ? <p className="quiet">On film: {breakdown.subjects.map(({ name }) => name).join(', ')}</p> : null
  return (
    <Fields label="Who is on film">
      {breakdown.subjects.map(({ id, name }, i) => (
        <TextField
          key={id}
          label={i === 0 ? 'On film' : `Also on film, ${i + 1}`}
          value={name}
          size={18}
          judge={judge}
          onSet={(next) => rename(id, next)}
        />
      ))}
      <TextField label={breakdown.subjects.length === 0 ? 'Who is on film' : 'And who else'} value="" size={18} onSet={add} adds />
    </Fields>
  )
}

/// Names of those who were placed, or whose view was stated, on a clip.
export function namesOn({ landmarks, views, subjects }: Breakdown, clip: string): string[] {
  const ids = new Set([...(landmarks ?? []), ...(views ?? [])].flatMap((each) => (each.clip === clip ? [each.subject] : [])))
  return subjects.flatMap(({ id, name }) => (ids.has(id) ? [name] : []))
}
