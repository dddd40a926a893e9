import { describe, expect, test } from 'vitest'
import type { MeasureOf } from '../../../app/measure/kind'
import { whatWouldShrink } from '../../../app/measure/what-would-shrink'
import { evenFrameTable } from '../../../app/time/frame-table'
import { read, scene, type SceneParts } from './scene'

const table120 = evenFrameTable(2000, { n: 120, d: 1 })

/// A shin that swings about a knee: `degAt` its lean on each frame.
function swing(
  degAt: (frame: number) => number,
  frames: readonly number[],
  events: NonNullable<NonNullable<SceneParts['more']>['events']> = [],
): NonNullable<SceneParts['more']> {
  const at = (deg: number): [number, number] => [600 + 100 * Math.sin((deg * Math.PI) / 180), 300 - 100 * Math.cos((deg * Math.PI) / 180)]
  return {
    events,
    landmarks: [
      {
        clip: 'c1',
        subject: 's1',
        point: 'knee.left',
        samples: frames.map((frame) => ({ frame, at: [600, 300] as [number, number], sigma: 0.5 })),
      },
      { clip: 'c1', subject: 's1', point: 'ankle.left', samples: frames.map((frame) => ({ frame, at: at(degAt(frame)), sigma: 0.5 })) },
    ],
  }
}
const frames = Array.from({ length: 81 }, (_, i) => 420 + i)
const rateOn = (frame: number): MeasureOf['angular-rate'] => ({
  id: 'r',
  kind: 'angular-rate',
  clip: 'c1',
  subject: 's1',
  frame,
  points: ['knee.left', 'ankle.left'],
})
const contact = { id: 'hit', clip: 'c1', name: 'contact', earliest: 460, latest: 460 }

describe('a rate', () => {
  test("of a steady turn is that turn, at the film's true rate", () => {
    const more = swing((f) => (f - 460) / 2, frames)
    expect(read(rateOn(460), { more, table: table120 }).value!).toBeCloseTo(60, 3)
    const slow = { ...more, clips: [{ id: 'c1', footage: 'f1', from: 400, to: 830, capture: { factor: '8', u: 0 } }] }
    // 81 frames are a tenth of a second there, less than a period of the cut-off: the ends are felt.
    expect(Math.abs(read(rateOn(460), { more: slow, table: table120 }).value! / 480 - 1)).toBeLessThan(0.003)
  })

  test('never looks across a contact: what comes after does not change what was before', () => {
    const stopped = (after: number) => swing((f) => (f <= 460 ? (f - 460) / 2 : after), frames, [contact])
    const [still, flung] = [
      read(rateOn(458), { more: stopped(0), table: table120 }),
      read(rateOn(458), { more: stopped(80), table: table120 }),
    ]
    expect(flung).toEqual(still)
    expect(still.value!).toBeGreaterThan(55)
    const unmarked = read(rateOn(458), { more: { ...stopped(80), events: [] }, table: table120 })
    expect(unmarked.value).not.toBe(still.value)
  })

  test('never looks across a frame without a placing: gaps stay gaps', () => {
    const gap = swing(
      (f) => (f - 460) / 2,
      frames.filter((f) => f !== 463),
    )
    const far = swing(
      (f) => (f < 463 ? (f - 460) / 2 : 90),
      frames.filter((f) => f !== 463),
    )
    expect(read(rateOn(460), { more: gap, table: table120 }).value).toBe(read(rateOn(460), { more: far, table: table120 }).value)
    expect(read(rateOn(463), { more: gap, table: table120 }).reasons).toContain('no-sample-on-frame')
  })

  test('carries the spread of its two other cut-offs as a part of its error', () => {
    const kick = swing((f) => 90 / (1 + Math.exp(-(f - 460) / 2)), frames)
    const reading = read(rateOn(460), { more: kick, table: table120 })
    expect(reading.parts.map((p) => p.name)).toContain('filter')
    expect(whatWouldShrink(reading)).toMatchObject({ part: 'filter' })
  })

  test('from few frames a second is warned to be flattened', () => {
    expect(read(rateOn(460), { more: swing((f) => (f - 460) / 2, frames), table: evenFrameTable(2000, { n: 30, d: 1 }) }).reasons).toEqual([
      'rate-coarse',
    ])
  })
})

describe('a speed', () => {
  const speed: MeasureOf['speed'] = {
    id: 's',
    kind: 'speed',
    clip: 'c1',
    subject: 's1',
    frame: 460,
    points: ['ankle.left'],
    scale: { points: ['knee.left', 'ankle.left'], frame: 460, metres: 0.4, u: 0.05 },
    camera: 'still',
  }
  const more = swing((f) => (f - 460) * 3, frames)

  test('is refused below 100 true frames a second, in metres a second above', () => {
    expect(read(speed, { more, table: evenFrameTable(2000, { n: 60, d: 1 }) }).reasons).toEqual(['rate-too-low'])
    const reading = read(speed, { more, table: table120 })
    expect(reading.unit).toBe('m/s')
    expect(reading.value!).toBeGreaterThan((0.9 * 0.4 * (3 * 120 * Math.PI)) / 180)
    expect(reading.label).toMatch(/^speed of lead ankle across the image, low-passed at 10 Hz: 2\.\d+ m\/s ± 0\.\d+ m\/s$/)
  })

  test("is warned of where the camera's own motion was not taken out, and above what fists are known to do", () => {
    const { camera: _, ...loose } = speed
    expect(read(loose, { more, table: table120 }).reasons).toContain('camera-not-followed')
    expect(read({ ...speed, scale: { ...speed.scale!, metres: 4 } }, { more, table: table120 }).reasons).toContain('high-speed')
  })
})

describe('a value that stands for an event', () => {
  test("has the change over the event's bracket in its error: |ω|·Δt/√12", () => {
    const more = swing((f) => (f - 460) * 5, frames, [{ ...contact, name: 'plant' }])
    const lean: MeasureOf['line-lean'] = {
      id: 'l',
      kind: 'line-lean',
      clip: 'c1',
      subject: 's1',
      frame: 460,
      points: ['knee.left', 'ankle.left'],
    }
    const [alone, tied] = [read(lean, { more }), read({ ...lean, event: 'hit' }, { more })]
    expect(tied.value).toBe(alone.value)
    expect(tied.u!).toBeCloseTo(Math.hypot(alone.u!, 5 / Math.sqrt(12)), 6)
    expect(tied.parts.map((p) => p.name)).toContain('event')
    expect(read({ ...lean, frame: 465, event: 'hit' }, { more }).reasons).toContain('event-elsewhere')
    expect(read({ ...lean, event: 'gone' }, { more }).reasons).toEqual(['event-missing'])
  })

  test('says so where the change around it is not known', () => {
    expect(
      read({ id: 'l', kind: 'line-lean', clip: 'c1', subject: 's1', frame: 460, points: ['hip.mid', 'shoulder.mid'], event: 'contact' })
        .reasons,
    ).toEqual(['event-motion-unknown'])
    expect(scene([]).measures).toEqual([])
  })
})
