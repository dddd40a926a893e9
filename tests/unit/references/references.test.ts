import { describe, expect, it } from 'vitest'
import type { Reference } from '../../../app/project/reference'
import { readReferences } from '../../../main/references/read-references'
import { runsHtml } from '../../../app/release/text-run'
import { referenceTexts } from '../../../main/references/reference-text'

const BIBTEX = `@article{caruso2016, author={Caruso, Eugene M. and Burns, Zachary C. and Converse, Benjamin A.}, title={Slow motion increases perceived intent}, journal={Proceedings of the National Academy of Sciences}, year={2016}, volume={113}, number={33}, pages={9250--9255}, doi={10.1073/pnas.1603865113}}
@book{winter, author={Winter, David A.}, title={Biomechanics and Motor Control of Human Movement}, publisher={Wiley}, year={2009}}`

const read = (text: string, taken: string[] = []): Reference[] => {
  const result = readReferences(text, new Set(taken))
  if (!result.ok) throw result.error
  return result.value
}

describe('references', () => {
  it('should be read from BibTeX and printed by authors, year, title and place', () => {
    const references = read(BIBTEX)
    expect(references.map((r) => [r.id, r.csl.type])).toEqual([
      ['caruso2016', 'article-journal'],
      ['winter', 'book'],
    ])
    // The particulars of Caruso et al. 2016 as its publisher gives them: PNAS 113(33), 9250–9255.
    const [first, second] = referenceTexts(references)
    expect(first!.text).toBe(
      'Caruso EM, Burns ZC, Converse BA (2016). Slow motion increases perceived intent. Proceedings of the National Academy of Sciences, 113(33), 9250–9255. doi:10.1073/pnas.1603865113',
    )
    expect(first!.short).toBe('(Caruso et al. 2016)')
    expect(second!.text).toBe('Winter DA (2009). Biomechanics and Motor Control of Human Movement. Wiley')
  })

  it('should print books by their edition, parts of books by whose book, theses, reports and web pages as what they are', () => {
    // Entries of BibTeX's own example database (xampl.bib, O. Patashnik 1988, in every TeX distribution), and a web page by the
    // field names of BibLaTeX's manual (@online: url, urldate).
    const printed = referenceTexts(
      read(String.raw`
@BOOK{book-full, author = "Donald E. Knuth", title = "Seminumerical Algorithms", volume = 2, series = "The Art of Computer Programming", publisher = "Addison-Wesley", address = "Reading, Massachusetts", edition = "Second", year = "1981"}
@INCOLLECTION{incollection-full, author = "Daniel D. Lincoll", title = "Semigroups of Recurrences", editor = "David J. Lipcoll and D. H. Lawrie and A. H. Sameh", booktitle = "High Speed Computer and Algorithm Organization", number = 23, series = "Fast Computers", chapter = 3, type = "Part", pages = "179--183", publisher = "Academic Press", address = "New York", edition = "Third", month = sep, year = 1977}
@PHDTHESIS{phdthesis-full, author = "F. Phidias Phony-Baloney", title = "Fighting Fire with Fire: Festooning {F}rench Phrases", school = "Fanstord University", type = "{PhD} Dissertation", address = "Department of French", year = 1988}
@TECHREPORT{techreport-full, author = "Tom T{\'{e}}rrific", title = "A Sorting Algorithm", institution = "Fanstord University", type = "Wishful Research Result", number = "7", year = 1988}
@online{web, author = {Made, Up}, title = {Rules of the ring}, year = {2024}, url = {https://example.org/rules}, urldate = {2026-11-02}, organization = {Invented Federation}}`),
    )
    expect(printed.map(({ text }) => text)).toEqual([
      'Knuth DE (1981). Seminumerical Algorithms. vol. 2, Second edition, Addison-Wesley',
      'Lincoll DD (1977). Semigroups of Recurrences. In Lipcoll DJ, Lawrie DH, Sameh AH (eds.), High Speed Computer and Algorithm Organization, Third edition, 179–183, Academic Press',
      'Phony-Baloney FP (1988). Fighting Fire with Fire: Festooning French Phrases. PhD Dissertation, Fanstord University',
      'Térrific T (1988). A Sorting Algorithm. Wishful Research Result, Fanstord University',
      'Made U (2024). Rules of the ring. Invented Federation. https://example.org/rules, seen 2026-11-02',
    ])
    const [edited] = referenceTexts([
      {
        id: 'e',
        csl: {
          type: 'book',
          title: 'Made-up book',
          editor: [{ family: 'Made', given: 'Up' }],
          edition: '3',
          issued: { 'date-parts': [[2001]] },
        },
      },
    ])
    expect(edited!.text).toBe('Made U (2001). Made-up book. 3rd edition')
  })

  it('should be read from CSL-JSON, kept whole, under names that are free', () => {
    const item = {
      id: 'a b/c',
      type: 'article-journal',
      title: 'Made-up title',
      custom: { kept: [1, { deep: true }] },
      issued: { 'date-parts': [[2020]] },
    }
    const references = read(JSON.stringify([item, item]), ['a-b-c'])
    expect(references.map((r) => r.id)).toEqual(['a-b-c-2', 'a-b-c-3'])
    expect(references[0]!.csl).toEqual(item)
  })

  it('should fetch nothing and refuse what is no reference', () => {
    for (const text of [
      'https://example.org/a.bib',
      '10.1073/pnas.1603865113',
      '',
      '[]',
      '{"title": "no type"}',
      '{"type": 5}',
      '[1]',
      '@article{broken',
      '{{{{',
    ]) {
      const result = readReferences(text, new Set())
      expect(result.ok ? text : result.error.code).toBe('document-invalid')
    }
  })

  it('should show hostile text as text', () => {
    const hostile = ['<script>alert(1)</script>', '{\\an5}{\\pos(1,1)}', '=HYPERLINK("x")', '\u202Eabc', `${'long '.repeat(2000)}end`]
    const texts = referenceTexts(
      hostile.map((title, i) => ({
        id: `r${i}`,
        csl: { type: 'book', title, author: [{ literal: title }], issued: { 'date-parts': 'nonsense' } },
      })),
    )
    expect(texts).toHaveLength(hostile.length)
    expect(texts[0]!.text).toContain('<script>alert(1)</script>')
    expect(texts[1]!.text).toContain('an5')
    expect(texts[2]!.text).toContain('=HYPERLINK')
    expect(texts[3]!.text).toContain('\u202Eabc')
    expect(texts[4]!.text).toContain('long end')
  })

  it('should show the markup that CSL allows in a field as the style it stands for, plain where there is none, and any other as text', () => {
    const titles = [
      'Effects <i>in vivo</i> of H<sub>2</sub>O at 10<sup>-3</sup> and x<sup>th</sup>, <span style="font-variant: small-caps;">Caps</span> <b>bold</b>',
      '<img src=x onerror="alert(1)"> a<b & c>d &lt;i&gt; <i onclick="a()">x</i> <i>open</b>\uE0F0',
      '<i>out <b>in</b></i> <span class="nocase">pH</span> <i><script>y</script></i>',
    ]
    const [rich, hostile, nested] = referenceTexts(
      titles.map((title, i) => ({
        id: `r${i}`,
        csl: { type: 'book', title, author: [{ family: 'Made', given: 'Up' }], publisher: i === 1 ? 'Made & <b>Sons' : undefined },
      })),
    )
    expect(rich!.text).toBe('Made U. Effects in vivo of H₂O at 10⁻³ and xth, Caps bold')
    expect(rich!.runs.filter(({ as }) => as.length > 0)).toEqual([
      { text: 'in vivo', as: ['italic'] },
      { text: '2', as: ['subscript'] },
      { text: '-3', as: ['superscript'] },
      { text: 'th', as: ['superscript'] },
      { text: 'Caps', as: ['small-caps'] },
      { text: 'bold', as: ['bold'] },
    ])
    expect(runsHtml(rich!.runs)).toBe(
      'Made U. Effects <i>in vivo</i> of H<sub>2</sub>O at 10<sup>-3</sup> and x<sup>th</sup>, <span class="small-caps">Caps</span> <b>bold</b>',
    )
    expect(hostile!.text).toBe(
      'Made U. <img src=x onerror="alert(1)"> a<b & c>d &lt;i&gt; <i onclick="a()">x</i> <i>open</b>. Made & <b>Sons',
    )
    expect(hostile!.runs.every(({ as }) => as.length === 0)).toBe(true)
    expect(runsHtml(hostile!.runs)).not.toMatch(/<(?!span class="unseen">|\/span>)/)
    expect(nested!.runs.filter(({ as }) => as.length > 0)).toEqual([
      { text: 'out ', as: ['italic'] },
      { text: 'in', as: ['italic', 'bold'] },
      { text: '<script>y</script>', as: ['italic'] },
    ])
    expect(nested!.text).toContain('out in pH <script>y</script>')
  })
})
