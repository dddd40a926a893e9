import { expect, it } from 'vitest'
import { measureContext } from '../../../../app/measure/context'
import { floorPlane, type FloorPlane } from '../../../../app/measure/floor-plane'
import type { Floor } from '../../../../app/project/hall'
import {
  canLose,
  draftNow,
  fitWords,
  floorOf,
  freshDraft,
  isChanged,
  markWord,
  numberWord,
  offWords,
  rowsOf,
  withMark,
  withoutMark,
} from '../../../../renderer/bench/floor-draft'
import { scene, tableSized } from '../../measure/scene'

const four: Floor = {
  subject: 's1',
  unit: 'm',
  u: 0.02,
  marks: [
    [0, 0],
    [4, 0],
    [4, 3],
    [0, 3],
  ].map(([x, y], i) => ({ point: `floor.${i + 1}`, at: [x!, y!] })),
}
/// Seen straight from above, 100 px to the metre; `moved`: by so many px across.
function planeOf(
  places: readonly (readonly [number, number])[],
  moved: Readonly<Record<number, number>> = {},
): { readonly plane: FloorPlane; readonly floor: Floor } {
  const floor: Floor = { ...four, marks: places.map(([x, y], i) => ({ point: `floor.${i + 1}`, at: [x, y] })) }
  const breakdown = scene([], {
    points: Object.fromEntries(places.map(([x, y], i) => [`floor.${i + 1}`, [200 + 100 * x + (moved[i] ?? 0), 100 + 100 * y] as const])),
    sample: { sigma: 1 },
  })
  const found = floorPlane(
    measureContext(breakdown, () => tableSized),
    breakdown.clips[0]!,
    floor,
    460,
  )
  if (!found.ok) throw new Error(found.error)
  return { plane: found.value, floor }
}
const nine = [
  [0, 0],
  [4, 0],
  [4, 3],
  [0, 3],
  [2, 0],
  [2, 3],
  [0, 1.5],
  [4, 1.5],
  [2, 1.5],
] as const

it('should begin with a floor’s own marks, else with those that are placed, four at least', () => {
  expect(rowsOf(four, () => false).map(({ across, along }) => [across, along])).toEqual([
    ['0', '0'],
    ['4', '0'],
    ['4', '3'],
    ['0', '3'],
  ])
  expect(rowsOf(undefined, () => false).map(({ point }) => point)).toEqual(['floor.1', 'floor.2', 'floor.3', 'floor.4'])
  expect(rowsOf(undefined, (point) => /floor\.[1-6]$/.test(point))).toHaveLength(6)
  // One that is placed out of order does not come twice.
  const names = rowsOf(undefined, (point) => point === 'floor.3').map(({ point }) => point)
  expect(new Set(names).size).toBe(names.length)
  expect(names).toHaveLength(4)
})

it('should add a mark by the first free name, and never leave fewer than four', () => {
  const rows = rowsOf(four, () => false)
  const five = withMark(rows)
  expect(five.at(-1)).toEqual({ point: 'floor.5', across: '', along: '' })
  expect(withMark(withoutMark(five, 'floor.2')).at(-1)?.point).toBe('floor.2')
  expect(withoutMark(rows, 'floor.2')).toBe(rows)
  expect([canLose(rows), canLose(five)]).toEqual([false, true])
  let many: ReturnType<typeof withMark> = rows
  for (let i = 0; i < 60; i++) many = withMark(many)
  expect(many).toHaveLength(50)
})

it('should keep a mark that was added and not stated until something else is stated', () => {
  const none = (): boolean => false
  const fresh = freshDraft(four, none)
  expect(isChanged(fresh, four)).toBe(false)
  const five = { ...fresh, rows: withMark(fresh.rows) }
  expect(draftNow(five, four, none)).toBe(five)
  expect(isChanged(five, four)).toBe(true)
  const other: Floor = { ...four, unit: 'ft' }
  expect(draftNow(five, other, none)).toEqual(freshDraft(other, none))
  // What was stated from here arrives: what was typed meanwhile stays.
  const sent = { ...five, sent: JSON.stringify(other) }
  expect(draftNow(sent, other, none)).toEqual({ ...sent, stated: JSON.stringify(other), sent: '' })
  expect(draftNow(undefined, undefined, (point) => point === 'floor.2').rows.map(({ point }) => point)).toContain('floor.2')
})

it('should make a floor of the fields once each has its numbers', () => {
  const rows = rowsOf(four, () => false)
  expect(floorOf(rows, 's1', 'm', '2')).toEqual(four)
  expect(floorOf(withMark(rows), 's1', 'm', '2')).toBeNull()
  expect(floorOf(rows, 's1', ' ', '2')).toBeNull()
  expect(floorOf(rows, 's1', 'm', '200')).toBeNull()
})

it('should say how far the marks are off, which one it is, and what is not known', () => {
  const { plane: exact } = planeOf(nine.slice(0, 4))
  expect(offWords(exact.marks[0], exact, 'm')).toBe('–')
  expect(fitWords(exact, 'm')).toMatch(/^Four marks always fit/)
  const { plane: good } = planeOf(nine, { 2: 1 })
  expect(fitWords(good, 'm')).toMatch(/^The marks are 0\.00 m off in the mean, which their placing explains\.$/)
  const { plane: astray } = planeOf(nine, { 5: 60 })
  expect(astray.astray?.mark.point).toBe('floor.6')
  expect(fitWords(astray, 'm')).toMatch(/^Mark 6 lies 0\.60 m from where the others put it\./)
  const { plane: apart } = planeOf(nine.slice(0, 5), { 4: 60 })
  expect(apart.astray).toBeNull()
  expect(fitWords(apart, 'm')).toMatch(/more than placing them explains, and they do not tell which of them it is\. More marks would\./)
  expect(offWords(apart.marks[4], apart, 'm')).toMatch(/^0\.\d\d m$/)
})

it('should call marks by their numbers, or by the names that a document gave them', () => {
  expect([markWord('floor.12'), markWord('ring.corner.1'), numberWord(4), numberWord(11)]).toEqual(['12', 'ring corner 1', 'four', '11'])
})
