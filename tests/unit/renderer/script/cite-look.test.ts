import { expect, it } from 'vitest'
import type { Reference } from '../../../../app/project/reference'
import { citeLook } from '../../../../renderer/script/cite-look'

const of = (csl: Record<string, unknown>): Reference => ({ id: 'ref1', csl: { type: 'article-journal', ...csl } })
const words = (csl: Record<string, unknown>, at: string | null = null): string => citeLook(of(csl), 'ref1', at).words

// CSL-JSON names and dates: the Citation Style Language's schema, csl-data.json (from memory).
it('names authors and year as far as the reference has them, else its id', () => {
  expect(words({ author: [{ family: 'Okoro', given: 'A.' }], issued: { 'date-parts': [[2019, 3]] } })).toBe('Okoro 2019')
  expect(
    words({ author: [{ family: 'Okoro' }, { family: 'Beek', 'non-dropping-particle': 'van' }], issued: { 'date-parts': [['2019']] } }),
  ).toBe('Okoro and van Beek 2019')
  expect(words({ author: [{ family: 'Okoro' }, { family: 'Lind' }, { family: 'Ruiz' }], issued: { raw: 'March 2019' } }, 'p. 12')).toBe(
    'Okoro et al. 2019, p. 12',
  )
  expect(words({ author: [{ literal: 'Institute of  Gait' }] })).toBe('Institute of Gait')
  expect(words({ editor: [{ family: 'Lind' }], issued: { literal: 'in press' } })).toBe('Lind in press')
  expect(words({ author: 'Okoro', issued: 2019 })).toBe('ref1')
})

it('has the title at hand, and says where there is no such reference', () => {
  expect(citeLook(of({ title: 'Knee angles' }), 'ref1', null).title).toMatch(/^Knee angles\. /)
  expect(citeLook(of({}), 'ref1', null).title).toMatch(/^ref1\. /)
  expect(citeLook(undefined, 'ref9', null)).toMatchObject({ className: 'cite cite-missing', words: '◌ ref9' })
})
