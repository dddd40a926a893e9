import { expect, it } from 'vitest'
import { eventWords } from '../../../../renderer/bench/clip-now'

const events = [
  { name: 'load', earliest: 20, latest: 20 },
  { name: 'contact', earliest: 156, latest: 157 },
  { name: 'shoulders turn', earliest: 157, latest: 160 },
]

it('should say of a frame within a bracket which event and which frames, of all that meet there', () => {
  expect(eventWords(events, 20)).toBe('load: frame 20')
  expect(eventWords(events, 156)).toBe('contact: frames 156–157')
  expect(eventWords(events, 157)).toBe('contact: frames 156–157, shoulders turn: frames 157–160')
})

it('should say elsewhere the nearest event and how far it is, one ahead before one as far behind', () => {
  expect(eventWords(events, 152)).toBe('contact, 4 frames on')
  expect(eventWords(events, 161)).toBe('shoulders turn, 1 frame back')
  expect(eventWords(events, 88)).toBe('contact, 68 frames on')
  expect(eventWords([], 5)).toBe('')
})
