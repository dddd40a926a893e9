import { useRef, useState } from 'react'
import type { ReferenceAnswer } from '../../app/contract/claim-calls'
import { SETTINGS, type Reference } from '../../app/project/reference'
import { shortName } from '../../app/script/reference-name'
import { AnsweredForm } from '../sheets/answered-form'
import { Dialog } from '../sheets/dialog'
import { Tick } from '../sheets/fields'
import { useTyped } from '../sheets/use-typed'
import { engine } from '../state/engine'
import { adding, freeId, removing, updating } from '../state/record-change'
import { useProject, useShown } from '../state/use-project'
import { NotAnswered, useAnswer } from './claim-answers'
import { ReferenceForm } from './reference-form'
import { TextRuns } from './text-runs'

/// The references: printed, in whom and how far they hold, where they are used; entered by hand, or from BibTeX or
/// CSL-JSON; corrected, which all that cites one follows; removed, after it was said which sentences name it.
export function ReferenceSheet() {
  const project = useProject()
  const { state, readOnly } = useShown()
  const listed = useAnswer('references.list', {})
  const answer = listed.value
  const [text, setText] = useState('')
  const [problem, setProblem] = useState<string | null>(null)
  const [entering, setEntering] = useState(false)
  const enter = useRef<HTMLButtonElement>(null)
  const records = state?.tables.references
  const add = (references: readonly Reference[]): Promise<unknown> =>
    project.edit((now) => ({
      label: references.length === 1 ? 'Add a reference' : `Add ${references.length} references`,
      steps: [],
      diffs: references.map((reference) => adding(now, 'references', reference)),
    }))
  const read = async (): Promise<void> => {
    const reply = await engine.call('references.read', { text })
    setProblem(reply.ok ? null : reply.error.message)
    if (reply.ok && (await add(reply.value.references))) setText('')
  }
  const leave = (): void => {
    setEntering(false)
    requestAnimationFrame(() => enter.current?.focus())
  }
  return (
    <section aria-labelledby="references" className="references">
      <h2 id="references">References</h2>
      <NotAnswered what="The list of references" of={listed} />
      {answer?.references.length === 0 && (
        <p className="quiet">
          Nothing is cited yet. What is known of bodies in general needs a reference, with whom it was found in and how far it holds.
        </p>
      )}
      <ol className="plain" aria-labelledby="references">
        {answer?.references.map((printed) => {
          const record = records?.get(printed.id)
          return record && <ReferenceRow key={printed.id} printed={printed} record={record} readOnly={readOnly} />
        })}
      </ol>
      {entering ? (
        <ReferenceForm
          label="A new reference"
          action="Add it"
          csl={{ type: 'article-journal' }}
          onLeave={leave}
          onKeep={async (csl) => {
            if (state && (await add([{ id: freeId(state, 'references', 'ref'), csl }]))) leave()
          }}
        />
      ) : (
        <p className="actions">
          <button type="button" ref={enter} data-references disabled={readOnly} onClick={() => setEntering(true)}>
            Enter one by hand …
          </button>
        </p>
      )}
      <AnsweredForm className="references-text" onKeep={read}>
        <label className="wide">
          BibTeX or CSL-JSON
          <textarea rows={3} value={text} spellCheck={false} onChange={(event) => setText(event.target.value)} />
        </label>
        {problem !== null && (
          <p className="open-mark" role="alert">
            {problem}
          </p>
        )}
        <p className="actions">
          <button type="submit" disabled={readOnly || text.trim() === ''}>
            Read and add
          </button>
        </p>
      </AnsweredForm>
    </section>
  )
}

function ReferenceRow({
  printed: { runs, short, uses },
  record,
  readOnly,
}: {
  readonly printed: ReferenceAnswer
  readonly record: Reference
  readonly readOnly: boolean
}) {
  const project = useProject()
  const [asked, setAsked] = useState<'correct' | 'remove' | null>(null)
  const correct = useRef<HTMLButtonElement>(null)
  const name = shortName(record)
  const leave = (): void => {
    setAsked(null)
    requestAnimationFrame(() => correct.current?.focus())
  }
  /// Done to the record as it stands when it is sent: notes may have been typed meanwhile.
  const change = (label: string, to: (now: Reference) => Reference): Promise<unknown> =>
    project.edit((state) => {
      const now = state.tables.references.get(record.id)
      return now ? { label, steps: [], diffs: [updating('references', now, to(now))] } : null
    })
  const remove = (): void =>
    void project.edit((state) => {
      const now = state.tables.references.get(record.id)
      return now ? { label: `Remove the reference ${name}`, steps: [], diffs: [removing(state, 'references', now)] } : null
    })
  return (
    <li className="reference">
      <p className="reference-printed">
        <bdi>
          <TextRuns runs={runs} />
        </bdi>{' '}
        <span className="quiet">{short}</span>
      </p>
      {asked === 'correct' ? (
        <ReferenceForm
          label={`Correct ${name}`}
          action="Correct it"
          csl={record.csl}
          onLeave={leave}
          onKeep={async (csl) => {
            if (JSON.stringify(csl) === JSON.stringify(record.csl) || (await change('Correct a reference', (now) => ({ ...now, csl }))))
              leave()
          }}
        />
      ) : (
        <ReferenceNotes record={record} readOnly={readOnly} onChange={change} />
      )}
      <p className="quiet">{uses.length === 0 ? 'used nowhere' : `used in: ${uses.map((use) => `“${use.words}”`).join(', ')}`}</p>
      {asked !== 'correct' && (
        <p className="reference-acts">
          <button
            type="button"
            className="text"
            ref={correct}
            data-references
            disabled={readOnly}
            aria-label={`correct ${name}`}
            onClick={() => setAsked('correct')}
          >
            correct
          </button>
          <button
            type="button"
            className="text"
            disabled={readOnly}
            aria-label={`remove ${name}`}
            onClick={() => (uses.length === 0 ? remove() : setAsked('remove'))}
          >
            remove
          </button>
        </p>
      )}
      {asked === 'remove' && <RemoveUsed name={name} uses={uses} onRemove={remove} onClose={() => setAsked(null)} />}
    </li>
  )
}

/// So many sentences are read out; of the rest, how many there are.
const READ_OUT = 8

/// Asks before a reference goes that sentences name: the words stay, and say that it is gone until they cite another.
function RemoveUsed({
  name,
  uses,
  onRemove,
  onClose,
}: {
  readonly name: string
  readonly uses: ReferenceAnswer['uses']
  readonly onRemove: () => void
  readonly onClose: () => void
}) {
  const more = uses.length - READ_OUT
  return (
    <Dialog title={`Remove ${name}?`} onClose={onClose}>
      <p>
        {uses.length === 1 ? 'This sentence leans on it. It stays' : 'These sentences lean on it. They stay'}, and the film is held back
        until {uses.length === 1 ? 'it cites' : 'each cites'} another or none:
      </p>
      <ul className="going">
        {uses.slice(0, READ_OUT).map(({ place, words }) => (
          <li key={`${place} ${words}`}>
            <bdi>{words}</bdi>
          </li>
        ))}
        {more > 0 && <li>and {more} more</li>}
      </ul>
      <p className="quiet">What only has to read otherwise can be corrected instead: all that cites it follows. Undo brings it back.</p>
      <p className="actions">
        <button
          type="button"
          className="main-action"
          onClick={() => {
            onRemove()
            onClose()
          }}
        >
          Remove it
        </button>
        <button type="button" onClick={onClose}>
          Leave it
        </button>
      </p>
    </Dialog>
  )
}

const NOTES = [
  ['finding', 'what it found'],
  ['population', 'in whom'],
  ['limits', 'how far it holds'],
] as const
type Note = (typeof NOTES)[number][0]
type Setting = NonNullable<Reference['setting']>[number]
const settings = Object.entries(SETTINGS) as [Setting, string][]

function ReferenceNotes({
  record,
  readOnly,
  onChange,
}: {
  readonly record: Reference
  readonly readOnly: boolean
  readonly onChange: (label: string, to: (now: Reference) => Reference) => Promise<unknown>
}) {
  const note = (field: Note, typed: string): Promise<unknown> =>
    onChange(`Note the ${field} of a reference`, ({ [field]: _old, ...rest }) => (typed === '' ? rest : { ...rest, [field]: typed }))
  const toggle = (setting: Setting, on: boolean): Promise<unknown> =>
    onChange('Note the setting of a reference', ({ setting: before = [], ...rest }) => {
      const now = settings.map(([each]) => each).filter((each) => (each === setting ? on : before.includes(each)))
      return now.length === 0 ? rest : { ...rest, setting: now }
    })
  return (
    <>
      <div className="reference-notes">
        {NOTES.map(([field, label]) => (
          <NoteField key={field} label={label} value={record[field] ?? ''} readOnly={readOnly} onSet={(typed) => note(field, typed)} />
        ))}
      </div>
      <fieldset className="reference-setting">
        <legend>studied</legend>
        {settings.map(([setting, words]) => (
          <label key={setting}>
            <Tick on={record.setting?.includes(setting) ?? false} disabled={readOnly} onSet={(on) => toggle(setting, on)} /> {words}
          </label>
        ))}
        <span className="quiet">none: on living fighters in a bout</span>
      </fieldset>
    </>
  )
}

function NoteField({
  label,
  value,
  readOnly,
  onSet,
}: {
  readonly label: string
  readonly value: string
  readonly readOnly: boolean
  readonly onSet: (value: string) => Promise<unknown>
}) {
  const field = useTyped({ value, onSet })
  return (
    <label>
      {label}
      <input
        value={field.text}
        disabled={readOnly}
        maxLength={2000}
        onChange={(event) => field.write(event.target.value)}
        onBlur={field.set}
        onKeyDown={(event) => event.key === 'Enter' && event.currentTarget.blur()}
      />
    </label>
  )
}
