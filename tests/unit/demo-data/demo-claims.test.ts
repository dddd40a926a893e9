import { expect, it } from 'vitest'
import { holdsBack } from '../../../app/script/claims/finding'
import { letStand, rewordedNotices } from '../../../app/release/notices'
import { findingsOf } from '../../../app/script/claims/findings'
import { demoFilm } from '../../demo-film'

it('the demo says nothing that holds its film back', () => {
  const { breakdown, readings } = demoFilm()
  expect(
    findingsOf(breakdown, readings)
      .filter(holdsBack)
      .map(({ problem, sentence }) => `${sentence}: ${problem}`),
  ).toEqual([])
  expect(rewordedNotices(breakdown).map((each) => letStand(breakdown, each)?.id)).toEqual(['override1', 'override2'])
  expect(findingsOf({ ...breakdown, claims: [] }, readings).filter(holdsBack).length).toBeGreaterThan(0)
})
