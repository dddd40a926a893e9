import { useEffect, useMemo, useRef, useState, type KeyboardEvent } from 'react'
import { pictureAt } from '../../app/programme/picture-at'
import { filmTimeText } from '../../app/programme/sentence-time'
import { settingsOf } from '../../app/edit/project-state'
import { thumbnailOf, thumbnailTime } from '../../app/release/thumbnail'
import { toNumber } from '../../app/time/rational'
import { Painted } from '../evidence/evidence-picture'
import { useFilmTypeface } from '../player/film-typeface'
import { framesOf } from '../player/films'
import { programmeOf } from '../state/programme'
import { updating } from '../state/record-change'
import { useProject, useShown } from '../state/use-project'

/// The frame of the film that goes with it as its small picture: by rule until one is chosen, shown as the film shows it.
export function ThumbnailChoice() {
  const project = useProject()
  const { breakdown, films, tables, readings, takes, readOnly } = useShown()
  const typeface = useFilmTypeface()
  const [moved, setMoved] = useState<number | null>(null)
  const laid = useMemo(
    () => programmeOf({ breakdown, films, tables, readings, takes }, typeface),
    [breakdown, films, tables, readings, takes, typeface],
  )
  const chosen = laid && breakdown && laid.programme.frames > 0 ? thumbnailOf(laid.programme, breakdown.output) : null
  const frame = chosen && laid ? Math.min(moved ?? chosen.frame, laid.programme.frames - 1) : null
  const picture = useMemo(() => {
    if (!laid || frame === null) return null
    const { panels } = pictureAt(laid.programme, frame)
    const used = new Map(
      panels.flatMap(({ footage }) => {
        const frames = framesOf(footage, { films, tables })
        return frames ? [[footage, frames] as const] : []
      }),
    )
    return { picture: pictureAt(laid.programme, frame), films: used }
  }, [laid, frame, films, tables])
  useEffect(() => {
    for (const [footage, frames] of picture?.films ?? [])
      frames.look(
        (picture?.picture.panels ?? []).flatMap((panel) => (panel.footage === footage ? [panel.frame] : [])),
        { whole: false, ahead: false },
      )
    return () => {
      for (const frames of picture?.films.values() ?? []) frames.look([], { whole: false, ahead: false })
    }
  }, [picture])
  /// A key that is let go and the hand that leaves the field at once are one choice.
  const sending = useRef(false)
  const set = (thumbnail: string | undefined, label: string): void => {
    if (sending.current) return
    sending.current = true
    void project
      .edit((now) => {
        const before = settingsOf(now)
        const { thumbnail: _before, ...output } = before.output
        return {
          label,
          steps: [],
          diffs: [updating('settings', before, { ...before, output: thumbnail === undefined ? output : { ...output, thumbnail } })],
        }
      })
      .finally(() => {
        sending.current = false
        setMoved(null)
      })
  }
  if (!laid || !chosen || frame === null || !picture) return null
  const { programme } = laid
  const keep = (): void => {
    if (moved === null) return
    if (moved === chosen.frame) setMoved(null)
    else set(thumbnailTime(moved, programme), 'Choose the thumbnail')
  }
  const onKey = (event: KeyboardEvent): void => {
    event.stopPropagation()
    if (event.key !== 'Escape') return
    setMoved(null)
    event.preventDefault()
  }
  const at = frame / toNumber(programme.rate)
  const said = `${filmTimeText(at)}, frame ${frame} of the film`
  return (
    <section aria-labelledby="thumbnail" className="thumbnail">
      <h2 id="thumbnail">Thumbnail</h2>
      <Painted picture={picture.picture} laid={{ ...laid, ...picture }} frame={frame} />
      <label className="wide">
        Frame of the film
        <input
          type="range"
          min={0}
          max={programme.frames - 1}
          value={frame}
          disabled={readOnly}
          aria-valuetext={said}
          onChange={(event) => setMoved(Number(event.target.value))}
          onPointerUp={keep}
          onKeyDown={onKey}
          onKeyUp={keep}
          onBlur={keep}
        />
      </label>
      <p className="quiet">
        {said},{' '}
        {moved !== null || chosen.by === 'choice'
          ? 'chosen by hand'
          : chosen.by === 'beyond'
            ? 'chosen automatically: the time that was chosen is not in the film any more'
            : 'chosen automatically'}
      </p>
      <p className="actions">
        <button
          type="button"
          disabled={readOnly || chosen.by === 'rule'}
          onClick={() => set(undefined, 'Choose the thumbnail automatically')}
        >
          Choose automatically
        </button>
      </p>
    </section>
  )
}
