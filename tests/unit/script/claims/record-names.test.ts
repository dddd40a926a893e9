import { expect, it } from 'vitest'
import type { Reading } from '../../../../app/measure/reading'
import type { Breakdown } from '../../../../app/project/breakdown'
import { evidenceInWords } from '../../../../app/script/claims/class-words'
import { recordNames } from '../../../../app/script/claims/record-names'

const reading = (id: string, what: string): Reading => ({
  id,
  kind: 'joint-angle',
  clip: 'c1',
  frame: 156,
  value: 142,
  u: 6,
  U: 12,
  low: 130,
  high: 154,
  unit: '°',
  plane: 'image',
  verdict: 'good',
  reasons: [],
  parts: [],
  label: `${what}: 142° ± 12°`,
  plate: { value: '142° ± 12°', what },
  spoken: 'about 140 degrees',
})
const angle = (id: string, frame: number) => ({
  id,
  kind: 'joint-angle' as const,
  clip: 'c1',
  subject: 's1',
  frame,
  points: ['hip.left', 'knee.left', 'ankle.left'],
})
const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'T',
  output: { width: 640, height: 360, rate: '30/1' },
  footage: [{ id: 'f1', file: 'a.mp4' }],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [
    { id: 'c1', footage: 'f1', from: 0, to: 300, capture: 'unknown', name: 'Varga, ringside' },
    { id: 'c2', footage: 'f1', from: 0, to: 300, capture: 'unknown', bout: 'the second bout' },
  ],
  events: [
    { id: 'e1', clip: 'c1', name: 'plant', earliest: 5, latest: 6 },
    { id: 'e2', clip: 'c1', name: 'contact', earliest: 9, latest: 9 },
  ],
  measures: [
    angle('m1', 156),
    { ...angle('m2', 160), label: 'lead knee at contact' },
    { ...angle('m3', 156) },
    { id: 'm4', kind: 'path', clip: 'c2', subject: 's1', points: ['nose'], fromFrame: 3, toFrame: 9 },
    { id: 'm5', kind: 'time-between', clip: 'c1', from: 'e1', to: 'e2' },
    { id: 'm6', kind: 'count', what: 'heel up', set: 'all of the evening', cases: [] },
    { ...angle('m7', 170) },
  ],
  references: [
    { id: 'ref1', csl: { type: 'book', author: [{ family: 'Okafor' }, { family: 'Lind' }], issued: { 'date-parts': [[2019]] } } },
  ],
  script: [],
}
const names = recordNames(
  breakdown,
  new Map([
    ['m1', reading('m1', 'apparent lead knee angle, image plane')],
    ['m3', reading('m3', 'apparent lead knee angle, image plane')],
    ['m5', reading('m5', 'plant to contact')],
    ['m7', reading('m7', 'apparent lead knee angle, image plane')],
  ]),
)

it('should call a measure by its label, else by what it measures, when and where, and tell those of one name apart', () => {
  expect(['m1', 'm2', 'm3', 'm4', 'm5', 'm6', 'm7'].map(names.measure)).toEqual([
    'apparent lead knee angle, frame 156 of Varga, ringside (m1)',
    'lead knee at contact',
    'apparent lead knee angle, frame 156 of Varga, ringside (m3)',
    'path, frames 3 to 9 of the second bout',
    'plant to contact, Varga, ringside',
    'heel up',
    'apparent lead knee angle, frame 170 of Varga, ringside',
  ])
})

it('should call a reference by its short citation, and what is not there by its id', () => {
  expect([names.reference('ref1'), names.reference('ref9'), names.measure('m9'), names.event('e9'), names.clip('c9')]).toEqual([
    'Okafor and Lind 2019',
    'ref9',
    'm9',
    'e9',
    'c9',
  ])
})

it('should name evidence by what its records are called', () => {
  expect(
    (
      [
        { frame: 9, clip: 'c1' },
        { reading: 'm7' },
        { readings: ['m2', 'm7'] },
        { events: ['e1'] },
        { events: ['e1', 'e2'] },
        { count: 'm6' },
        { reference: 'ref1', at: 'p. 12' },
      ] as const
    ).map((each) =>
      evidenceInWords(
        'events' in each ? { events: [...each.events] } : 'readings' in each ? { readings: [...each.readings] } : each,
        names,
      ),
    ),
  ).toEqual([
    'frame 9 of Varga, ringside',
    'reading apparent lead knee angle, frame 170 of Varga, ringside',
    'two readings: lead knee at contact and apparent lead knee angle, frame 170 of Varga, ringside',
    'event plant',
    'events plant, contact',
    'count heel up',
    'reference Okafor and Lind 2019, p. 12',
  ])
})
