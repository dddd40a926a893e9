import { existsSync, readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { kindPage, reasonPage } from '../../../app/measure/kind-page'
import { registry } from '../../../app/measure/registry'

const page = readFileSync('docs/measurement.md', 'utf8')

test('docs/measurement.md tells every kind as the registry has it', () => {
  expect(page).toContain(kindPage())
})

test('docs/measurement.md lists every reason as the table has it', () => {
  expect(page).toContain(reasonPage())
})

test('every kind has its drawn figure', () => {
  for (const kind of Object.keys(registry)) expect(existsSync(`docs/figures/${kind}.svg`), kind).toBe(true)
})
