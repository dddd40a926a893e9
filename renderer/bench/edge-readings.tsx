import { reasons, type ReasonCode } from '../../app/measure/reason'
import type { Reading } from '../../app/measure/reading'
import { errorParts } from '../evidence/error-parts'
import type { Point } from '../../app/project/fields'
import type { Size } from './stage-view'

/// A reading at the picture's edge and the joint that it speaks of.
export interface EdgePlace {
  readonly reading: Reading
  readonly side: 'left' | 'right'
  readonly top: number
  readonly joint: Point | null
}

const ROW = 108
const HEAD = 76
const FOOT = 96
export const EDGE = 18
/// Where hair lines begin: the inner edge of the column of readings.
export const COLUMN = 268

/// Finds each reading its place: on the side that its joint is nearer to, in the order of their joints from the top.
export function edgePlaces(readings: readonly { readonly reading: Reading; readonly joint: Point | null }[], stage: Size): EdgePlace[] {
  const most = Math.max(1, Math.floor((stage.height - HEAD - FOOT) / ROW))
  const joints = readings.flatMap(({ joint }) => (joint ? [joint[0]] : []))
  const middle = joints.length > 0 ? (Math.min(...joints) + Math.max(...joints)) / 2 : stage.width / 2
  const sides: { left: (typeof readings)[number][]; right: (typeof readings)[number][] } = { left: [], right: [] }
  for (const each of [...readings].sort((a, b) => (a.joint?.[0] ?? stage.width) - (b.joint?.[0] ?? stage.width))) {
    const wanted = (each.joint?.[0] ?? Infinity) < middle ? 'left' : 'right'
    const other = wanted === 'left' ? 'right' : 'left'
    const side = sides[wanted].length < most && sides[wanted].length <= sides[other].length + 1 ? wanted : other
    if (sides[side].length < most) sides[side].push(each)
  }
  return (['left', 'right'] as const).flatMap((side) => {
    const column = sides[side].sort((a, b) => (a.joint?.[1] ?? Infinity) - (b.joint?.[1] ?? Infinity))
    let top = HEAD
    return column.map(({ reading, joint }, i) => {
      const room = stage.height - FOOT - ROW * (column.length - i)
      top = Math.min(Math.max(top, (joint?.[1] ?? top) - 30), Math.max(HEAD, room))
      const place = { reading, side, top, joint }
      top += ROW
      return place
    })
  })
}

interface Props {
  readonly places: readonly EdgePlace[]
  readonly chosen: string | null
  readonly inset: number
  readonly onChoose: (measure: string) => void
}

/// The readings themselves: value first and large, what it is, and what its error comes from or why it is no number.
export function EdgeReadings({ places, chosen, inset, onChoose }: Props) {
  return (
    <div className="edge-readings">
      {places.map(({ reading, side, top }) => {
        const [value = '', error = ''] = reading.plate.value.split(/ (?=±)/)
        const refused = reading.verdict === 'refused'
        return (
          <button
            key={reading.id}
            type="button"
            className={`edge-reading ${side} ${reading.verdict}`}
            style={side === 'left' ? { left: EDGE, top } : { right: EDGE + inset, top }}
            aria-pressed={chosen === reading.id}
            onClick={() => onChoose(reading.id)}
          >
            <span className="edge-value">
              <b>{refused ? 'not from film' : value}</b>
              {error && ` ${error}`}
            </span>
            <span className="edge-what">{reading.plate.what}</span>
            <span className="edge-why">{whyWords(reading)}</span>
          </button>
        )
      })}
    </div>
  )
}

/// "● placing ±11°, blur ±3°", "◐ a body point was placed only once", "↔ range only: …", "⊘ …".
export function whyWords(reading: Reading): string {
  const [first] = reading.reasons
  const reason = first === undefined ? '' : reasons[first as ReasonCode].wording
  if (reading.verdict === 'refused') return `⊘ ${reason}`
  if (reading.verdict === 'range') return `↔ range only: ${reason}`
  const parts = errorParts(reading, 3).replaceAll(' · ', ', ')
  if (reading.verdict === 'warned') return `◐ ${reason || parts}`
  return `● ${parts || reason || 'as counted'}`
}
