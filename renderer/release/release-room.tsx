import { useState } from 'react'
import type { Job } from '../../app/contract/work-calls'
import { useProject, useShown } from '../state/use-project'

/// The film: made as a draft or final, with its progress and where it is.
export function ReleaseRoom() {
  const project = useProject()
  const { file, jobs, findings, breakdown } = useShown()
  const [out, setOut] = useState(() => file.replace(/\.[^./\\]+$/, '') + '.mp4')
  const renders = jobs.filter((job) => job.kind === 'render')
  const busy = renders.some((job) => job.state === 'running' || job.state === 'waiting')
  return (
    <div className="release">
      <h2>The film</h2>
      <p className="quiet">
        {breakdown?.output.width} × {breakdown?.output.height}, {breakdown?.output.rate.replace('/1', '')} frames a second. A draft is half that size and quick.
      </p>
      {findings.length > 0 && <p>{findings.length === 1 ? 'One finding is' : `${findings.length} findings are`} open: see Evidence before you publish.</p>}
      <label className="wide">
        File <input value={out} onChange={(event) => setOut(event.target.value)} />
      </label>
      <p className="actions">
        <button type="button" className="main-action" disabled={busy} onClick={() => void project.render(out, 'final')}>Render the film</button>
        <button type="button" disabled={busy} onClick={() => void project.render(out.replace(/\.mp4$/, '') + '-draft.mp4', 'draft')}>Render a draft</button>
      </p>
      <ul className="plain">{renders.map((job) => <Render key={job.id} job={job} onCancel={() => void project.cancel(job.id)} />)}</ul>
    </div>
  )
}

function Render({ job, onCancel }: { readonly job: Job; readonly onCancel: () => void }) {
  const percent = Math.floor((job.progress ?? 0) * 100)
  return (
    <li className="render">
      <strong>{job.label}</strong>
      {job.state === 'running' || job.state === 'waiting' ? (
        <>
          <progress max={100} value={percent} aria-label={job.label} />
          <span className="quiet">{job.state === 'waiting' ? 'waiting' : `${percent} %${job.left_s === null ? '' : `, about ${Math.ceil(job.left_s)} s left`}`}</span>
          <button type="button" onClick={onCancel}>Cancel</button>
        </>
      ) : (
        <span className={job.state === 'failed' ? 'refusal' : 'quiet'}>{job.state === 'done' ? job.file : job.state === 'cancelled' ? 'cancelled; what was finished is kept' : job.refusal?.message}</span>
      )}
    </li>
  )
}
