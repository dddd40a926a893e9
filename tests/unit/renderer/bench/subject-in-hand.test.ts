import { expect, it } from 'vitest'
import type { Breakdown } from '../../../../app/project/breakdown'
import { subjectInHand } from '../../../../renderer/bench/subject-in-hand'

const point = (clip: string, subject: string, frame: number, name = 'hip.left') => ({
  clip,
  subject,
  point: name,
  samples: [{ frame, at: [10, 10] as [number, number] }],
})
const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Two on film',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [],
  subjects: [
    { id: 's1', name: 'Nela Varga' },
    { id: 's2', name: 'Ida Koss' },
    { id: 's3', name: 'Mara Holt' },
  ],
  clips: [],
  views: [{ clip: 'c1', subject: 's3', from: 0, to: 90, yaw: { deg: 0, u: 5 } }],
  landmarks: [point('c1', 's1', 10), point('c1', 's2', 60), point('c1', 's1', 61, 'floor.1'), point('c2', 's2', 5, 'floor.1')],
  script: [],
}

it('should keep the person in hand who was so last, where they are on the clip', () => {
  expect(subjectInHand(breakdown, 'c1', 12, 's2')).toBe('s2')
  expect(subjectInHand(breakdown, 'c1', 12, 's3')).toBe('s3')
  expect(subjectInHand(breakdown, 'c2', 5, 's1')).toBe('s2')
})

it('should else take whose points stand nearest to the frame, of two as near whose were placed first', () => {
  expect(subjectInHand(breakdown, 'c1', 12, null)).toBe('s1')
  expect(subjectInHand(breakdown, 'c1', 62, null)).toBe('s2')
  expect(subjectInHand(breakdown, 'c1', 35, null)).toBe('s1')
})

it('should take the first where only the hall was placed, and nobody where nothing was', () => {
  expect(subjectInHand(breakdown, 'c2', 0, null)).toBe('s2')
  expect(subjectInHand(breakdown, 'c3', 0, 's1')).toBeNull()
})
