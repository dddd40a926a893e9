import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { endShares, massCentre, type WeightedPoint } from '../../../app/body/mass-centre'
import { segmentModels, sidedSegments, type SegmentTable } from '../../../app/body/segment-table'

/// Segment tables as carried by BMClab/BMC (CC BY 4.0): segment → columns.
const table = (file: string): Map<string, { ends: string; mass: number; centre: number }> =>
  new Map(
    readFileSync(`tests/data/numeric/${file}`, 'utf8')
      .trim()
      .split(/\r?\n/)
      .slice(1)
      .map((line) => {
        const [name, ends, mass, centre] = line.split('\t')
        return [name!.trim(), { ends: ends!.trim(), mass: Number(mass), centre: Number(centre) }]
      }),
  )

describe('segment tables against the handbooks', () => {
  const rows: Record<string, string> = {
    head: 'Head 2',
    trunk: 'Trunk 3',
    'upper arm': 'Upper arm',
    forearm: 'Forearm',
    hand: 'Hand',
    thigh: 'Thigh',
    shank: 'Shank',
    foot: 'Foot',
  }

  test.each([
    ['de-leva-female', 'BSPfemale_ZdeLeva.txt'],
    ['de-leva-male', 'BSPmale_ZdeLeva.txt'],
  ] as const)("%s holds de Leva 1996's numbers", (name, file) => {
    const printed = table(file)
    for (const segment of segmentModels[name].segments) {
      const row = printed.get(rows[segment.name]!)!
      expect([segment.mass, segment.centre], segment.name).toEqual([row.mass, row.centre])
    }
  })

  test("winter holds Winter 2009's numbers", () => {
    const printed = table('BSP_DempsterWinter.txt')
    const names: Record<string, string> = {
      'trunk, head and neck': 'Trunk head neck',
      'upper arm': 'Upper arm',
      'forearm and hand': 'Forearm hand',
      thigh: 'Thigh',
      leg: 'Leg',
      foot: 'Foot',
    }
    for (const segment of segmentModels.winter.segments) {
      const row = printed.get(names[segment.name]!)!
      expect([segment.mass, segment.centre], segment.name).toEqual([row.mass, row.centre])
    }
  })

  test("de Leva's masses add up to 1.0000 for men and 0.9999 for women", () => {
    const total = (name: SegmentTable): string =>
      sidedSegments(name)
        .reduce((s, x) => s + x.mass, 0)
        .toFixed(4)
    expect(total('de-leva-male')).toBe('1.0000')
    expect(total('de-leva-female')).toBe('0.9999')
    expect(total('winter')).toBe('1.0000')
  })

  test("Winter's worked example of a lower limb's balance point comes out to its printed digits", () => {
    interface Example {
      points_m: Record<'metatarsal' | 'lat_malleolus' | 'knee' | 'trochanter', number[]>
      mass_fractions: Record<string, number>
      cm_prox: Record<string, number>
      published_rounded: Record<string, number[]>
    }
    const {
      points_m: p,
      mass_fractions: mass,
      cm_prox,
      published_rounded,
    } = JSON.parse(readFileSync('tests/data/numeric/winter_cm_example.json', 'utf8')) as Example
    const ends = { foot: [p.lat_malleolus, p.metatarsal], leg: [p.knee, p.lat_malleolus], thigh: [p.trochanter, p.knee] } as const
    const borne = (name: string, [from, to]: readonly [number[], number[]]): WeightedPoint[] => {
      const [first, second] = endShares(cm_prox[name]!)
      return [
        { mass: mass[name]! * first, at: from },
        { mass: mass[name]! * second, at: to },
      ]
    }
    // The book rounds halves up; half a unit of the third decimal either way.
    const check = (name: string, points: readonly WeightedPoint[]): void =>
      massCentre(points)!.forEach((v, i) => expect(Math.abs(v - published_rounded[name]![i]!), name).toBeLessThanOrEqual(5.0001e-4))
    for (const [name, segment] of Object.entries(ends)) check(name, borne(name, segment))
    check(
      'limb',
      Object.entries(ends).flatMap(([name, segment]) => borne(name, segment)),
    )
  })
})
