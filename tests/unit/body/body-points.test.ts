import { expect, it } from 'vitest'
import { bodyPoints, bones, definitionOf, placingOrder, pointGroups } from '../../../app/body/body-points'
import { LandmarkName } from '../../../app/project/fields'

it('should name points as the document does, and say where each lies', () => {
  const names = placingOrder('whole body', null)
  expect(new Set(names).size).toBe(19)
  for (const name of names) expect([name, LandmarkName.safeParse(name).success, definitionOf(name) !== null]).toEqual([name, true, true])
  expect(definitionOf('ring.corner.1')).toBeNull()
})

it('should begin with the rear side', () => {
  expect(placingOrder('legs', 'left')[0]).toBe('hip.right')
  expect(placingOrder('legs', 'right')[0]).toBe('hip.left')
  expect(placingOrder('hips and shoulders', null)).toEqual(['shoulder.left', 'hip.left', 'shoulder.right', 'hip.right'])
})

it('should draw bones between points of the list only', () => {
  const names = new Set(placingOrder('whole body', null))
  for (const { from, to } of bones) expect([from, names.has(from), to, names.has(to)]).toEqual([from, true, to, true])
  for (const places of Object.values(pointGroups)) for (const place of places) expect(bodyPoints.some((p) => p.place === place)).toBe(true)
})
