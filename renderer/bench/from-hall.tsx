import { hallLines } from '../../app/body/landmark-name'
import { withMinus } from '../../app/measure/minus'
import { reasons, type ReasonCode } from '../../app/measure/reason'
import type { AngleWithU } from '../../app/project/fields'
import type { Clip } from '../../app/project/film'
import { useProject, useShown } from '../state/use-project'
import type { BenchHand } from './bench-hand'
import { ofClip, stateRoll } from './hall-edits'
import type { ToldByHall } from './use-hall-view'
import { stateAngle, type TellsView, type ViewSpan } from './view-spans'

interface Props {
  readonly hand: BenchHand
  readonly clip: Clip
  readonly subject: string
  readonly span: ViewSpan | null
  readonly told: ToldByHall
}

/// Elevation and yaw as the floor's marks tell them, or lines at right angles where the marks do not, and roll by those lines; beside
/// what a person states: taken only where it is asked for.
export function FromHall({ hand, clip, subject, span, told: { view, facing } }: Props) {
  const project = useProject()
  const { state, readOnly } = useShown()
  if (!state || !span || !view || readOnly) return null
  const {
    elevation: { by, found: elevation },
    yaw,
    lines,
  } = view
  const both = clip.hall?.floor !== undefined && lines !== null
  const on = (frame: number, teller: TellsView): string =>
    `Frame ${frame}${both ? `, by ${teller === 'floor' ? 'the floor’s marks' : 'the lines'}` : ''}:`
  const take = (name: 'yaw' | 'elevation', teller: TellsView, angle: AngleWithU) => (): void =>
    void project.edit((now) => stateAngle(now, clip.id, subject, span, name, angle, teller))
  const roll = lines?.ok && lines.value.roll.ok ? lines.value.roll.value : null
  return (
    <div className="from-line">
      <h3>{both ? 'From the floor and the lines' : lines ? 'From the lines' : 'From the floor'}</h3>
      {elevation.ok && (
        <p role="status">
          {on(hand.frame, by)} the camera looks down on{' '}
          {elevation.value.to === 'hips' ? 'the middle of the hips' : 'the middle of the points placed'} by{' '}
          <Angle of={elevation.value.angle} />.
        </p>
      )}
      {!elevation.ok && (
        <p role="status">
          {elevation.error === 'landmark-missing'
            ? 'Elevation: place the hips on this frame, for it is told to where the person stands.'
            : why('Elevation', elevation.error)}
        </p>
      )}
      {elevation.ok && (
        <Take words="Take it as the elevation" stated={span.view?.elevation} onTake={take('elevation', by, elevation.value.angle)} />
      )}
      {roll && (
        <p role="status">
          {on(hand.frame, 'lines')} the camera is turned clockwise by <Angle of={roll} />.
        </p>
      )}
      {roll && (
        <Take
          words="Take the lines’ roll"
          stated={clip.roll}
          onTake={() => void project.edit(ofClip(clip.id, (now) => stateRoll(now, roll, 'the lines')))}
        />
      )}
      <button type="button" onClick={() => hand.place(hallLines.facing)}>
        {facing === null ? 'Place a line on the floor along which they face' : 'Place the line along which they face again'}
      </button>
      {facing === null && <p className="quiet">First behind, then ahead: along the feet or the belt, as it falls on the floor.</p>}
      {yaw?.found.ok && (
        <p role="status">
          {on(facing!, yaw.by)} that line is turned by <Angle of={yaw.found.value} /> from facing right across the picture; 90° is towards
          the camera, 180° left.
        </p>
      )}
      {yaw && !yaw.found.ok && <p role="status">{why('Yaw', yaw.found.error)}</p>}
      {yaw?.found.ok &&
        (span.from <= facing! && facing! < span.to ? (
          <Take words="Take it as the yaw" stated={span.view?.yaw} onTake={take('yaw', yaw.by, yaw.found.value)} />
        ) : (
          <button type="button" onClick={() => hand.go(facing!)}>
            Go to frame {facing}, where the line is placed
          </button>
        ))}
    </div>
  )
}

/// Says what would give way: what a person stated is replaced by a press alone.
function Take({ words, stated, onTake }: { readonly words: string; readonly stated: AngleWithU | undefined; readonly onTake: () => void }) {
  return (
    <>
      <button type="button" onClick={onTake}>
        {words}
      </button>
      {stated && (
        <p className="quiet">
          Stated: {degrees(stated.deg)} ± {stated.u}°. Taking it puts this in its place.
        </p>
      )}
    </>
  )
}

const Angle = ({ of: { deg, u } }: { readonly of: AngleWithU }) => (
  <>
    <strong>{degrees(deg)}</strong> ± {u.toFixed(1)}° (1 σ)
  </>
)
const degrees = (deg: number): string => `${withMinus(deg.toFixed(1))}°`
const why = (what: string, code: ReasonCode): string => `${what}: ${reasons[code].wording}. ${reasons[code].advice}`
