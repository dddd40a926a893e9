import { describe, expect, it } from 'vitest'
import type { RecordDiff } from '../../../app/edit/edit'
import { placeOfEdit } from '../../../app/edit/place-of-edit'
import type { Sample } from '../../../app/project/film'
import { stateOf } from '../../../app/edit/project-state'
import type { Breakdown } from '../../../app/project/breakdown'

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Where',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [],
  subjects: [],
  clips: [],
  script: [{ id: 'p1', text: ['Words.'] }],
}
const { script } = stateOf(breakdown)
const placeOf = (...diffs: RecordDiff[]) => placeOfEdit({ label: 'x', steps: [], diffs, selection: null }, script, script)

const clip = { id: 'c1', footage: 'f1', from: 0, to: 100, capture: 'unknown' } as const
const pack = (samples: Sample[]) => ({ clip: 'c1', subject: 's1', point: 'knee.left', pack: 0, samples })
const sample = (frame: number, x = 0): Sample => ({ frame, at: [x, 0] })
const subject: RecordDiff = { table: 'subjects', key: 's1', change: 'added', record: { id: 's1', name: 'Nela' }, after: null }

describe('the place of an edit', () => {
  it('should be the footage for films, clips and who is in them', () => {
    expect(placeOf({ table: 'clips', key: 'c1', change: 'added', record: clip, after: null })).toEqual({
      room: 'footage',
      paragraph: null,
      clip: 'c1',
      frame: null,
    })
    expect(placeOf({ table: 'footage', key: 'f1', change: 'added', record: { id: 'f1', file: 'a.mp4' }, after: null }).room).toBe('footage')
    expect(placeOf(subject).room).toBe('footage')
    expect(placeOf({ table: 'clips', key: 'c1', change: 'updated', from: clip, to: { ...clip, to: 90 } }).room).toBe('footage')
  })

  it('should be the Bench for how a clip’s camera stood and what is known of its hall', () => {
    const update = (to: object) => placeOf({ table: 'clips', key: 'c1', change: 'updated', from: clip, to: { ...clip, ...to } })
    expect([update({ roll: { deg: 2, u: 1 } }), update({ hall: { camera: 'still' } })].map(({ room, clip: of }) => [room, of])).toEqual([
      ['bench', 'c1'],
      ['bench', 'c1'],
    ])
  })

  it('should be the frame on which a point changed, not the first that was placed', () => {
    const [from, to] = [pack([sample(3), sample(40), sample(41)]), pack([sample(3), sample(40, 7), sample(41)])]
    const moved: RecordDiff = { table: 'packs', key: 'c1', change: 'updated', from, to }
    expect(placeOf(moved)).toEqual({ room: 'bench', paragraph: null, clip: 'c1', frame: 40 })
    expect(placeOf({ ...moved, to: pack([sample(3), sample(40)]) }).frame).toBe(41)
    expect(
      placeOf(
        { ...moved, change: 'removed', record: from, after: null },
        { table: 'clips', key: 'c1', change: 'removed', record: clip, after: null },
      ).room,
    ).toBe('footage')
    expect(placeOf(subject, { ...moved, change: 'added', record: pack([sample(7), sample(7, 1)]), after: null }).frame).toBe(7)
    expect(placeOf({ ...moved, to: pack([sample(3), sample(40, 7), sample(41, 7)]) })).toMatchObject({ clip: 'c1', frame: null })
  })

  it('should be Narration where what is heard changed, and the script where its pictures did', () => {
    const from = { id: 'p1', shots: [] }
    expect(placeOf({ table: 'paragraphs', key: 'p1', change: 'updated', from, to: { ...from, take: 'a.wav' } })).toMatchObject({
      room: 'narration',
      paragraph: 'p1',
    })
    expect(placeOf({ table: 'paragraphs', key: 'p1', change: 'updated', from, to: { ...from, title: { name: 'Nela' } } })).toMatchObject({
      room: 'script',
      paragraph: 'p1',
    })
    const settings = { title: 'Bout', output: { width: 320, height: 180, rate: '30/1' }, kept: [] }
    expect(
      placeOf({ table: 'settings', key: 'project', change: 'updated', from: settings, to: { ...settings, sound: { roomTone: 'a.wav' } } })
        .room,
    ).toBe('narration')
    expect(
      placeOf({ table: 'settings', key: 'project', change: 'updated', from: settings, to: { ...settings, title: 'Two bouts' } }).room,
    ).toBe('script')
  })
})
