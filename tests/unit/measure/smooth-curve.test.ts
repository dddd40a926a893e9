import { describe, expect, it } from 'vitest'
import { evenFrameTable } from '../../../app/time/frame-table'
import { curveCsv } from '../../../app/exchange/curve-csv'
import { layOver, peaksOf, piecesOf, smoothCurve } from '../../../app/measure/smooth-curve'

const table = evenFrameTable(400, { n: 120, d: 1 })
const half = evenFrameTable(400, { n: 60, d: 1 })
const at = (frame: number, value: number, error = 4) => ({ frame, value, low: value - error, high: value + error })
const bump = Array.from({ length: 81 }, (_, i) => at(i, 100 + 40 * Math.exp(-(((i - 40) / 14) ** 2))))

describe('a smoothed curve', () => {
  it('should not reach across a missing frame or a contact', () => {
    const curve = [0, 1, 2, 4, 5, 6].map((frame) => at(frame, frame))
    expect(piecesOf(curve, [5]).map((piece) => piece.map(({ frame }) => frame))).toEqual([[0, 1, 2], [4, 5], [6]])
    const jump = Array.from({ length: 40 }, (_, i) => at(i, i < 20 ? 0 : 100))
    for (const { value } of smoothCurve(jump, [19], table, 1).flat())
      expect(Math.min(Math.abs(value), Math.abs(value - 100))).toBeLessThan(1e-6)
  })

  it('should tell the peak with its error, wider where the cut-offs part', () => {
    const [peak] = peaksOf(bump, smoothCurve(bump, [], table, 1))
    expect(peak).toMatchObject({ frame: 40, way: 'highest' })
    expect(Math.abs(peak!.value - 140)).toBeLessThan(peak!.half)
    expect(peak!.half).toBeGreaterThan(4)
  })

  it('should call no peak what the error does not tell from its surroundings', () => {
    const dip = Array.from({ length: 81 }, (_, i) => at(i, 170 - 60 * Math.exp(-(((i - 40) / 9) ** 2)) + 0.4 * Math.sin(i / 3)))
    expect(peaksOf(dip, smoothCurve(dip, [], table, 1)).map(({ frame, way }) => [frame, way])).toEqual([[40, 'lowest']])
  })

  it('should have no peak at an end', () => {
    const rising = Array.from({ length: 30 }, (_, i) => at(i, i))
    expect(peaksOf(rising, smoothCurve(rising, [], table, 1))).toEqual([])
  })
})

describe('two curves over one another', () => {
  const own = { curve: bump, event: { earliest: 40, latest: 40 }, table, k: 1 }
  it('should meet at the event and run at one real rate', () => {
    const other = { curve: [at(20, 140), at(21, 139), at(25, 120)], event: { earliest: 20, latest: 20 }, table: half, k: 1 }
    expect(layOver(own, other).map(({ frame }) => Math.round(frame * 1e6) / 1e6)).toEqual([40, 42, 50])
    // A replay at half speed: file time is twice real time.
    expect(layOver(own, { ...other, k: 2 }).map(({ frame }) => Math.round(frame * 1e6) / 1e6)).toEqual([40, 41, 45])
  })
})

it('should write a curve as comma-separated values', () => {
  expect(curveCsv([at(3, 45.25)], [], table, '°')).toBe(
    'frame,file_seconds,value_deg,low_95,high_95,smoothed,smoothed_lower_cutoff\r\n3,0.025000,45.2500,41.2500,49.2500,,\r\n',
  )
  // A range has no value between its ends.
  expect(curveCsv([{ ...at(3, 45.25), range: true }], [], table, '°')).toContain('\r\n3,0.025000,,41.2500,49.2500,,\r\n')
})

it('should write another clip’s curve beneath, each row with its own clip’s frame and where it lies in the other’s', () => {
  const own = { curve: [at(40, 100)], event: { earliest: 40, latest: 40 }, table, k: 1 }
  const points = layOver(own, { curve: [at(21, 90)], event: { earliest: 20, latest: 20 }, table: half, k: 1 })
  expect(curveCsv(own.curve, [], table, '°', { clips: ['first, evening', '=second'], on: 'load', points, table: half })).toBe(
    'clip,aligned_on,aligned_frame,frame,file_seconds,value_deg,low_95,high_95,smoothed,smoothed_lower_cutoff\r\n"first, evening",load,40.0000,40,0.333333,100.0000,96.0000,104.0000,,\r\n\'=second,load,42.0000,21,0.350000,90.0000,86.0000,94.0000,,\r\n',
  )
})
