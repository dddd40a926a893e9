import type { Paragraph } from '../../app/project/picture'
import { TextField } from '../sheets/fields'
import { useProject } from '../state/use-project'
import { setTitle } from './shot-changes'

/// The name over a paragraph's first shot, and the line beneath it.
export function TitleFields({ row: { id, title } }: { readonly row: Paragraph }) {
  const project = useProject()
  return (
    <div className="fields" role="group" aria-label="Names over the first shot">
      <TextField
        label="Name, over the first shot"
        value={title?.name ?? ''}
        size={22}
        onSet={(name) => project.edit((state) => setTitle(state, id, name, name === '' ? '' : (title?.line ?? '')))}
      />
      {title && (
        <TextField
          label="Line beneath it"
          value={title.line ?? ''}
          size={26}
          onSet={(line) => project.edit((state) => setTitle(state, id, title.name, line))}
        />
      )}
    </div>
  )
}
