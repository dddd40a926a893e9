import { expect, it } from 'vitest'
import { KeptPictures } from '../../../../renderer/bench/kept-pictures'

class Picture {
  closed = 0
  close(): void {
    this.closed++
  }
}

it('should close what a reading still brings after the end, and everything else once', () => {
  const kept = new KeptPictures<Picture>()
  const [taken, left, replaced, late] = [new Picture(), new Picture(), new Picture(), new Picture()]
  kept.keep(1, taken)
  kept.keep(2, replaced)
  kept.keep(2, left)
  expect(kept.take(1)).toBe(taken)
  expect(kept.take(1)).toBeNull()
  kept.end()
  kept.keep(3, late)
  expect(kept.has(3)).toBe(false)
  expect([taken, left, replaced, late].map(({ closed }) => closed)).toEqual([0, 1, 1, 1])
})
