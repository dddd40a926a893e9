import { useState } from 'react'
import type { Reference } from '../../app/project/reference'
import { engine } from '../state/engine'
import { adding, freeId, removing, updating } from '../state/record-change'
import { useProject, useShown } from '../state/use-project'
import { useAnswer } from './claim-answers'
import { TextRuns } from './text-runs'

/// The references: printed, in whom and how far they hold, where they are used; entered by hand, or from
/// BibTeX or CSL-JSON.
export function ReferenceSheet() {
  const project = useProject()
  const { state, readOnly } = useShown()
  const answer = useAnswer('references.list', {})
  const [text, setText] = useState('')
  const [problem, setProblem] = useState<string | null>(null)
  const records = state?.tables.references
  const add = (references: readonly Reference[]): void =>
    void project.edit((now) => ({ label: references.length === 1 ? 'Add a reference' : `Add ${references.length} references`, steps: [], diffs: references.map((reference) => adding(now, 'references', reference)) }))
  const read = async (): Promise<void> => {
    const reply = await engine.call('references.read', { text })
    if (!reply.ok) return setProblem(reply.error.message)
    add(reply.value.references)
    setText('')
    setProblem(null)
  }
  return (
    <section aria-labelledby="references" className="references">
      <h2 id="references">References</h2>
      {answer?.references.length === 0 && <p className="quiet">Nothing is cited yet. What is known of bodies in general needs a reference, with whom it was found in and how far it holds.</p>}
      <ol className="plain">
        {answer?.references.map(({ id, runs, short, uses }) => {
          const record = records?.get(id)
          return (
            <li key={id} className="reference">
              <p><bdi><TextRuns runs={runs} /></bdi> <span className="quiet">{short}</span></p>
              {record && <ReferenceNotes key={JSON.stringify(record)} record={record} readOnly={readOnly} />}
              <p className="quiet">{uses.length === 0 ? 'used nowhere' : `used in: ${uses.map((use) => `“${use.words}”`).join(', ')}`}{' '}
                {record && uses.length === 0 && <button type="button" className="text" disabled={readOnly} onClick={() => void project.edit((now) => ({ label: 'Remove a reference', steps: [], diffs: [removing(now, 'references', record)] }))}>remove</button>}
              </p>
            </li>
          )
        })}
      </ol>
      <HandEntry readOnly={readOnly} onAdd={(csl) => state && add([{ id: freeId(state, 'references', 'ref'), csl }])} />
      <label className="wide">
        BibTeX or CSL-JSON
        <textarea rows={3} value={text} spellCheck={false} onChange={(event) => setText(event.target.value)} />
      </label>
      {problem !== null && <p className="open-mark" role="alert">{problem}</p>}
      <p className="actions"><button type="button" disabled={readOnly || text.trim() === ''} onClick={() => void read()}>Read and add</button></p>
    </section>
  )
}

function ReferenceNotes({ record, readOnly }: { record: Reference; readOnly: boolean }) {
  const project = useProject()
  const set = (field: 'finding' | 'population' | 'limits', value: string): void => {
    const now = value.trim()
    if (now === (record[field] ?? '')) return
    // Done to the reference as it is when its turn comes: what was noted just before may be on its way still.
    void project.edit((state) => {
      const known = state.tables.references.get(record.id)
      if (!known) return null
      const { [field]: _old, ...rest } = known
      return { label: `Note the ${field} of a reference`, steps: [], diffs: [updating('references', known, now === '' ? rest : { ...rest, [field]: now })] }
    })
  }
  return (
    <div className="reference-notes">
      {([['finding', 'what it found'], ['population', 'in whom'], ['limits', 'how far it holds']] as const).map(([field, label]) => (
        <label key={field}>{label}<input defaultValue={record[field] ?? ''} disabled={readOnly} maxLength={2000} onBlur={(event) => set(field, event.target.value)} /></label>
      ))}
    </div>
  )
}

function HandEntry({ readOnly, onAdd }: { readOnly: boolean; onAdd: (csl: Reference['csl']) => void }) {
  return (
    <details>
      <summary>Enter one by hand</summary>
      <form className="reference-notes" onSubmit={(event) => {
        event.preventDefault()
        const form = new FormData(event.currentTarget)
        const field = (name: string): string => { const value = form.get(name); return typeof value === 'string' ? value.trim() : '' }
        const year = Number(field('year'))
        onAdd({
          type: 'article-journal',
          title: field('title'),
          ...(field('authors') ? { author: field('authors').split(';').map((name) => { const [family = '', given] = name.split(',').map((part) => part.trim()); return { family, ...(given ? { given } : {}) } }) } : {}),
          ...(Number.isInteger(year) && year > 0 ? { issued: { 'date-parts': [[year]] } } : {}),
          ...(field('journal') ? { 'container-title': field('journal') } : {}),
          ...(field('doi') ? { DOI: field('doi') } : {}),
        })
        event.currentTarget.reset()
      }}>
        <label>authors (family, given; …)<input name="authors" maxLength={2000} /></label>
        <label>year<input name="year" inputMode="numeric" maxLength={4} /></label>
        <label>title<input name="title" required maxLength={2000} /></label>
        <label>journal or book<input name="journal" maxLength={500} /></label>
        <label>DOI<input name="doi" maxLength={200} /></label>
        <button type="submit" disabled={readOnly}>Add</button>
      </form>
    </details>
  )
}
