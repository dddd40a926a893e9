import { Fragment, Slice } from 'prosemirror-model'
import { ReplaceStep } from 'prosemirror-transform'
import type { Edit } from '../../app/edit/edit'
import { scriptSchema } from '../../app/script/schema'
import { openProject } from '../../main/store/open-project'

/// Applies edits for as long as it lives: each adds a subject and a sign to the script, and prints its number once it
/// has been acknowledged. Run by tests that kill it.
const opened = openProject(process.argv[2]!)
if (!opened.ok) throw opened.error
const project = opened.value
for (;;) {
  const next = project.version + 1
  const at = project.state.script.content.size - 1
  const applied = project.apply({
    id: `edit-${next}`,
    label: 'Add',
    group: null,
    base: project.version,
    steps: [new ReplaceStep(at, at, new Slice(Fragment.from(scriptSchema.text('§')), 0, 0)).toJSON() as Edit['steps'][number]],
    diffs: [
      {
        table: 'subjects',
        change: 'added',
        key: `s-${next}`,
        record: { id: `s-${next}`, name: `Subject ${next}` },
        after: project.state.tables.subjects.keys.at(-1) ?? null,
      },
    ],
    selection: null,
  })
  if (!applied.ok) throw applied.error
  process.stdout.write(`${applied.value.sequence}\n`)
}
