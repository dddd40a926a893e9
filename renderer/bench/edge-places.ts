import type { Reading } from '../../app/measure/reading'
import type { Point } from '../../app/project/fields'
import type { Size } from './stage-view'

/// A reading at the picture's edge and the joint that it speaks of.
export interface EdgePlace {
  readonly reading: Reading
  readonly side: 'left' | 'right'
  readonly top: number
  readonly joint: Point | null
}

/// So tall until a reading has been measured.
const TALL = 96
/// Between one reading and the next.
const GAP = 12
const HEAD = 76
const FOOT = 96
export const EDGE = 18
/// Where hair lines begin: the inner edge of the column of readings.
export const COLUMN = 268

/// A reading that wants a place, its joint, and how tall its words are.
interface Placed {
  readonly reading: Reading
  readonly joint: Point | null
  readonly tall?: number | undefined
}

/// Finds each reading its place: on the side that its joint is nearer to, in the order of their joints from the top. A reading that
/// finds no room between tools and guide gets none.
export function edgePlaces(readings: readonly Placed[], stage: Size): EdgePlace[] {
  const room = stage.height - HEAD - FOOT
  const rowOf = ({ tall = TALL }: Placed): number => tall + GAP
  const takenOf = (column: readonly Placed[]): number => column.reduce((sum, each) => sum + rowOf(each), 0)
  const joints = readings.flatMap(({ joint }) => (joint ? [joint[0]] : []))
  const middle = joints.length > 0 ? (Math.min(...joints) + Math.max(...joints)) / 2 : stage.width / 2
  const sides: { left: Placed[]; right: Placed[] } = { left: [], right: [] }
  for (const each of [...readings].sort((a, b) => (a.joint?.[0] ?? stage.width) - (b.joint?.[0] ?? stage.width))) {
    const fits = (side: 'left' | 'right'): boolean => sides[side].length === 0 || takenOf(sides[side]) + rowOf(each) <= room
    const wanted = (each.joint?.[0] ?? Infinity) < middle ? 'left' : 'right'
    const other = wanted === 'left' ? 'right' : 'left'
    const side = fits(wanted) && sides[wanted].length <= sides[other].length + 1 ? wanted : other
    if (fits(side)) sides[side].push(each)
  }
  return (['left', 'right'] as const).flatMap((side) => {
    const column = sides[side].sort((a, b) => (a.joint?.[1] ?? Infinity) - (b.joint?.[1] ?? Infinity))
    let top = HEAD
    return column.map((each, i) => {
      const { reading, joint } = each
      const lowest = stage.height - FOOT - takenOf(column.slice(i))
      top = Math.min(Math.max(top, (joint?.[1] ?? top) - 30), Math.max(HEAD, lowest))
      const place = { reading, side, top, joint }
      top += rowOf(each)
      return place
    })
  })
}

/// Every reading in one list beside the picture, where there is no room upon it.
export const listed = (readings: readonly Placed[]): EdgePlace[] =>
  readings.map(({ reading, joint }) => ({ reading, side: 'right', top: 0, joint }))
