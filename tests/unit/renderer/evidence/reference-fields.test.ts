import { describe, expect, it } from 'vitest'
import { correctedItem, fieldsOf, textsOf, WORK_KINDS } from '../../../../renderer/evidence/reference-fields'

const ITEM = {
  type: 'article-journal',
  title: 'Turning <i>in vivo</i>',
  author: [
    { family: 'Berg', 'non-dropping-particle': 'van den', given: 'A.' },
    { family: 'Lind', given: 'B.' },
    { literal: 'World Sport Body' },
  ],
  issued: { 'date-parts': [[2019, 4, 2]] },
  volume: 12,
  custom: { kept: [1] },
  abstract: 'long',
}

describe('the fields of a cited work', () => {
  it('should read as they stand', () => {
    expect(textsOf(ITEM)).toMatchObject({
      author: 'van den Berg, A.; Lind, B.; World Sport Body',
      year: '2019',
      title: 'Turning <i>in vivo</i>',
      volume: '12',
      editor: '',
    })
    expect(textsOf({ type: 'webpage', accessed: { 'date-parts': [[2026, 1, 5]] }, issued: { raw: 'spring 2020' } })).toMatchObject({
      accessed: '2026-01-05',
      year: 'spring 2020',
    })
  })

  it('should leave what was not touched as it was given', () => {
    expect(correctedItem(ITEM, ITEM.type, textsOf(ITEM))).toEqual(ITEM)
    expect(correctedItem(ITEM, ITEM.type, { ...textsOf(ITEM), author: 'van den Berg, A.; Lindt, B.', page: '12–19' })).toEqual({
      ...ITEM,
      author: [ITEM.author[0], { family: 'Lindt', given: 'B.' }],
      page: '12–19',
    })
  })

  it('should take a part away that was emptied, and another kind', () => {
    const item = correctedItem(ITEM, 'chapter', { ...textsOf(ITEM), volume: '', 'container-title': 'A book', editor: 'Made, Up' })
    expect(item).toMatchObject({
      type: 'chapter',
      'container-title': 'A book',
      editor: [{ family: 'Made', given: 'Up' }],
      custom: { kept: [1] },
    })
    expect(item).not.toHaveProperty('volume')
  })

  it('should take no year and no day that is none', () => {
    for (const [field, text] of [
      ['year', 'soon'],
      ['year', '0'],
      ['accessed', '2026-13-01'],
      ['accessed', 'yesterday'],
    ] as const)
      expect(correctedItem(ITEM, ITEM.type, { ...textsOf(ITEM), [field]: text })).toBeNull()
    expect(correctedItem(ITEM, 'webpage', { ...textsOf(ITEM), accessed: '2026-11-02' })).toMatchObject({
      accessed: { 'date-parts': [[2026, 11, 2]] },
    })
  })

  it('should show every field of a kind that is not offered', () => {
    expect(fieldsOf('motion_picture')).toEqual(expect.arrayContaining(Object.keys(WORK_KINDS).flatMap(fieldsOf)))
  })
})
