import { expect, it } from 'vitest'
import { eventAgreement, markedTwice } from '../../../app/measure/agreement'
import type { Event } from '../../../app/project/film'
import { read, scene } from './scene'

const bracket = (earliest: number, latest = earliest) => ({ earliest, latest })
const event = (id: string, first: ReturnType<typeof bracket>, second?: ReturnType<typeof bracket>): Event => ({
  id,
  clip: 'c1',
  name: id,
  ...first,
  ...(second ? { markings: { first, second } } : {}),
})
const events = [
  event('load', bracket(430), bracket(432, 433)),
  event('plant', bracket(442), bracket(441)),
  event('landing', bracket(460, 462), bracket(462, 464)),
  event('contact', bracket(460)),
]

it('should tell by how many frames a second marking lies from the first, and whether the two meet', () => {
  expect(markedTwice(events)).toEqual([
    { event: 'load', difference: 2.5, meet: false },
    { event: 'plant', difference: -1, meet: false },
    { event: 'landing', difference: 2, meet: true },
  ])
})

it('should give bias and limits of agreement as mean ± 1.96 sd of the differences (Bland and Altman 1986), from two events on', () => {
  const d = [2.5, -1, 2]
  const mean = d.reduce((s, x) => s + x, 0) / 3
  const sd = Math.sqrt(d.reduce((s, x) => s + (x - mean) ** 2, 0) / 2)
  expect(eventAgreement(events)).toEqual({
    n: 3,
    bias: expect.closeTo(mean, 12),
    sd: expect.closeTo(sd, 12),
    limits: [expect.closeTo(mean - 1.96 * sd, 12), expect.closeTo(mean + 1.96 * sd, 12)],
  })
  expect(eventAgreement(events.slice(2))).toBeNull()
})

it('should warn of a value between events of which one was marked elsewhere the second time, until its bracket holds both', () => {
  const frames = { id: 'm1', kind: 'frame-count' as const, clip: 'c1', from: 'plant', to: 'contact' }
  const reasons = (of: readonly Event[]) => read(frames, { more: { events: [...of] } }).reasons
  expect(reasons([event('plant', bracket(442)), events[3]!])).not.toContain('markings-apart')
  expect(reasons([events[1]!, events[3]!])).toContain('markings-apart')
  expect(reasons([{ ...events[1]!, ...bracket(441, 442) }, events[3]!])).not.toContain('markings-apart')
  // A bracket with both markings in it keeps what the two were.
  expect(markedTwice([{ ...events[1]!, ...bracket(441, 442) }])).toEqual([{ event: 'plant', difference: -1, meet: false }])
})

it('should measure by what is known of the hall where a measure states nothing of its own', () => {
  const far = { id: 'm2', kind: 'displacement' as const, clip: 'c1', subject: 's1', frame: 460, fromFrame: 450, points: ['wrist.left'] }
  const landmarks = [
    ...scene([]).landmarks!.map((l) =>
      l.point === 'wrist.left' ? { ...l, samples: [{ frame: 450, at: [640, 190] as [number, number], sigma: 4 }, ...l.samples] } : l,
    ),
    ...(['post.foot', 'post.top'] as const).map((point, i) => ({
      clip: 'c1',
      subject: 's1',
      point,
      samples: [{ frame: 460, at: [300, 500 - 200 * i] as [number, number], sigma: 1 }],
    })),
  ]
  const clip = scene([]).clips[0]!
  const reading = (hall: object) => read(far, { more: { landmarks, clips: [{ ...clip, ...hall }] } })
  expect(reading({})).toMatchObject({ value: null, reasons: expect.arrayContaining(['unit-missing']) })
  const scale = { subject: 's1', points: ['post.foot', 'post.top'], frame: 460, metres: 1.5, u: 0.02 }
  const stated = reading({ hall: { camera: 'still', scale } })
  // 100 px across, 200 px to 1.5 m.
  expect(stated).toMatchObject({ value: expect.closeTo(0.75, 6), unit: 'm' })
  expect(stated.reasons).not.toContain('camera-not-followed')
  expect(reading({ hall: { scale } }).reasons).toContain('camera-not-followed')
  // One's own unit stands before it.
  expect(
    read(
      { ...far, unit: { points: ['hip.mid', 'shoulder.mid'], frame: 460, name: 'trunk lengths' } },
      { more: { landmarks, clips: [{ ...clip, hall: { scale } }] } },
    ).unit,
  ).toBe('trunk lengths')
})
