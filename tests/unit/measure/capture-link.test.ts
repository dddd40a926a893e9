import { expect, it } from 'vitest'
import { captureFactor, linkStretches } from '../../../app/measure/capture-factor'
import { linkableClips, linkedClip, recapture, sharedEvents } from '../../../app/measure/capture-link'
import { measureContext } from '../../../app/measure/context'
import type { Clip, Event } from '../../../app/project/film'
import { changeEvent } from '../../../renderer/bench/event-edits'
import { scene, table60 } from './scene'

/// A blow of 400 to 460 live at 60 frames a second, and its replay from 900 on: `speeds` times slower between its events.

const live: readonly (readonly [string, number])[] = [
  ['load', 410],
  ['plant', 440],
  ['contact', 470],
]
const clips: Clip[] = [
  { id: 'c1', footage: 'f1', from: 400, to: 830, capture: { factor: '1', u: 0 } },
  { id: 'c2', footage: 'f1', from: 900, to: 1400, capture: 'unknown' },
]
const event = (clip: string, name: string, frame: number): Event => ({
  id: `${clip}-${name.trim()}`,
  clip,
  name,
  earliest: frame,
  latest: frame,
})
function bout(speeds: readonly number[], more: readonly Event[] = []) {
  const replay = live
    .slice(0, speeds.length + 1)
    .map(([name], i) => event('c2', name, 920 + live.slice(1, i + 1).reduce((sum, [, at], j) => sum + (at - live[j]![1]) * speeds[j]!, 0)))
  return scene([], {
    points: {},
    more: { clips, views: [], events: [...live.map(([name, at]) => event('c1', name, at)), ...replay, ...more] },
  })
}
const contextOf = (breakdown: ReturnType<typeof bout>) => measureContext(breakdown, () => table60)
const linked = (breakdown: ReturnType<typeof bout>): Clip => linkedClip(clips[1]!, 'c1', sharedEvents(contextOf(breakdown), 'c2', 'c1'))

it('should find the factor of a replay from three shared events, as k = T′/T with Δt/√6 of each span (DOMAIN §2.5)', () => {
  const breakdown = bout([4, 4])
  const found = captureFactor(contextOf(breakdown), linked(breakdown))
  expect(found.ok && found.value).toMatchObject({ k: expect.closeTo(4, 9), warnings: [] })
  // T = 1 s live and 4 s replayed at 60 frames a second.
  const share = Math.hypot(1 / 60 / Math.sqrt(6) / 1, 1 / 60 / Math.sqrt(6) / 4)
  expect(found.ok && found.value.u).toBeCloseTo(4 * share, 6)
  expect(recapture(contextOf(breakdown), linked(breakdown))).toMatchObject({
    factor: '4',
    u: expect.closeTo(4 * share, 5),
    link: {
      shared: 'c1',
      pairs: [
        ['c2-load', 'c1-load'],
        ['c2-plant', 'c1-plant'],
        ['c2-contact', 'c1-contact'],
      ],
    },
  })
})

it('should say that two shared events leave a change of speed untested, and refuse one that three show', () => {
  const two = bout([4])
  expect(captureFactor(contextOf(two), linked(two))).toMatchObject({ ok: true, value: { warnings: ['ramp-untested'] } })
  const ramped = bout([4, 2])
  expect(captureFactor(contextOf(ramped), linked(ramped))).toMatchObject({ ok: false, error: 'capture-ramped' })
  const parts = linkStretches(contextOf(ramped), linked(ramped))
  expect(parts.ok && parts.value.map(({ from, to, k }) => [from, to, Math.round(k * 100) / 100])).toEqual([
    ['c2-load', 'c2-plant', 4],
    ['c2-plant', 'c2-contact', 2],
  ])
  // A ramp gives no factor to keep.
  expect(recapture(contextOf(ramped), linked(ramped))).toMatchObject({ factor: '1', u: 0 })
})

it('should pair events by their one name, and leave out a name that a clip bears twice', () => {
  const context = contextOf(bout([4, 4], [event('c2', 'Plant ', 1000), event('c1', 'bell', 405), event('c2', 'Bell', 905)]))
  expect(sharedEvents(context, 'c2', 'c1').map(({ here, there }) => [here.id, there.id])).toEqual([
    ['c2-Bell', 'c1-bell'],
    ['c2-load', 'c1-load'],
    ['c2-contact', 'c1-contact'],
  ])
})

it('should offer no clip of unknown speed, nor one whose own speed comes from this one', () => {
  const third: Clip = { id: 'c3', footage: 'f1', from: 1500, to: 1600, capture: { factor: '2', u: 0, link: { shared: 'c2', pairs: [] } } }
  const context = measureContext({ ...bout([4, 4]), clips: [...clips, third] }, () => table60)
  expect(linkableClips(context, clips[1]!).map(({ id }) => id)).toEqual(['c1'])
  expect(linkableClips(context, clips[0]!).map(({ id }) => id)).toEqual(['c3'])
})

it('should give a linked clip its new speed in the very edit that moves a shared event', () => {
  const breakdown = bout([4, 4])
  const clip = { ...clips[1]!, capture: recapture(contextOf(breakdown), linked(breakdown)) }
  const contact = breakdown.events!.find(({ id }) => id === 'c2-contact')!
  const { diffs } = changeEvent(
    { ...breakdown, clips: [clips[0]!, clip] },
    () => table60,
    contact,
    { ...contact, earliest: contact.earliest + 3, latest: contact.latest + 3 },
    'Bracket contact',
  )
  expect(diffs.map(({ table, key }) => [table, key])).toEqual([
    ['events', 'c2-contact'],
    ['clips', 'c2'],
  ])
  expect(diffs[1]).toMatchObject({ to: { capture: { factor: '4.05', link: { shared: 'c1' } } } })
  expect(
    changeEvent(breakdown, () => table60, contact, { ...contact, definition: 'glove on target' }, 'Bracket contact').diffs,
  ).toHaveLength(1)
})
