import { useEffect, useState } from 'react'
import { keptAddress } from '../../app/contract/addresses'
import type { CallOutput } from '../../app/contract/calls'
import type { Job } from '../../app/contract/work-calls'
import { withMinus } from '../../app/measure/minus'
import type { Release } from '../../app/project/release'
import { filmTimeText } from '../../app/programme/sentence-time'
import { approvedWords, type FilmChecks } from '../../app/release/film-checks'
import { KeptNotes } from '../evidence/kept-notes'
import { engine } from '../state/engine'
import { useAbilities } from '../state/use-abilities'
import { useProject, useShown } from '../state/use-project'
import { FinishedFilm } from './finished-film'
import { NoticeList } from './notice-list'
import { ThumbnailChoice } from './thumbnail-choice'
import '../styles/release.css'

type Notes = CallOutput<'release.notes'>

/// The whole delivery in one go, with what stands before it, how far it is, and what its checks found; and the film alone.
export function ReleaseRoom() {
  const project = useProject()
  const { file, jobs, breakdown, readOnly } = useShown()
  const base = file.replace(/\.[^./\\]+$/, '')
  const releases = breakdown?.releases ?? []
  const [version, setVersion] = useState('')
  const [folder, setFolder] = useState('')
  const [out, setOut] = useState(`${base}.mp4`)
  const [burnCaptions, setBurnCaptions] = useState(false)
  const [problem, setProblem] = useState<string | null>(null)
  const notes = useNotes(breakdown)
  // The next version has the next name.
  const next = releases.length + 1
  useEffect(() => {
    setVersion(String(next))
    setFolder(`${base}-${next}`)
  }, [next, base])
  const work = jobs.filter((job) => job.kind === 'render' || job.kind === 'release')
  const busy = work.some((job) => job.state === 'running' || job.state === 'waiting')
  const latest = work.findLast((job) => job.state === 'done')
  const release = async (): Promise<void> => {
    const answer = await engine.call('release.start', { folder, version, burnCaptions })
    setProblem(answer.ok ? null : answer.error.message)
  }
  return (
    <div className="release">
      <p className="burn">
        <label>
          <input type="checkbox" checked={burnCaptions} onChange={(event) => setBurnCaptions(event.target.checked)} /> Captions in the
          picture
        </label>
        <span className="quiet">
          In the film below and in the delivery’s, clear of what else is written there. The delivery has them as files in any case.
        </span>
      </p>
      <section aria-labelledby="delivery">
        <h2 id="delivery">Everything the upload needs</h2>
        <p className="quiet">
          Film, captions, chapters, description, thumbnail, timelines, readings, curves, evidence and the breakdown document, in one new
          folder with a manifest. The film is checked before anything gets its name.
        </p>
        <div className="facts-line">
          <label className="wide">
            Version <input value={version} size={8} onChange={(event) => setVersion(event.target.value)} />
          </label>
          <label className="wide">
            Folder <input value={folder} size={60} onChange={(event) => setFolder(event.target.value)} />
          </label>
        </div>
        <p className="actions">
          <button type="button" className="main-action" disabled={busy || readOnly || version.trim() === ''} onClick={() => void release()}>
            Make the delivery
          </button>
        </p>
        {problem && (
          <p className="refusal" role="alert">
            {problem}
          </p>
        )}
        {notes && notes.holding.length > 0 && (
          <>
            <p className="refusal">
              {notes.holding.length === 1 ? 'One thing holds' : `${notes.holding.length} things hold`} the film back:
            </p>
            <ul className="plain">
              {notes.holding.map((each, i) => (
                <li key={i}>
                  {each.words !== '' && <q>{each.words}</q>}
                  <div>{each.problem}</div>
                  <div className="quiet">{each.wayOut}</div>
                </li>
              ))}
            </ul>
          </>
        )}
        {notes?.told.map((why) => (
          <p key={why} className="quiet">
            Chapters are left out: {why}
          </p>
        ))}
      </section>
      <ThumbnailChoice />
      <section aria-labelledby="film-alone">
        <h2 id="film-alone">The film alone</h2>
        <p className="quiet">
          {breakdown?.output.width} × {breakdown?.output.height}, {breakdown?.output.rate.replace('/1', '')} frames a second. A draft is
          half that size and quick.
        </p>
        <label className="wide">
          File <input value={out} onChange={(event) => setOut(event.target.value)} />
        </label>
        <p className="actions">
          <button type="button" disabled={busy} onClick={() => void project.render(out, 'final', burnCaptions)}>
            Render the film
          </button>
          <button
            type="button"
            disabled={busy}
            onClick={() => void project.render(out.replace(/\.mp4$/, '') + '-draft.mp4', 'draft', burnCaptions)}
          >
            Render a draft
          </button>
        </p>
      </section>
      {work.length > 0 && (
        <ul className="plain" aria-label="Work">
          {work.map((job) => (
            <Work key={job.id} job={job} latest={job === latest} onCancel={() => void project.cancel(job.id)} />
          ))}
        </ul>
      )}
      {releases.length > 0 && (
        <section aria-labelledby="versions">
          <h2 id="versions">Published versions</h2>
          <KeptNotes />
          <ul className="plain">
            {[...releases].reverse().map((each) => (
              <Version key={each.id} release={each} />
            ))}
          </ul>
        </section>
      )}
      <NoticeList open={notes?.notices ?? []} />
      {notes && (
        <section aria-labelledby="sources">
          <h2 id="sources">Footage and rights</h2>
          <ul className="plain">
            {notes.sources.map((use) => (
              <li key={use.footage}>
                <strong>{use.file}</strong> {[use.credit || use.owner, use.where, use.when].filter(Boolean).join(', ')}
                <div className="quiet">
                  {use.used_s.toFixed(1)} s of {use.length_s.toFixed(1)} s used, {use.onScreen_s.toFixed(1)} s on screen,{' '}
                  {Math.round(100 * use.analysed)} % of it with narration or marks. {use.basis}
                </div>
                {use.missing.length > 0 && <div>Not said on its source card: {use.missing.join(', ')}.</div>}
              </li>
            ))}
          </ul>
          <p className="quiet">Whether a use is allowed is for each country’s law and the platform’s rules; nothing here decides that.</p>
          <h2 id="description">The description</h2>
          <textarea readOnly aria-labelledby="description" value={notes.description} />
        </section>
      )}
    </div>
  )
}

/// Asked for again a moment after the project changed.
function useNotes(breakdown: unknown): Notes | null {
  const [notes, setNotes] = useState<Notes | null>(null)
  useEffect(() => {
    let gone = false
    const timer = setTimeout(
      () => void engine.call('release.notes', {}).then((answer) => !gone && answer.ok && setNotes(answer.value)),
      400,
    )
    return () => {
      gone = true
      clearTimeout(timer)
    }
  }, [breakdown])
  return notes
}

function Work({ job, latest, onCancel }: { readonly job: Job; readonly latest: boolean; readonly onCancel: () => void }) {
  const { showInFolder } = useAbilities()
  const percent = Math.floor((job.progress ?? 0) * 100)
  return (
    <li className="render">
      <strong>{job.label}</strong>
      {job.state === 'running' || job.state === 'waiting' ? (
        <>
          <progress max={100} value={percent} aria-label={job.label} />
          <span className="quiet">
            {job.state === 'waiting' ? 'waiting' : `${percent} %${job.left_s === null ? '' : `, about ${Math.ceil(job.left_s)} s left`}`}
          </span>
          <button type="button" onClick={onCancel}>
            Cancel
          </button>
        </>
      ) : (
        <span className={job.state === 'failed' ? 'refusal' : 'quiet'}>
          {job.state === 'done' ? job.file : job.state === 'cancelled' ? 'cancelled; what was finished is kept' : job.refusal?.message}
        </span>
      )}
      {job.state === 'done' && job.file !== null && showInFolder && (
        <button
          type="button"
          onClick={() => void engine.call('desktop.showInFolder', { job: job.id })}
          aria-label={`Show ${job.file} in its folder`}
        >
          Show in its folder
        </button>
      )}
      {job.state === 'done' && <FinishedFilm job={job} latest={latest} />}
    </li>
  )
}

function Version({ release }: { readonly release: Release }) {
  const [checks, setChecks] = useState<FilmChecks | null>(null)
  useEffect(() => {
    let gone = false
    void fetch(keptAddress(release.id, 'checks.json')).then(async (answer) => {
      if (!answer.ok) return
      const read = (await answer.json()) as FilmChecks
      if (!gone) setChecks(read)
    })
    return () => {
      gone = true
    }
  }, [release.id])
  return (
    <li>
      <strong>Version {release.version}</strong>{' '}
      <span className="quiet">
        {release.date}, {release.files.length} files
      </span>{' '}
      <a href={keptAddress(release.id, 'evidence.html')} target="_blank" rel="noreferrer">
        Evidence report
      </a>
      {checks && (
        <>
          <p>{checks.said}</p>
          <p className="quiet">
            {checks.approved && approvedWords(checks.approved)}
            {checks.flashes &&
              `Flashing at most ${Math.round(100 * Math.max(checks.flashes.generalShare, checks.flashes.redShare))} % of a window, where ${Math.round(100 * checks.flashes.limit)} % is the limit. `}
            {checks.labels &&
              checks.labels.lowestContrast !== null &&
              `Lowest contrast of a label ${checks.labels.lowestContrast.toFixed(1)}\u00a0:\u00a01. `}
            {checks.sound.target !== null && `${withMinus(checks.sound.integrated.toFixed(1))} LUFS.`}
          </p>
          {checks.remarks.length > 0 && (
            <ul className="plain">
              {checks.remarks.map((remark, i) => (
                <li key={i}>
                  <span className="figures">{remark.at_s === null ? '' : filmTimeText(remark.at_s)}</span> {remark.problem}
                  <div className="quiet">{remark.wayOut}</div>
                </li>
              ))}
            </ul>
          )}
        </>
      )}
    </li>
  )
}
