import { describe, expect, test } from 'vitest'
import type { MeasureOf } from '../../../app/measure/kind'
import type { Measure } from '../../../app/project/question'
import { shownAs } from '../../../app/script/value-form'
import { evenFrameTable } from '../../../app/time/frame-table'
import { knee, read, scene, standing, tableSized } from './scene'
import { readingsOf } from '../../../app/measure/readings'

const onFrame = { clip: 'c1', subject: 's1', frame: 460 }

describe('a joint angle', () => {
  test('is apparent, names lead or rear from the view card, and carries its error', () => {
    const reading = read(knee)
    expect(reading).toMatchObject({ verdict: 'good', plane: 'image', unit: '°', reasons: [] })
    expect(reading.label).toBe('apparent lead knee angle, image plane: 136° ± 10°')
    expect(reading.plate).toEqual({ value: '136° ± 10°', what: 'apparent lead knee angle, image plane' })
    expect(reading.spoken).toBe('about 135 degrees')
  })

  test('says left where no view card tells the lead side', () => {
    expect(read(knee, { more: { views: [] } }).label).toBe('apparent left knee angle, image plane: 136° ± 10°')
  })

  test('can be asked by lead and rear, and is refused where the lead side is unknown', () => {
    const asked: MeasureOf['joint-angle'] = { ...knee, points: ['hip.lead', 'knee.lead', 'ankle.lead'] }
    expect(read(asked).value).toBe(read(knee).value)
    expect(read(asked, { more: { views: [] } })).toMatchObject({ verdict: 'refused', value: null, reasons: ['lead-side-unknown'] })
  })

  test('is never interpolated: a frame without a placing is refused', () => {
    expect(read({ ...knee, frame: 461 })).toMatchObject({
      verdict: 'refused',
      reasons: ['no-sample-on-frame'],
      U: null,
      low: null,
      parts: [],
    })
  })

  test('in its stated plane is warned from 20°, refused above 35°, and says so in its label', () => {
    const at = (deg: number) => read({ ...knee, plane: { deg, u: 3 } })
    expect(at(10)).toMatchObject({ verdict: 'good', plane: 'true' })
    expect(at(25)).toMatchObject({ verdict: 'warned', reasons: ['plane-20-to-35'] })
    expect(at(25).label).toContain('lead knee angle, in its plane: 136° ±')
    expect(at(25).U!).toBeGreaterThan(at(10).U!)
    expect(at(36)).toMatchObject({ verdict: 'refused', reasons: ['plane-over-35'] })
  })

  test('whose U is above 20° is given as a range', () => {
    const reading = read(knee, { sample: { sigma: 9 } })
    expect(reading.verdict).toBe('range')
    expect(reading.reasons[0]).toBe('uncertainty-over-20')
    expect(reading.label).toBe('apparent lead knee angle, image plane: roughly 110–160° (estimate, one camera)')
    expect(reading.spoken).toBe('roughly 110 to 160 degrees')
  })

  test('is refused for a landmark off the picture, on either side', () => {
    const off = (at: [number, number]) => read(knee, { points: { ...standing, 'ankle.left': at }, table: tableSized })
    expect(off([-1, 500]).reasons).toContain('off-frame')
    expect(off([600, 721]).reasons).toContain('off-frame')
    expect(off([600, 719]).reasons).not.toContain('off-frame')
  })

  test('is refused for a figure below 150 px and warned below 250', () => {
    const shrunk = (by: number) =>
      read(knee, {
        points: Object.fromEntries(Object.entries(standing).map(([k, [x, y]]) => [k, [x * by, y * by]])),
        sample: { sigma: 0.5 },
      })
    expect(shrunk(0.3)).toMatchObject({ verdict: 'refused', reasons: ['figure-too-small'] })
    expect(shrunk(0.5)).toMatchObject({ verdict: 'warned', reasons: ['figure-small'] })
  })

  test('without a stated σ takes the default, split into click and anatomical parts, and is warned of a single click', () => {
    const reading = read(knee, { sample: {} })
    expect(reading.reasons).toEqual(['single-click'])
    expect(reading.parts.map((p) => p.name).sort()).toEqual(['anatomical', 'click'])
  })

  test('doubles the errors of a hidden point and warns', () => {
    const [seen, hidden] = [read(knee), read(knee, { sample: { sigma: 4, seen: 'occluded' } })]
    expect(hidden.u! / seen.u!).toBeCloseTo(2, 1)
    expect(hidden.reasons).toContain('occluded')
  })

  test('of points on each other is refused, never not-a-number', () => {
    expect(read(knee, { points: { ...standing, 'ankle.left': standing['knee.left']! } }).reasons).toEqual(['points-coincide'])
    expect(read({ ...knee, points: ['knee.left', 'knee.left', 'ankle.left'] }).reasons).toEqual(['points-coincide'])
  })

  test("takes the analyst's own name for the joint, qualification kept", () => {
    expect(read({ ...knee, label: 'front knee bend' }).label).toBe('apparent front knee bend, image plane: 136° ± 10°')
  })

  test('is given without the film; times are refused without it', () => {
    expect(read(knee, { table: null }).verdict).toBe('good')
    expect(read({ id: 't', kind: 'time-between', clip: 'c1', from: 'plant', to: 'contact' }, { table: null })).toMatchObject({
      verdict: 'refused',
      reasons: ['film-not-read'],
    })
  })
})

describe('a mirrored clip', () => {
  test('reads every value as the same bits', () => {
    const measures: Measure[] = [
      knee,
      { ...onFrame, id: 'l', kind: 'line-lean', points: ['hip.mid', 'shoulder.mid'] },
      { ...onFrame, id: 'a', kind: 'line-angle', points: ['hip.left', 'hip.right', 'shoulder.left', 'shoulder.right'] },
    ]
    const plain = scene(measures)
    const mirrored = { ...plain, clips: plain.clips.map((c) => ({ ...c, mirrored: true })) }
    expect(readingsOf(mirrored, () => null)).toEqual(readingsOf(plain, () => null))
  })
})

describe("a line's lean", () => {
  const trunk: MeasureOf['line-lean'] = { ...onFrame, id: 'l', kind: 'line-lean', points: ['hip.mid', 'shoulder.mid'] }

  test("is against the true vertical: the camera's roll is added, its error counted", () => {
    const plain = read(trunk)
    const rolled = read(trunk, {
      more: { clips: [{ id: 'c1', footage: 'f1', from: 400, to: 830, capture: 'unknown', roll: { deg: 3, u: 2 } }] },
    })
    expect(rolled.value! - plain.value!).toBeCloseTo(3, 9)
    expect(rolled.u!).toBeGreaterThan(plain.u!)
    expect(plain.label).toBe('apparent trunk lean in image: 7° ± 5°')
  })

  test('is warned of where the roll is not stated', () => {
    expect(read(trunk, { more: { clips: [{ id: 'c1', footage: 'f1', from: 400, to: 830, capture: 'unknown' }] } }).reasons).toEqual([
      'roll-unstated',
    ])
  })

  test('counted towards the lead foot is the same in a clip and in its southpaw mirror image', () => {
    const towards: MeasureOf['line-lean'] = { ...trunk, toward: 'lead' }
    const orthodox = read(towards)
    const flip: Record<string, [number, number]> = {}
    for (const [name, [x, y]] of Object.entries(standing))
      flip[name.includes('left') ? name.replace('left', 'right') : name.replace('right', 'left')] = [1280 - x, y]
    const southpaw = read(towards, { points: flip, more: { views: [{ clip: 'c1', subject: 's1', from: 400, to: 700, lead: 'right' }] } })
    expect(southpaw.value!).toBeCloseTo(orthodox.value!, 9)
    expect(southpaw.label).toBe(orthodox.label)
  })
})

describe('events', () => {
  const between = (kind: 'time-between' | 'frame-count' | 'order', from: string, to: string, clip = 'c1'): Measure => ({
    id: 'm',
    kind,
    clip,
    from,
    to,
  })

  test('18 frames at 60 fps are 18 frames ± 1 and 0.3 s', () => {
    expect(read(between('frame-count', 'plant', 'contact'))).toMatchObject({
      value: 18,
      low: 17,
      high: 19,
      verdict: 'good',
      label: 'plant to contact: 18 frames ± 1',
    })
    const time = read(between('time-between', 'plant', 'contact'))
    expect(time.value).toBeCloseTo(0.3, 12)
    expect(time.u).toBeCloseTo(1 / 60 / Math.sqrt(6), 12)
    expect(time.label).toBe('plant to contact: 0.300 s ± 0.013 s')
    expect(time.spoken).toBe('about 0.30 seconds')
  })

  test('asked for the other way round tell what lies between them and which came first; their value keeps its sign', () => {
    expect(read(between('frame-count', 'contact', 'plant'))).toMatchObject({
      value: -18,
      low: -19,
      high: -17,
      label: 'contact to plant: 18 frames ± 1, plant first',
      spoken: '18 frames, plant first',
    })
    const halves = read(between('frame-count', 'replayed', 'again', 'c2'))
    expect(halves).toMatchObject({ value: -30.5, plate: { value: '30.5 frames ± 1, plant first' }, spoken: '30.5 frames, plant first' })
    const time = read(between('time-between', 'contact', 'plant'))
    expect(time.value).toBeCloseTo(-0.3, 12)
    expect(time).toMatchObject({ plate: { value: '0.300 s ± 0.013 s, plant first' }, spoken: 'about 0.30 seconds, plant first' })
    expect(shownAs(time, 'about')).toBe('0.300 s ± 0.013 s, plant first')
  })

  test('keep a minus sign, and no hyphen, where either of the two may have come first', () => {
    const more = {
      events: [
        { id: 'a', clip: 'c1', name: 'a', earliest: 420, latest: 421 },
        { id: 'b', clip: 'c1', name: 'b', earliest: 420, latest: 420 },
      ],
    }
    expect(read(between('frame-count', 'a', 'b'), { more })).toMatchObject({
      value: -0.5,
      plate: { value: '−0.5 frames ± 1' },
      spoken: 'minus 0.5 frames',
    })
    expect(read(between('time-between', 'a', 'b'), { more }).plate.value).toMatch(/^−0\.0\d+ s ± 0\.0\d+ s$/u)
  })

  test('of a clip of unknown rate count in frames; seconds are refused', () => {
    expect(read(between('frame-count', 'again', 'replayed', 'c2'))).toMatchObject({ value: 30.5, unit: 'frames', verdict: 'good' })
    const time = read(between('time-between', 'again', 'replayed', 'c2'))
    expect(time).toMatchObject({ value: null, verdict: 'refused', reasons: ['capture-unknown'] })
    expect(time.label).toBe('plant to contact: not measured, how fast this picture was really shot is not known')
  })

  test('across clips are refused', () => {
    for (const kind of ['time-between', 'frame-count', 'order'] as const)
      expect(read(between(kind, 'plant', 'replayed')).reasons).toContain('across-clips')
  })

  test('are ordered only where their brackets are disjoint', () => {
    expect(read(between('order', 'plant', 'contact'))).toMatchObject({
      value: 1,
      verdict: 'good',
      unit: '',
      label: 'order: plant before contact (by at least 17 frames)',
    })
    expect(read(between('order', 'contact', 'plant')).value).toBe(-1)
    expect(read(between('order', 'contact', 'landing'))).toMatchObject({
      value: 0,
      verdict: 'range',
      label: 'order of contact and landing: not resolved',
    })
  })

  test('on a film of uneven frames are timed by its own frame times: 36 intervals of 25 and 42 ms are 1.206 s', () => {
    const pts = new Float64Array(2000)
    for (let i = 1; i < pts.length; i++) pts[i] = pts[i - 1]! + (i % 2 === 1 ? 25 : 42)
    const table = { base: { n: 1, d: 1000 }, pts, end: pts[1999]! + 42, rate: null }
    const reading = read(between('time-between', 'a', 'b'), {
      table,
      more: {
        events: [
          { id: 'a', clip: 'c1', name: 'a', earliest: 410, latest: 410 },
          { id: 'b', clip: 'c1', name: 'b', earliest: 446, latest: 446 },
        ],
      },
    })
    expect(reading.value).toBeCloseTo(1.206, 12)
    expect(reading.reasons).toEqual(['variable-rate'])
  })

  test('of a replay with known factor are divided by it', () => {
    const more = { clips: [{ id: 'c1', footage: 'f1', from: 400, to: 830, capture: { factor: '8', u: 0.4 } }] }
    const reading = read(between('time-between', 'plant', 'contact'), { more })
    expect(reading.value).toBeCloseTo(0.0375, 12)
    expect(reading.parts.map((p) => p.name)).toEqual(['capture factor', 'event'])
  })

  test('beyond the film or the clip are refused', () => {
    expect(read(between('time-between', 'plant', 'contact'), { table: evenFrameTable(450, { n: 60, d: 1 }) }).reasons).toEqual([
      'outside-film',
    ])
    const more = {
      events: [
        { id: 'plant', clip: 'c1', name: 'plant', earliest: 100, latest: 100 },
        { id: 'contact', clip: 'c1', name: 'contact', earliest: 460, latest: 460 },
      ],
    }
    expect(read(between('frame-count', 'plant', 'contact'), { more }).reasons).toEqual(['outside-clip'])
  })
})

describe('a distance', () => {
  test('is given in lengths of its unit', () => {
    const reading = read({
      ...onFrame,
      id: 'd',
      kind: 'distance',
      points: ['ankle.left', 'ankle.right'],
      unit: { points: ['hip.left', 'knee.left'], frame: 460, name: 'thigh lengths' },
    })
    expect(reading.value).toBeCloseTo(Math.hypot(80, 2) / Math.hypot(40, 100), 12)
    expect(reading.label).toBe('distance of lead ankle and rear ankle across the image: 0.74 ± 0.14 thigh lengths')
  })

  test("has no unit where the unit's points lie on each other or nearly so", () => {
    const by = (at: [number, number]) =>
      read(
        {
          ...onFrame,
          id: 'd',
          kind: 'distance',
          points: ['ankle.left', 'ankle.right'],
          unit: { points: ['hip.left', 'knee.left'], frame: 460, name: 'thighs' },
        },
        { points: { ...standing, 'knee.left': at } },
      )
    expect(by([600, 300]).reasons).toEqual(['points-coincide'])
    expect(by([610, 310]).reasons).toEqual(['unit-too-short'])
  })
})
