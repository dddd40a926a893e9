import Ajv from 'ajv/dist/2020'
import fc from 'fast-check'
import { join } from 'node:path'
import { expect, it } from 'vitest'
import { breakdownSchema } from '../../../app/exchange/breakdown-schema'
import { breakdownArbitrary } from '../../breakdown-arbitrary'
import { validDocument } from '../../valid-document'

it('docs/breakdown.schema.json should be what the records are (vitest -u writes it anew)', async () => {
  await expect(breakdownSchema()).toMatchFileSnapshot(join(import.meta.dirname, '../../../docs/breakdown.schema.json'))
})

it('should take every valid document and refuse broken ones, in a validator of its own', () => {
  const validate = new Ajv({ strict: false, validateFormats: false }).compile(JSON.parse(breakdownSchema()) as object)
  fc.assert(
    fc.property(breakdownArbitrary, (breakdown) => void expect(validate(breakdown), JSON.stringify(validate.errors)).toBe(true)),
    { numRuns: 60 },
  )
  const broken: object[] = [
    {},
    { ...validDocument(), clips: 'many' },
    { ...validDocument(), colour: 'red' },
    { ...validDocument(), version: 2 },
    { ...validDocument(), measures: [{ id: 'm', kind: 'no-such-kind' }] },
  ]
  for (const document of broken) expect(validate(document)).toBe(false)
})
