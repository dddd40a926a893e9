import { useCallback, useEffect, useState } from 'react'
import { finishedAddress } from '../../app/contract/addresses'
import type { Job } from '../../app/contract/work-calls'

/// How often it is looked whether the film still lies where it was made.
const LOOK_AGAIN_MS = 5000

/// The film that a job made, to be looked at while it lies where it was made. The latest stands there at once, an earlier one
/// when it is asked for.
export function FinishedFilm({ job, latest }: { readonly job: Job; readonly latest: boolean }) {
  const [asked, setAsked] = useState<boolean | null>(null)
  const [unplayable, setUnplayable] = useState(false)
  const open = asked ?? latest
  const [there, look] = useThere(job.id, open)
  const name = job.label.replace(/^\S+ /, '')
  if (!open)
    return (
      <button type="button" onClick={() => setAsked(true)} aria-label={`Look at ${name}`}>
        Look at it
      </button>
    )
  if (there === null) return null
  if (!there)
    return (
      <p className="quiet film-gone" role="status">
        The film of {name} is not there any more: it was moved, deleted or written anew.
      </p>
    )
  if (unplayable) return <p className="quiet film-gone">This window cannot play {name}; the file itself is there.</p>
  return (
    <video
      controls
      preload="metadata"
      aria-label={`The finished film, ${name}`}
      src={finishedAddress(job.id)}
      onError={() => void look().then((has) => has && setUnplayable(true))}
    />
  )
}

/// Whether the film of a job can be had (null before it is known), and a look whether it can now.
function useThere(job: string, wanted: boolean): [boolean | null, () => Promise<boolean | null>] {
  const [there, setThere] = useState<boolean | null>(null)
  const look = useCallback(async () => {
    // An engine that does not answer says nothing of the file.
    const answer = await fetch(finishedAddress(job), { method: 'HEAD' }).catch(() => null)
    if (answer) setThere(answer.ok)
    return answer && answer.ok
  }, [job])
  useEffect(() => {
    if (!wanted) return
    void look()
    const timer = setInterval(() => void (document.hidden || look()), LOOK_AGAIN_MS)
    return () => clearInterval(timer)
  }, [look, wanted])
  return [there, look]
}
