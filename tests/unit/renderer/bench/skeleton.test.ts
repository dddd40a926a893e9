import { expect, it } from 'vitest'
import { boneLook, sideLook } from '../../../../renderer/bench/skeleton'

it('should tell lead from rear by colour and by shape both', () => {
  const [lead, rear] = [boneLook('limb', 'knee.left', 'left'), boneLook('limb', 'knee.right', 'left')]
  expect(lead.colour).not.toBe(rear.colour)
  expect([lead.hollow !== undefined, rear.hollow !== undefined]).toEqual([true, false])
  expect([sideLook('hip.left', 'left')?.colour, sideLook('hip.right', 'left')?.colour]).toEqual([lead.colour, rear.colour])
})

it('should tell left from right likewise while no lead side is stated, points and lines alike', () => {
  const [left, right] = [boneLook('limb', 'elbow.left', null), boneLook('limb', 'elbow.right', null)]
  expect(left.colour).not.toBe(right.colour)
  expect(left.hollow).not.toBe(right.hollow)
  expect([sideLook('elbow.left', null)?.colour, sideLook('elbow.right', null)?.colour]).toEqual([left.colour, right.colour])
  expect(sideLook('head.top', null)).toBeNull()
})
