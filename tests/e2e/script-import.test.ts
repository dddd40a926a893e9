import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import type { Inline } from '../../app/project/picture'
import { openPatternWindow, type PatternWindow } from '../pattern-window'
import { storedZip } from '../stored-zip'
import { barriersOn } from './barriers'

/// Scripts that were written elsewhere, brought in as files and pasted: what of them becomes words, and that nothing of them
/// is run, loaded or shown otherwise. The parts of the .docx are as ECMA-376 names them, the Markdown is CommonMark with
/// GitHub's tables, lists of tasks and struck words.

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Brought in',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [{ id: 'f1', file: 'bout.mp4' }],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: 30, capture: { factor: '1', u: 0 }, name: 'ringside' }],
  events: [
    { id: 'e0', clip: 'c1', name: 'plant', earliest: 5, latest: 5 },
    { id: 'e1', clip: 'c1', name: 'contact', earliest: 20, latest: 20 },
  ],
  measures: [{ id: 'm1', kind: 'frame-count', clip: 'c1', from: 'e0', to: 'e1' }],
  script: [{ id: 'p1', text: ['It takes ', { value: 'm1' }, ' from ', { cue: 'e0', word: 'plant' }, ' on.'] }],
}

let window: PatternWindow
/// What the page asked of anybody but its own engine.
const asked: string[] = []

beforeAll(async () => {
  window = await openPatternWindow({ films: { 'bout.mp4': { frames: 30, rate: '30' } }, breakdown })
  const { page } = window
  const own = new URL(page.url()).origin
  page.on(
    'request',
    (request) => void (!request.url().startsWith(own) && !/^(blob|data):/.test(request.url()) && asked.push(request.url())),
  )
  page.on('dialog', (dialog) => void (asked.push(`dialog ${dialog.message()}`), dialog.dismiss()))
})
afterAll(async () => window?.close())

const inline = (piece: Inline): string =>
  typeof piece === 'string'
    ? piece
    : 'note' in piece
      ? `(${piece.note})`
      : 'value' in piece
        ? `<${piece.value}>`
        : 'cue' in piece
          ? `[${piece.word}]`
          : '?'
/// The script as it was kept: headings behind #, what is not spoken in brackets.
const script = (): string[] =>
  window.engine.workspace.opened.project
    .breakdown()
    .script.map((row) => ('chapter' in row ? `# ${String(row.chapter)}` : row.text.map(inline).join('')))
const bring = async (name: string, buffer: Buffer): Promise<string[]> => {
  const before = script().length
  await window.page.getByLabel('Bring a script in').setInputFiles({ name, mimeType: 'application/octet-stream', buffer })
  await window.page.getByRole('button', { name: `Undo Bring ${name} in` }).waitFor()
  await window.page.getByText('all saved').waitFor()
  return script().slice(before)
}
/// What a paste at the end of the script makes of it, in a paragraph of its own.
const paste = async (kinds: Readonly<Record<string, string>>): Promise<string[]> => {
  const { page } = window
  await page
    .locator('.words p')
    .last()
    .click({ position: { x: 20, y: 12 } })
  await page.keyboard.press('Control+End')
  await page.keyboard.press('Enter')
  await page.getByText('all saved').waitFor()
  const before = script().length
  await page.evaluate((data) => {
    const clipboardData = new DataTransfer()
    for (const [kind, text] of Object.entries(data)) clipboardData.setData(kind, text)
    document
      .querySelector('.words .ProseMirror')!
      .dispatchEvent(new ClipboardEvent('paste', { clipboardData, bubbles: true, cancelable: true }))
  }, kinds)
  await expect
    .poll(() =>
      script()
        .slice(before - 1)
        .join(''),
    )
    .not.toBe('')
  await page.getByText('all saved').waitFor()
  return script().slice(before - 1)
}
const expectNothingDone = async (): Promise<void> => {
  expect(asked).toEqual([])
  expect(await window.page.evaluate(() => 'hurt' in globalThis)).toBe(false)
  expect(
    await window.page
      .locator('.words')
      .locator(':is(img, a, script, style, iframe, table, b, strong, em):not(.value *, .ProseMirror-separator)')
      .count(),
  ).toBe(0)
  expect(window.faults).toEqual([])
}

const W =
  'xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships" xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main" xmlns:wp="http://schemas.openxmlformats.org/drawingml/2006/wordprocessingDrawing" xmlns:pic="http://schemas.openxmlformats.org/drawingml/2006/picture"'
const TYPE = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships'
const run = (text: string, looks = ''): string =>
  `<w:r>${looks === '' ? '' : `<w:rPr>${looks}</w:rPr>`}<w:t xml:space="preserve">${text}</w:t></w:r>`
const paragraph = (runs: string, looks = ''): string => `<w:p>${looks === '' ? '' : `<w:pPr>${looks}</w:pPr>`}${runs}</w:p>`
const docx = (body: string): Buffer =>
  storedZip({
    '[Content_Types].xml':
      '<?xml version="1.0"?><Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/word/document.xml" ContentType="application/vnd.openxmlformats-officedocument.wordprocessingml.document.main+xml"/></Types>',
    '_rels/.rels': `<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r1" Type="${TYPE}/officeDocument" Target="word/document.xml"/></Relationships>`,
    'word/_rels/document.xml.rels': `<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r2" Type="${TYPE}/styles" Target="styles.xml"/><Relationship Id="r3" Type="${TYPE}/numbering" Target="numbering.xml"/><Relationship Id="r4" Type="${TYPE}/footnotes" Target="footnotes.xml"/><Relationship Id="r5" Type="${TYPE}/hyperlink" Target="javascript:globalThis.hurt=1" TargetMode="External"/><Relationship Id="r6" Type="${TYPE}/image" Target="http://films.example/seen.png" TargetMode="External"/></Relationships>`,
    'word/styles.xml': `<?xml version="1.0"?><w:styles ${W}><w:style w:type="paragraph" w:styleId="Kop1"><w:name w:val="heading 1"/></w:style><w:style w:type="paragraph" w:styleId="Heading2"><w:name w:val="heading 2"/></w:style></w:styles>`,
    'word/numbering.xml': `<?xml version="1.0"?><w:numbering ${W}><w:abstractNum w:abstractNumId="0"><w:lvl w:ilvl="0"><w:numFmt w:val="decimal"/></w:lvl><w:lvl w:ilvl="1"><w:numFmt w:val="bullet"/></w:lvl></w:abstractNum><w:num w:numId="1"><w:abstractNumId w:val="0"/></w:num></w:numbering>`,
    'word/footnotes.xml': `<?xml version="1.0"?><w:footnotes ${W}><w:footnote w:id="2">${paragraph(run('counted on the proxy'))}</w:footnote></w:footnotes>`,
    'word/document.xml': `<?xml version="1.0"?><w:document ${W}><w:body>${body}</w:body></w:document>`,
  })
const item = (level: number): string => `<w:numPr><w:ilvl w:val="${level}"/><w:numId w:val="1"/></w:numPr>`

it('should bring a .docx in as headings and paragraphs, without its looks, with what is not said as notes', async () => {
  const made = docx(
    [
      paragraph(run('The ') + run('load', '<w:b/>'), '<w:pStyle w:val="Kop1"/>'),
      paragraph(
        run('The rear heel ') + run('lifts', '<w:b/><w:i/><w:color w:val="FF0000"/><w:sz w:val="72"/>') + run(' before the hip turns.'),
      ),
      paragraph(run('first: plant'), item(0)) + paragraph(run('the heel'), item(1)) + paragraph(run('then: contact'), item(0)),
      paragraph(run('The turn'), '<w:pStyle w:val="Heading2"/>'),
      paragraph(
        run('Kept ') +
          `<w:del w:id="1" w:author="x"><w:r><w:delText>never said </w:delText></w:r></w:del><w:ins w:id="2" w:author="x">${run('and put in ')}</w:ins>` +
          run('later.'),
      ),
      paragraph(run('We say this ') + run('and not this', '<w:strike/>') + run(' once.')),
      paragraph(run('Nineteen frames') + '<w:r><w:footnoteReference w:id="2"/></w:r>' + run(' it is.')),
      paragraph(
        run('above') +
          '<w:r><w:br/></w:r>' +
          run('below') +
          '<w:r><w:br w:type="page"/></w:r>' +
          run('overleaf') +
          '<w:r><w:tab/></w:r>' +
          run('aside'),
      ),
      `<w:tbl><w:tr><w:tc>${paragraph(run('left'))}</w:tc><w:tc>${paragraph(run('right'))}</w:tc></w:tr></w:tbl>`,
      paragraph(run('   ')) + paragraph(''),
    ].join(''),
  )
  expect(await bring('load.docx', made)).toEqual([
    '# The load',
    'The rear heel lifts before the hip turns.',
    'first: plant',
    'the heel',
    'then: contact',
    '# The turn',
    'Kept and put in later.',
    'We say this (and not this) once.',
    'Nineteen frames( counted on the proxy) it is.',
    'above',
    'below',
    'overleaf aside',
    'left',
    'right',
  ])
  await expectNothingDone()
})

it('should run and load nothing of a hostile .docx, and show its words as words', async () => {
  const picture =
    '<w:r><w:drawing><wp:inline><a:graphic><a:graphicData><pic:pic><pic:blipFill><a:blip r:link="r6"/></pic:blipFill></pic:pic></a:graphicData></a:graphic></wp:inline></w:drawing></w:r>'
  const body =
    paragraph(run('&lt;script&gt;globalThis.hurt = 1&lt;/script&gt; &lt;img src=x onerror="globalThis.hurt=1"&gt;')) +
    paragraph(`<w:hyperlink r:id="r5">${run('the link')}</w:hyperlink>`) +
    paragraph(run('a picture') + picture) +
    paragraph(run('turned \u202Eround\u202C, un\u200Bseen, \uFDD0bare\uFDD1'))
  expect(await bring('hostile.docx', docx(body))).toEqual([
    '<script>globalThis.hurt = 1</script> <img src=x onerror="globalThis.hurt=1">',
    'the link',
    'a picture',
    'turned round, unseen, bare',
  ])
  await expectNothingDone()
})

it('should bring Markdown in, and nothing that stands in its HTML', async () => {
  const text = [
    '---',
    'title: not said',
    'tags: [a, b]',
    '---',
    '',
    '# The *load*',
    '',
    'A **rear** heel with `code`,',
    'on [two](javascript:globalThis.hurt=1) lines.',
    '',
    '- first',
    '  - within',
    '- [ ] to do',
    '',
    '1. one',
    '2. two',
    '',
    '> said by her',
    '',
    '| a | b |',
    '|---|---|',
    '| c | d |',
    '',
    'It is ~~not~~ so &amp; so.',
    '',
    '<script>globalThis.hurt = 1</script>',
    '',
    '<img src="http://films.example/x.png" onerror="globalThis.hurt=1"> ![a picture](http://films.example/y.png)',
    '',
    '<div hidden>unseen</div><div style="display:none">unseen too</div><iframe src="http://films.example/"></iframe>',
    '',
    '<!-- a remark -->',
    '',
    '<svg><script>globalThis.hurt=1</script><text>drawn</text></svg>',
    '',
    '```',
    'two',
    'lines',
    '```',
    '',
    'Last',
    '====',
  ].join('\n')
  expect(await bring('load.md', Buffer.from(text))).toEqual([
    '# The load',
    'A rear heel with code, on two lines.',
    'first',
    'within',
    'to do',
    'one',
    'two',
    'said by her',
    'a',
    'b',
    'c',
    'd',
    'It is (not) so & so.',
    'two lines',
    '# Last',
  ])
  await expectNothingDone()
})

it.each([
  ['UTF-8 with a mark', Buffer.from('\uFEFFDer Fuß\r\nsteht.\r\n \r\nZwei', 'utf8')],
  ['UTF-16 with a mark', Buffer.from('\uFEFFDer Fuß\r\nsteht.\r\n \r\nZwei', 'utf16le')],
  ['UTF-16, the other way round', Buffer.from('\uFEFFDer Fuß\r\nsteht.\r\n \r\nZwei', 'utf16le').swap16()],
  ['Windows 1252', Buffer.from('Der Fuß\r\nsteht.\r\n \r\nZwei', 'latin1')],
])('should read plain text in %s, a paragraph for each run of lines', async (_what, bytes) => {
  expect(await bring('fuss.txt', bytes)).toEqual(['Der Fuß steht.', 'Zwei'])
  await window.page.getByRole('button', { name: 'Undo Bring fuss.txt in' }).click()
  await window.page.getByRole('button', { name: 'Undo Bring fuss.txt in' }).waitFor({ state: 'detached' })
})

it('should keep a text without an end in pieces that can be kept, and no character cut in two', async () => {
  const rows = await bring('long.txt', Buffer.from(`${'word '.repeat(30_000)}\n\n${'🥊'.repeat(15_000)}`))
  expect(rows.join('').replaceAll(' ', '')).toBe('word'.repeat(30_000) + '🥊'.repeat(15_000))
  expect(rows.filter((row) => row.length > 20_000 || /\p{Surrogate}/u.test(row))).toEqual([])
  expect(rows.filter((row) => /^ord|wor?$/.test(row))).toEqual([])
  await window.page.getByRole('button', { name: 'Undo Bring long.txt in' }).click()
})

it.each([
  ['nothing.docx', Buffer.from('no zip at all'), 'nothing.docx cannot be read as a script. Plain text, Markdown and .docx can.'],
  ['empty.docx', storedZip({ 'a.txt': 'no document' }), 'empty.docx cannot be read as a script. Plain text, Markdown and .docx can.'],
  [
    'film.txt',
    Buffer.from([0, 0, 0, 24, 0x66, 0x74, 0x79, 0x70]),
    'film.txt cannot be read as a script. Plain text, Markdown and .docx can.',
  ],
  ['paper.pdf', Buffer.from('%PDF-1.7'), 'paper.pdf cannot be read as a script. Plain text, Markdown and .docx can.'],
  ['rich.txt', Buffer.from('{\\rtf1 words}'), 'rich.txt cannot be read as a script. Plain text, Markdown and .docx can.'],
  ['blank.md', Buffer.from('\n\n<!-- nothing -->\n'), 'blank.md has no words in it.'],
])('should say of %s that it is no script, and change nothing', async (name, bytes, words) => {
  const before = script()
  await window.page.getByLabel('Bring a script in').setInputFiles({ name, mimeType: 'text/plain', buffer: bytes })
  await window.page.getByText(words, { exact: true }).waitFor()
  expect(script()).toEqual(before)
})

it('should clean what is pasted from a word processor and a page', async () => {
  const word = `<html xmlns:o="urn:schemas-microsoft-com:office:office"><head><style>p{color:red}</style></head><body><!--StartFragment--><h4>A heading</h4><p class=MsoNormal style='mso-list:l0 level1 lfo1'><span style='mso-list:Ignore'>1.<span>&nbsp;&nbsp; </span></span><b>First</b> of <i>all</i><o:p></o:p></p><p style="display:none">unseen</p><p>she <del>never</del> said</p><!--EndFragment--></body></html>`
  expect(await paste({ 'text/html': word, 'text/plain': 'x' })).toEqual(['# A heading', 'First of all', 'she (never) said'])
  const page =
    '<div onclick="globalThis.hurt=1">One<br>two <img src="http://films.example/z.png" onerror="globalThis.hurt=1"><script>globalThis.hurt=1</script><textarea>typed</textarea><button>Press</button></div><style>*{background:url(http://films.example/b)}</style>'
  expect(await paste({ 'text/html': page, 'text/plain': 'x' })).toEqual(['One', 'two'])
  expect(await paste({ 'text/plain': 'plain <b>text</b>\nand more\n\nnext' })).toEqual(['plain <b>text</b> and more', 'next'])
  await expectNothingDone()
  expect(await barriersOn(window.page)).toEqual([])
})

it('should take for its own only what is the script’s own, and paste that with its values and cues', async () => {
  const { page } = window
  // Another program's editor marks what it copies in the same way.
  const other =
    '<p data-pm-slice="1 1 []">Ninety <span data-value="m1">9</span><table><tr><td>cell</td></tr></table><h5>Head</h5><img src=x onerror="globalThis.hurt=1"></p>'
  expect(await paste({ 'text/html': other, 'text/plain': 'x' })).toEqual(['Ninety 9', 'cell', '# Head'])
  await page
    .locator('.words p')
    .first()
    .click({ position: { x: 20, y: 12 } })
  const copied = await page.evaluate(() => {
    const paragraph = document.querySelector('.words .ProseMirror p')!
    getSelection()!.selectAllChildren(paragraph)
    return new Promise<string>((done) =>
      setTimeout(() => {
        const clipboardData = new DataTransfer()
        paragraph.dispatchEvent(new ClipboardEvent('copy', { clipboardData, bubbles: true, cancelable: true }))
        done(clipboardData.getData('text/html'))
      }, 300),
    )
  })
  expect(copied).toContain('data-pm-slice')
  expect(await paste({ 'text/html': copied, 'text/plain': 'x' })).toEqual(['It takes <m1> from [plant] on.'])
  // What names a measure that there is none of is no reason to lose what is written next.
  const forged = '<p data-pm-slice="1 1 []" data-paragraph="p1">forged <span data-value="none">9</span></p>'
  await paste({ 'text/html': forged, 'text/plain': 'x' })
  await page.keyboard.type(' and on')
  await expect.poll(() => script().at(-1)).toMatch(/and on$/)
  await page.getByText('all saved').waitFor()
  await expectNothingDone()
})
