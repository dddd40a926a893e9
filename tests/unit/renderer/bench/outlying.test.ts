import { expect, it } from 'vitest'
import { outlyingOf } from '../../../../renderer/bench/outlying'

const at = (x: number, y = 0) => ({ frame: 1, at: [x, y] as [number, number] })

it('should ask about a placing that lies far from others that agree', () => {
  expect(outlyingOf([at(100), at(101), at(140)])).toEqual({ index: 2, away: 39.5 })
  expect(outlyingOf([at(100), at(60), at(101)])?.index).toBe(1)
})

it('should not ask about scatter, about two placings, or about three that all part', () => {
  expect(outlyingOf([at(100), at(104), at(98)])).toBeNull()
  expect(outlyingOf([at(100), at(160)])).toBeNull()
  expect(outlyingOf([at(100), at(130), at(160)])).toBeNull()
})
