import { useEffect, useRef, useState } from 'react'
import { stillAddress } from '../../app/contract/addresses'
import type { FilmFacts, Piece } from '../../app/contract/footage-calls'
import type { Goes } from '../../app/edit/take-away'
import type { Clip, Footage } from '../../app/project/film'
import type { Project } from '../state/project'
import { goTo, usePlace } from '../state/place'
import { freeId, updating } from '../state/record-change'
import { useProject, useShown } from '../state/use-project'
import { keepingClip, type ClipDraft } from './clip-draft'
import { ClipForm } from './clip-form'
import { ClipRow } from './clip-row'
import { fieldsWords, filmFacts, isInterlaced } from './film-words'
import { FindFilm } from './find-film'
import { SplitFields } from './split-fields'
import { shortName } from './footage-room'
import type { SecondsUsed } from './seconds-used'
import { LooksLike } from './looks-like'
import { SourceCard } from './source-card'
import { namesOn } from './subject-list'
import { remove } from './removal'
import { goesAlone, TakeAway } from './take-away'
import { usePieces } from './use-pieces'

interface Props {
  readonly footage: Footage
  readonly edit: Project['edit']
  /// How much of it the film shows; null: that is not known yet.
  readonly used: SecondsUsed | null
}

/// One film of the shelf: what it is, what to know before measuring on it, where it is from, and its clips.
export function FilmCard({ footage, edit, used }: Props) {
  const project = useProject()
  const { films, jobs, breakdown, readings, state, readOnly } = useShown()
  const film = films.get(footage.id)
  const [draft, setDraft] = useState<ClipDraft | null>(null)
  const turns = useRef(0)
  const [going, setGoing] = useState<{ readonly goes: Goes; readonly name: string } | null>(null)
  const { pieces, looking, refused, look } = usePieces(footage.id)
  const { form } = usePlace()
  const asked = form === null ? undefined : breakdown?.clips.find((clip) => clip.id === form && clip.footage === footage.id)
  const own = useRef<HTMLElement>(null)
  useEffect(() => {
    if (!asked) return
    goTo({ form: null })
    setDraft({ turn: ++turns.current, clip: asked, isNew: false })
    own.current?.scrollIntoView({ block: 'nearest' })
  }, [asked])
  const job = jobs.find((j) => j.footage === footage.id && (j.state === 'running' || j.state === 'waiting'))
  if (!breakdown || !state) return null
  const clips = breakdown.clips.filter((clip) => clip.footage === footage.id)
  const draw = (clip: Clip, isNew: boolean): void => setDraft({ turn: ++turns.current, clip, isNew })
  const begin = (piece?: Piece): void => draw(newClip(freeId(state, 'clips', 'c'), footage.id, film, piece), true)
  // What was typed stays in the form until it is on the disk: a refused one is there to be kept again.
  const keep = async (from: ClipDraft, clip: Clip): Promise<void> => {
    const kept = await edit(keepingClip(from, clip))
    if (kept) setDraft((now) => (now === from ? null : now))
  }
  const takeOut = (goes: Goes, name: string): void =>
    goesAlone(breakdown, readings, goes) ? remove(project, goes, name) : setGoing({ goes, name })
  const ready = film?.state === 'ready'
  return (
    <section ref={own} className="film" aria-label={shortName(footage.file)}>
      <div className="film-head">
        <div className="film-still">{ready && <img src={stillAddress(footage.id, Math.floor((film.frames ?? 1) / 3), 320)} alt="" />}</div>
        <div>
          <h2>{shortName(footage.file)}</h2>
          <p className="quiet">{film && film.width !== null ? filmFacts(film) : ''}</p>
          {footage.fields && <p className="quiet">{fieldsWords(footage.fields)}</p>}
          {job && (
            <p role="status">
              {job.label} <progress aria-label={job.label} max={1} value={job.progress ?? undefined} />{' '}
              {job.left_s !== null && <span className="quiet">about {Math.ceil(job.left_s)} s left</span>}
            </p>
          )}
          {film && (film.state === 'missing' || film.state === 'changed') && <FindFilm film={film} readOnly={readOnly} />}
          {film?.state === 'unreadable' && <p className="refusal">{film.refusal?.message}</p>}
          <ul className="plain warnings">
            {film?.warnings.map(({ code, weight, text }) => (
              <li key={code} className={weight === 'warn' ? 'warning' : 'quiet'}>
                {weight === 'warn' && (
                  <>
                    <span aria-hidden="true">▲ </span>
                    <span className="spoken-only">Take care: </span>
                  </>
                )}
                {text}
              </li>
            ))}
          </ul>
          <LooksLike footage={footage} edit={edit} />
          <SourceCard
            footage={footage}
            clips={clips}
            used={used}
            readOnly={readOnly}
            onKeep={(next) =>
              edit({ label: `Source of ${shortName(footage.file)}`, steps: [], diffs: [updating('footage', footage, next)] })
            }
          />
          {!readOnly && (
            <p className="actions">
              {ready && (
                <button type="button" onClick={() => begin()}>
                  Cut a clip
                </button>
              )}
              {ready && (
                <button type="button" disabled={looking} onClick={look}>
                  {looking ? 'Looking for cuts …' : 'Look for cuts'}
                </button>
              )}
              <button type="button" onClick={() => takeOut({ table: 'footage', id: footage.id }, shortName(footage.file))}>
                Remove the film
              </button>
            </p>
          )}
          {refused && (
            <p className="refusal" role="alert">
              {refused}
            </p>
          )}
          {ready && !readOnly && isInterlaced(film) && !footage.fields && <SplitFields film={film} busy={job?.kind === 'fields'} />}
        </div>
      </div>
      {pieces && (
        <ul className="plain pieces" aria-label="Pieces between likely cuts">
          {pieces.map((piece) => (
            <li key={piece.from}>
              <img src={stillAddress(footage.id, piece.from, 160)} alt="" loading="lazy" />
              <span>
                frames {piece.from} to {piece.to - 1}:{' '}
                {piece.looks === 'unsure'
                  ? 'live or replay, look yourself'
                  : `looks ${piece.looks === 'graphic' ? 'like a graphic' : piece.looks}`}
                <span className="quiet"> {piece.because}</span>
              </span>
              {!readOnly && (
                <button type="button" onClick={() => begin(piece)}>
                  Make it a clip
                </button>
              )}
            </li>
          ))}
        </ul>
      )}
      {draft && film && (
        <ClipForm key={draft.turn} clip={draft.clip} film={film} onKeep={(clip) => keep(draft, clip)} onCancel={() => setDraft(null)} />
      )}
      <ul className="plain clips">
        {clips.map((clip) => (
          <ClipRow
            key={clip.id}
            clip={clip}
            names={namesOn(breakdown, clip.id)}
            ready={ready}
            readOnly={readOnly}
            onChange={() => draw(clip, false)}
            onRemove={() => takeOut({ table: 'clips', id: clip.id }, clip.name ?? clip.id)}
          />
        ))}
      </ul>
      {going && <TakeAway {...going} onClose={() => setGoing(null)} />}
    </section>
  )
}

/// A clip to begin with: the piece, or the whole film. A camera that says how fast it shot gives the capture factor.
function newClip(id: string, footage: string, film: FilmFacts | undefined, piece: Piece | undefined): Clip {
  const k = film?.captureRate && film.rate ? (film.captureRate.n * film.rate.d) / (film.captureRate.d * film.rate.n) : null
  const looks = piece && piece.looks !== 'unsure' ? piece.looks : undefined
  return {
    id,
    footage,
    from: piece?.from ?? 0,
    to: piece?.to ?? film?.frames ?? 1,
    capture: looks === 'replay' ? 'unknown' : { factor: String(Number((k ?? 1).toFixed(6))), u: 0 },
    ...(looks ? { picture: looks } : {}),
  }
}
