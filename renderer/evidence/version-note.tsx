import { useRef, type KeyboardEvent } from 'react'
import type { Correction, Release } from '../../app/project/release'
import { wasSpoken } from '../../app/release/correction-draft'
import { publishedUsesOf } from '../../app/release/where-used'
import type { EditChange } from '../state/project'
import { adding, removing, updating } from '../state/record-change'
import { useTyped } from '../sheets/use-typed'
import { useProject } from '../state/use-project'
import { SaidPlaces } from './place-list'

/// One dated note on a published version: what was said and what holds now, where it was said, and the note's words,
/// which can be changed, copied, and put into the description and the report of the next delivery.
export function VersionNote({
  note,
  kept,
  release,
  readOnly,
  onSaid,
}: {
  readonly note: Correction
  readonly kept: boolean
  readonly release: Release
  readonly readOnly: boolean
  readonly onSaid: (words: string) => void
}) {
  const project = useProject()
  const words = useRef<HTMLTextAreaElement>(null)
  const field = useTyped({
    value: note.note,
    onSet: (text) => project.edit(stating({ ...note, note: text }, 'Word a correction')),
    judge: (text) => (text === '' ? 'a note says something' : null),
  })
  const written = (): string => field.text.trim() || note.note
  const set = (state: Correction['state'], label: string): void => void project.edit(stating({ ...note, note: written(), state }, label))
  const out = note.state === 'published'
  const copy = async (): Promise<void> => {
    await navigator.clipboard.writeText(written()).then(
      () => onSaid('The note is copied.'),
      () => {
        words.current?.select()
        onSaid('The note could not be copied by itself; it is marked, so that you can.')
      },
    )
  }
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.key !== 'Escape') return
    event.stopPropagation()
    words.current?.closest<HTMLElement>('[data-versions]')?.focus()
  }
  return (
    <article className="version-note" aria-label={`Note of ${note.date}`} data-note={kept ? note.state : 'drafted'}>
      {note.changes.map((change, i) => {
        const said =
          change.id === undefined || change.of === 'words'
            ? []
            : (publishedUsesOf(change.of === 'value' ? 'measure' : change.of, change.id, [release])[0]?.said ?? [])
        return (
          <div key={i} className="version-change">
            <p>
              <span className="quiet">{wasSpoken(change.of, change.id ?? '', release) ? 'It said' : 'It rested on'}</span>{' '}
              <bdi>{change.was}</bdi>
              <span className="quiet">; now</span>{' '}
              <b>
                <bdi>{change.now}</bdi>
              </b>
            </p>
            <SaidPlaces said={said} release={release} label={`Where version ${release.version} said ${change.was}`} />
          </div>
        )
      })}
      <label className="wide">
        <span className="quiet">
          {note.date}: {out ? 'in the description and the report of the next delivery' : kept ? 'kept as a draft' : 'drafted'}
        </span>
        <textarea
          ref={words}
          value={field.text}
          rows={Math.min(10, note.note.split('\n').length + 1)}
          readOnly={readOnly}
          onChange={(event) => field.write(event.target.value)}
          onKeyDown={onKeyDown}
          onBlur={field.set}
        />
      </label>
      <p className="actions">
        <button type="button" data-act="copy" title="Y" onClick={() => void copy()}>
          Copy it
        </button>
        <button
          type="button"
          data-act="put"
          title="P"
          className={out ? undefined : 'main-action'}
          disabled={readOnly}
          onClick={() => set(out ? 'draft' : 'published', out ? 'Take a correction out' : 'Put a correction in')}
        >
          {out ? 'Take it out of the description' : 'Put it into the description'}
        </button>
        {kept && (
          <button type="button" disabled={readOnly} onClick={() => void project.edit(dropping(note.id))}>
            Delete it
          </button>
        )}
      </p>
    </article>
  )
}

/// Keeps a note as it is worded, whether it was kept before or not.
const stating =
  (note: Correction, label: string) =>
  (state: Parameters<typeof removing>[0]): EditChange => {
    const known = state.tables.corrections.get(note.id)
    return { label, steps: [], diffs: [known ? updating('corrections', known, note) : adding(state, 'corrections', note)] }
  }

const dropping =
  (id: string) =>
  (state: Parameters<typeof removing>[0]): EditChange | null => {
    const known = state.tables.corrections.get(id)
    return known ? { label: 'Delete a correction', steps: [], diffs: [removing(state, 'corrections', known)] } : null
  }
