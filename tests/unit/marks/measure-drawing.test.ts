import { describe, expect, it } from 'vitest'
import { drawMeasure, partOf, type DrawnMeasure, type MeasureScene } from '../../../app/marks/measure-drawing'
import { palette } from '../../../app/marks/palette'
import type { Ring } from '../../../app/marks/stroke'
import type { Point } from '../../../app/project/fields'
import type { Measure } from '../../../app/project/question'

const places: Record<string, Point> = {
  'hip.left': [500, 500],
  'hip.right': [420, 510],
  'knee.right': [400, 620],
  'ankle.right': [340, 730],
  'shoulder.left': [520, 300],
  'shoulder.right': [430, 305],
}
const scene = (changes: Partial<MeasureScene> = {}): MeasureScene => ({
  at: (name) => places[name] ?? null,
  before: (name) => (places[name] ? [places[name]![0] - 100, places[name]![1] - 20] : null),
  way: (name) => (places[name] ? [[[300, 300], [350, 400], places[name]!]] : []),
  up: [0, -1],
  unit: 1,
  ...changes,
})
const onFrame = { id: 'm', clip: 'c1', subject: 's1', frame: 60 }
const joint: Measure = { ...onFrame, kind: 'joint-angle', points: ['hip.right', 'knee.right', 'ankle.right'] }
const rings = (drawn: DrawnMeasure | null, colour: string): Ring[] =>
  (drawn?.shapes ?? []).flatMap((s) => (s.kind === 'fill' && s.colour === colour ? [...s.rings] : []))
const middle = (ring: Ring): Point => [ring.reduce((s, p) => s + p[0], 0) / ring.length, ring.reduce((s, p) => s + p[1], 0) / ring.length]

describe('the drawing of a measure', () => {
  it('is nothing while one of its points is missing, or for a kind without points', () => {
    expect(drawMeasure(joint, scene({ at: (name) => (name === 'knee.right' ? null : (places[name] ?? null)) }))).toBeNull()
    expect(drawMeasure({ id: 'm', kind: 'time-between', clip: 'c1', from: 'e0', to: 'e1' }, scene())).toBeNull()
  })

  it('of a joint angle is both limbs in the yellow of the limb in question, the arc between them and a dot on each joint', () => {
    const drawn = drawMeasure(joint, scene())
    expect(drawn?.anchor).toEqual(places['knee.right'])
    const yellow = rings(drawn, palette.limb)
    for (const name of ['hip.right', 'knee.right', 'ankle.right'])
      expect(Math.min(...yellow.map((r) => Math.hypot(middle(r)[0] - places[name]![0], middle(r)[1] - places[name]![1])))).toBeLessThan(
        1e-6,
      )
    const [knee, hip, ankle] = [places['knee.right']!, places['hip.right']!, places['ankle.right']!]
    const heading = (p: Point): number => Math.atan2(p[1] - knee[1], p[0] - knee[0])
    const radii = (r: Ring): number[] => r.map((p) => Math.hypot(p[0] - knee[0], p[1] - knee[1]))
    const arc = yellow.find((r) => Math.max(...radii(r)) - Math.min(...radii(r)) < 5.2 && Math.min(...radii(r)) > 30)!
    const spread = arc.map(heading).map((h) => Math.abs(Math.atan2(Math.sin(h - heading(hip)), Math.cos(h - heading(hip)))))
    const interior = Math.abs(Math.atan2(Math.sin(heading(ankle) - heading(hip)), Math.cos(heading(ankle) - heading(hip))))
    expect(Math.abs(Math.max(...spread) - interior)).toBeLessThan(0.006)
  })

  it('has a dark casing beneath every line, and it is the lowest', () => {
    for (const measure of [
      joint,
      { ...onFrame, kind: 'line-lean', points: ['hip.mid', 'shoulder.left'] },
      { ...onFrame, kind: 'line-angle', points: ['hip.right', 'hip.left', 'shoulder.right', 'shoulder.left'] },
    ] as Measure[]) {
      const drawn = drawMeasure(measure, scene({ at: (name) => places[name] ?? [460, 505] }))!
      expect(drawn.shapes[0]).toMatchObject({ colour: palette.casing, opacity: 0.85 })
      const casing = rings({ ...drawn, shapes: drawn.shapes.slice(0, 1) }, palette.casing)
      const box = (r: readonly Ring[]): number[] => [
        Math.min(...r.flat().map((p) => p[0])),
        Math.min(...r.flat().map((p) => p[1])),
        -Math.max(...r.flat().map((p) => p[0])),
        -Math.max(...r.flat().map((p) => p[1])),
      ]
      const cores = drawn.shapes.slice(1).flatMap((s) => (s.kind === 'fill' ? [...s.rings] : []))
      box(casing).forEach((edge, i) => expect(edge).toBeLessThan(box(cores)[i]!))
    }
  })

  it('tells hips from shoulders by form as well: solid with square ends, dashed with round ones', () => {
    expect([
      partOf('hip.left', 'hip.right'),
      partOf('shoulder.right', 'shoulder.left'),
      partOf('hip.left', 'knee.left'),
      partOf('hip.mid', 'shoulder.mid'),
    ]).toEqual(['hips', 'shoulders', 'limb', 'limb'])
    const wide: Record<string, Point> = {
      'hip.left': [600, 500],
      'hip.right': [300, 500],
      'shoulder.left': [600, 300],
      'shoulder.right': [300, 300],
    }
    const drawn = drawMeasure(
      { ...onFrame, kind: 'line-angle', points: ['hip.right', 'hip.left', 'shoulder.right', 'shoulder.left'] },
      scene({ at: (name) => wide[name] ?? null }),
    )
    const [hips, shoulders] = [rings(drawn, palette.hips), rings(drawn, palette.shoulders)]
    expect(hips.filter((r) => r.length === 4)).toHaveLength(2)
    expect(hips).toHaveLength(3)
    expect(shoulders.length).toBeGreaterThan(6)
    expect(shoulders.every((r) => r.length > 8)).toBe(true)
  })

  it('of a lean has the true vertical from its lower end, as long as the line', () => {
    const drawn = drawMeasure({ ...onFrame, kind: 'line-lean', points: ['hip.left', 'shoulder.left'] }, scene({ up: [-0.1, -1] }))
    const dashes = rings(drawn, palette.other).flat()
    const [x, y] = places['hip.left']!
    for (const p of dashes) expect(Math.abs((p[0] - x) * 1 - (p[1] - y) * 0.1) / Math.hypot(1, 0.1)).toBeLessThan(1.6)
    expect(y - Math.min(...dashes.map((p) => p[1]))).toBeGreaterThan(180)
  })

  it('of a turn between two lines shows both lines and claims no arc on the picture', () => {
    const drawn = drawMeasure({ ...onFrame, kind: 'separation', view: 'side' }, scene())
    expect(rings(drawn, palette.hips).length).toBeGreaterThan(0)
    expect(rings(drawn, palette.shoulders).length).toBeGreaterThan(0)
    expect(rings(drawn, palette.limb)).toEqual([])
  })

  it('of a move shows where it began, of a way the whole way, of a turning limb that limb', () => {
    const moved = drawMeasure({ ...onFrame, kind: 'displacement', points: ['knee.right'], fromFrame: 40 }, scene())
    expect(rings(moved, palette.other).length).toBeGreaterThan(1)
    const way = drawMeasure(
      { id: 'm', clip: 'c1', subject: 's1', kind: 'path', points: ['knee.right'], fromFrame: 40, toFrame: 60 },
      scene(),
    )
    expect(
      rings(way, palette.limb)
        .flat()
        .some((p) => Math.hypot(p[0] - 300, p[1] - 300) < 4),
    ).toBe(true)
    for (const points of [
      ['hip.right', 'knee.right'],
      ['hip.right', 'knee.right', 'ankle.right'],
    ]) {
      const drawn = drawMeasure({ ...onFrame, kind: 'angular-rate', points }, scene())
      expect(rings(drawn, palette.limb).length).toBeGreaterThan(points.length)
    }
  })

  it('keeps labels off its joints, lines and arc', () => {
    const kinds = drawMeasure(joint, scene())!.clear.map((o) => o.kind)
    expect(kinds.filter((k) => k === 'disc')).toHaveLength(3)
    expect(kinds.filter((k) => k === 'segment').length).toBeGreaterThan(4)
  })
})
