import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { expect, it } from 'vitest'
import { calls } from '../../../app/contract/calls'
import { contractReference } from '../../../app/contract/reference'

const file = join(import.meta.dirname, '../../../docs/contract.md')

it('docs/contract.md is what the contract says', async () => {
  expect(existsSync(file)).toBe(true)
  await expect(contractReference()).toMatchFileSnapshot(file)
})

it('every call says what it does in a sentence', () => {
  for (const [name, { does }] of Object.entries(calls)) expect([name, /^[A-Z].{15,}\.$/su.test(does)]).toEqual([name, true])
})
