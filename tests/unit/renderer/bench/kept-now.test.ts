import { expect, it } from 'vitest'
import type { Measure } from '../../../../app/project/question'
import { keptNow } from '../../../../renderer/bench/kept-now'
import { reading } from '../../script/sample-script'

const knee: Measure = {
  id: 'm1',
  kind: 'joint-angle',
  clip: 'c1',
  subject: 's1',
  frame: 10,
  points: ['hip.left', 'knee.left', 'ankle.left'],
}
const compared: Measure = { id: 'm2', kind: 'comparison', measures: ['m1', 'm3'] }
const measured = reading('m1', '142° ± 12°', 'about 140 degrees')
const refused = reading('m1', 'not measured', 'not measured', { verdict: 'refused', value: null, u: null, U: null, low: null, high: null })

it('should keep a value that is measured, also one that is a range alone', () => {
  expect(keptNow(knee, measured, null)).toEqual({ keeps: true, says: null })
  expect(keptNow(knee, reading('m1', 'roughly 20–70°', '', { verdict: 'range' }), null)).toEqual({ keeps: true, says: null })
})

it('should keep nothing of what is not measured, and say why', () => {
  expect(keptNow(knee, refused, null)).toMatchObject({ keeps: false, says: expect.stringContaining('no value to keep') as string })
  expect(keptNow(compared, refused, null).keeps).toBe(false)
})

it('should keep a margin before the other value is measured, and say that it is the margin', () => {
  const margin = { delta: 30, before: true }
  expect(keptNow({ ...compared, margin } as Measure, refused, null)).toMatchObject({
    keeps: true,
    says: expect.stringContaining('how near counts as the same') as string,
  })
})

it('should let what was kept be changed, and say that it has no value', () => {
  expect(keptNow(knee, refused, knee)).toMatchObject({ keeps: true, says: expect.stringContaining('no value') as string })
})
