import type { FormEvent } from 'react'
import { hallLines, isBackground } from '../../app/body/landmark-name'
import type { Clip } from '../../app/project/film'
import { Tick } from '../sheets/fields'
import { useProject, useShown } from '../state/use-project'
import type { BenchHand } from './bench-hand'
import { FloorSection } from './floor-section'
import type { ToldByHall } from './use-hall-view'
import { LinesSection } from './lines-section'
import { frameOf, inMetres, isJointAngle, isLong, ofClip, ofMeasure, stateHall, statePlane } from './hall-edits'

interface Props {
  readonly hand: BenchHand
  readonly clip: Clip
  readonly subject: string
  readonly told: ToldByHall
}

/// What is known of the hall: whether the camera stood still, a length in metres, marks on the floor, lines at right angles; and of the chosen measure the
/// plane of its limb.
export function HallSection(props: Props) {
  return (
    <>
      <CameraMotion key={props.clip.id} {...props} />
      <LimbPlane {...props} />
      <Metres {...props} />
      <FloorSection {...props} />
      <LinesSection {...props} seen={props.told.view?.lines ?? null} />
    </>
  )
}

function CameraMotion({ hand, clip, subject }: Props) {
  const project = useProject()
  const { breakdown, readOnly } = useShown()
  const followed = new Set(
    (breakdown?.landmarks ?? [])
      .filter((l) => l.clip === clip.id && l.subject === subject && isBackground(l.point))
      .flatMap(({ samples }) => samples.map(({ frame }) => frame)),
  ).size
  const still = clip.hall?.camera === 'still'
  return (
    <section className="stated">
      <h3>The camera’s own motion</h3>
      <label className="tick">
        <Tick
          on={still}
          disabled={readOnly}
          onSet={(on) =>
            project.edit(
              ofClip(clip.id, (now) =>
                stateHall(now, 'camera', on ? 'still' : undefined, on ? 'The camera stood still' : 'The camera may have moved'),
              ),
            )
          }
        />{' '}
        it stood still in this clip
      </label>
      <p className="quiet">
        {followed > 0
          ? `The hall behind the people is followed on ${followed} frames: a way that is measured or drawn is the person’s alone.`
          : still
            ? 'Ways are measured on the picture as they are. If it did move after all, every way is off by that.'
            : 'Neither stated nor followed: ways and speeds come with a warning, for a camera that goes along lengthens or shortens them.'}
      </p>
      {!readOnly && (
        <button type="button" onClick={() => hand.followHall()} title="G">
          {followed > 0 ? 'Follow the hall anew' : 'Follow the hall'}
        </button>
      )}
    </section>
  )
}

function LimbPlane({ hand, clip }: Props) {
  const project = useProject()
  const { breakdown, readings, readOnly } = useShown()
  const measure = breakdown?.measures?.find(({ id }) => id === hand.chosen)
  if (measure?.kind !== 'joint-angle' || measure.clip !== clip.id) return null
  const keep = (event: FormEvent<HTMLFormElement>): void => {
    event.preventDefault()
    const form = new FormData(event.currentTarget)
    const [deg, u] = [String(form.get('deg')), String(form.get('u'))]
    void project.edit(
      ofMeasure(measure.id, isJointAngle, (now) => statePlane(now, deg === '' ? undefined : { deg: Number(deg), u: Number(u || 0) })),
    )
  }
  return (
    <form onSubmit={keep} key={`${measure.id} ${JSON.stringify(measure.plane)}`} className="stated">
      <h3>The limb’s plane</h3>
      <p className="quiet">Of the chosen value: {readings.get(measure.id)?.plate.what ?? measure.id}.</p>
      <div className="angle">
        <label>
          Turned from the picture by, degrees{' '}
          <input name="deg" type="number" step="any" min={-90} max={90} defaultValue={measure.plane?.deg ?? ''} readOnly={readOnly} />
        </label>
        <label>
          ± (1 σ) <input name="u" type="number" step="any" min={0} max={90} defaultValue={measure.plane?.u ?? ''} readOnly={readOnly} />
        </label>
        <p className="quiet">
          {measure.plane
            ? 'The value is the joint’s own angle; what the turn can do is in its error. From 20° it is warned of, above 35° refused. Empty: as drawn.'
            : 'Until it is stated the value is the angle as it is drawn, and is called apparent.'}
        </p>
      </div>
      {!readOnly && <button type="submit">State the plane</button>}
    </form>
  )
}

function Metres({ hand, clip, subject }: Props) {
  const project = useProject()
  const { breakdown, readOnly } = useShown()
  if (!breakdown) return null
  const scale = clip.hall?.scale
  const frame = frameOf(breakdown, clip.id, subject, hallLines.length, hand.frame)
  const chosen = breakdown.measures?.find(({ id }) => id === hand.chosen)
  const told = chosen && chosen.clip === clip.id && isLong(chosen) && (chosen.unit || chosen.scale) ? chosen : null
  const keep = (event: FormEvent<HTMLFormElement>): void => {
    event.preventDefault()
    const form = new FormData(event.currentTarget)
    const metres = Number(form.get('metres'))
    if (frame === null || !(metres > 0)) return
    void project.edit(
      ofClip(clip.id, (now) =>
        stateHall(
          now,
          'scale',
          { subject, points: [...hallLines.length], frame, metres, u: Number(form.get('share')) / 100 },
          'State a length in metres',
        ),
      ),
    )
  }
  return (
    <form onSubmit={keep} key={JSON.stringify(scale ?? null)} className="stated">
      <h3>A length in metres</h3>
      <p className="quiet">
        {scale
          ? `${scale.metres} m between the two ends on frame ${scale.frame}. Ways and speeds without a length of the body are told in metres.`
          : 'Until one is stated, ways and speeds are told in lengths of the body, and nothing in metres.'}
      </p>
      {!readOnly && (
        <button type="button" onClick={() => hand.place(hallLines.length)}>
          {frame === null ? 'Place the length’s two ends' : 'Place the length’s ends again'}
        </button>
      )}
      {frame !== null && (
        <>
          <div className="angle">
            <label>
              It is so long, metres{' '}
              <input
                name="metres"
                type="number"
                step="any"
                min={0.001}
                max={1000}
                required
                defaultValue={scale?.metres ?? ''}
                readOnly={readOnly}
              />
            </label>
            <label>
              ± % (1 σ){' '}
              <input
                name="share"
                type="number"
                step="any"
                min={0}
                max={100}
                required
                defaultValue={scale ? Number((100 * scale.u).toFixed(3)) : 6}
                readOnly={readOnly}
              />
            </label>
            <p className="quiet">It must lie as far from the camera as the person: half a metre nearer at eight metres is 6 %.</p>
          </div>
          {!readOnly && (
            <p className="actions">
              <button type="submit">State the length</button>
              {scale && (
                <button
                  type="button"
                  onClick={() => void project.edit(ofClip(clip.id, (now) => stateHall(now, 'scale', undefined, 'Take the length back')))}
                >
                  Take it back
                </button>
              )}
            </p>
          )}
        </>
      )}
      {scale && told && !readOnly && (
        <button type="button" onClick={() => void project.edit(ofMeasure(told.id, isLong, inMetres))}>
          Tell the chosen value in metres
        </button>
      )}
    </form>
  )
}
