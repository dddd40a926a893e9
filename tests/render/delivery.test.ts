import { createHash } from 'node:crypto'
import { copyFile, mkdtemp, readdir, readFile, rename, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import axe from 'axe-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { CodedError } from '../../app/errors/coded-error'
import type { Breakdown } from '../../app/project/breakdown'
import { answerAt, type FilmAnswer } from '../../app/release/answer'
import type { EvidenceReport } from '../../app/release/evidence-report'
import type { Manifest } from '../../app/release/manifest'
import { FilmLibrary } from '../../main/media/film-library'
import { fileUrl } from '../../main/media/file-url'
import { findFfmpeg, type FfmpegTool } from '../../main/media/find-ffmpeg'
import { runFfmpeg, streamFfmpeg } from '../../main/media/process'
import { deliver, type Delivery } from '../../main/release/deliver'
import { filmFaces } from '../../main/render/faces'
import { findTakes } from '../../main/render/takes'
import { startChromium } from '../chromium'
import { drawPattern, makePatternFilm, readPattern } from '../film-patterns'

let folder: string
let tool: FfmpegTool
let made: Delivery
const HOSTILE = '<img src=x onerror=alert(1)> {\\an8}{\\p1} =2+5 "quoted" \u202Edesrever\u202C & co'

const sample = (point: string, at: [number, number]) => ({
  clip: 'c1',
  subject: 's1',
  point,
  samples: [
    { frame: 33, at, sigma: 1 },
    { frame: 34, at: [at[0] + 1, at[1]] as [number, number], sigma: 1 },
    { frame: 35, at: [at[0] + 2, at[1]] as [number, number], sigma: 1 },
  ],
})

function breakdown(): Breakdown {
  return {
    format: 'claimframe-breakdown',
    version: 1,
    title: 'Two numbers',
    question: `Which frame is it? ${HOSTILE}`,
    output: { width: 640, height: 360, rate: '30/1' },
    footage: [
      {
        id: 'f1',
        file: 'numbers.mp4',
        source: { owner: 'Lantern Yard', where: 'club ring', when: 'open evening', basis: 'with leave', credit: HOSTILE },
      },
    ],
    subjects: [{ id: 's1', name: HOSTILE }],
    clips: [
      { id: 'c1', footage: 'f1', from: 0, to: 90, name: 'the numbers', capture: { factor: '1', u: 0 }, use: { state: 'used' } },
      { id: 'c2', footage: 'f1', from: 0, to: 90, capture: 'unknown', use: { state: 'rejected', reason: HOSTILE } },
    ],
    views: [{ clip: 'c1', subject: 's1', from: 0, to: 90, lead: 'left' }],
    events: [
      { id: 'plant', clip: 'c1', name: 'plant', earliest: 20, latest: 22 },
      { id: 'contact', clip: 'c1', name: 'contact', earliest: 40, latest: 41 },
    ],
    landmarks: [sample('hip.left', [200, 40]), sample('knee.left', [215, 180]), sample('ankle.left', [200, 320])],
    measures: [
      { id: 'knee', kind: 'joint-angle', clip: 'c1', subject: 's1', frame: 34, points: ['hip.left', 'knee.left', 'ankle.left'] },
      { id: 'gap', kind: 'frame-count', clip: 'c1', from: 'plant', to: 'contact' },
    ],
    script: [
      { chapter: 'The gap' },
      {
        id: 'p1',
        text: ['From plant to contact it takes ', { value: 'gap' }, '. Here stands ', HOSTILE.replace('=2+5', 'and') + '.'],
        shots: [
          { run: 'c1', from: 10, to: 14, speed: '1/4' },
          { hold: 'c1', at: 25, seconds: '11' },
        ],
      },
      { chapter: 'The knee' },
      {
        id: 'p2',
        text: ['The knee stands at ', { value: 'knee' }, '.'],
        shots: [
          { hold: 'c1', at: 34, seconds: '10', marks: ['knee'] },
          { card: 'text', lines: [HOSTILE], seconds: '1' },
        ],
      },
      { chapter: 'A number' },
      {
        id: 'p3',
        text: ['x'.repeat(60) + ' '.repeat(1) + 'word '.repeat(40)],
        shots: [
          { hold: 'c1', at: 77, seconds: '10' },
          { card: 'end', seconds: '4' },
        ],
      },
    ],
    claims: [
      {
        id: 'k1',
        on: { part: 'sentence', paragraph: 'p1', words: 'From plant to contact it takes {gap}.' },
        classes: ['C'],
        evidence: [{ events: ['contact', 'plant'] }, { frame: 62, clip: 'c1' }, { reference: 'r1', at: 'p. 12' }],
        state: 'confirmed',
        by: 'me',
        when: '2026-11-25',
      },
      {
        id: 'k2',
        on: { part: 'sentence', paragraph: 'p2', words: 'The knee stands at {knee}.' },
        classes: ['A'],
        state: 'confirmed',
        by: 'the analyst',
        when: '2026-11-24',
      },
    ],
    references: [
      { id: 'unused', csl: { type: 'book', title: 'Cited nowhere' } },
      {
        id: 'r1',
        csl: { type: 'article-journal', title: HOSTILE, author: [{ family: 'Varga', given: 'N' }], issued: { 'date-parts': [[2020]] } },
        finding: HOSTILE,
        population: 'dummies',
        limits: 'one gym',
      },
    ],
    overrides: [{ id: 'o1', finding: 'no-full-speed-run', problem: 'no run', reason: HOSTILE, by: 'me', when: '2026-11-25' }],
  }
}

async function deliverIt(
  target: string,
  document: Breakdown,
  signal?: AbortSignal,
  keep: string | null = join(folder, 'releases'),
): Promise<Delivery> {
  const library = new FilmLibrary(tool, folder, join(folder, 'cache'), 'confined', signal)
  return deliver({
    breakdown: document,
    library,
    faces: await filmFaces(),
    takes: await findTakes(document, { library, folder }),
    cache: join(folder, 'cache'),
    folder: target,
    keep,
    id: 'release-1',
    version: 'first',
    now: '2026-11-25T12:00:00.000Z',
    projectVersion: 7,
    signal,
  })
}

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'delivery-'))
  tool = await findFfmpeg()
  await makePatternFilm(tool, join(folder, 'numbers.mp4'), { frames: 90, rate: '30', width: 640, height: 360 })
  made = await deliverIt(join(folder, 'out'), breakdown())
})

afterAll(() => rm(folder, { recursive: true, force: true }))

const text = (name: string): Promise<string> => readFile(join(made.folder, name), 'utf8')

describe('a delivery', () => {
  it('is one folder whose manifest names every file with its checksum', async () => {
    const manifest = JSON.parse(await text('manifest.json')) as Manifest
    const names = (await readdir(made.folder, { recursive: true, withFileTypes: true }))
      .filter((e) => e.isFile())
      .map((e) =>
        join(e.parentPath, e.name)
          .slice(made.folder.length + 1)
          .replaceAll('\\', '/'),
      )
    expect(names.sort()).toEqual([...manifest.files.map((f) => f.name), 'manifest.json'].sort())
    for (const file of manifest.files)
      expect(
        createHash('sha256')
          .update(await readFile(join(made.folder, file.name)))
          .digest('hex'),
        file.name,
      ).toBe(file.sha256)
    expect(names.filter((n) => !n.startsWith('stills/')).sort()).toEqual(
      [
        'checks.json',
        'curves/knee.png',
        'curves/knee.svg',
        'evidence.html',
        'evidence.json',
        'manifest.json',
        ...['-chapters.txt', '-description.txt', '-readings.csv', '-thumbnail.png', '.edl', '.json', '.mp4', '.otio', '.srt', '.vtt'].map(
          (end) => `two-numbers${end}`,
        ),
      ].sort(),
    )
  })

  it('leaves nothing behind when it is cancelled, and never replaces a folder', async () => {
    await expect(deliverIt(join(folder, 'out'), breakdown())).rejects.toMatchObject({ code: 'file-exists' })
    const stop = new AbortController()
    setTimeout(() => stop.abort(), 700)
    await expect(
      deliverIt(join(folder, 'second'), { ...breakdown(), title: 'Other' }, stop.signal, join(folder, 'kept-second')),
    ).rejects.toBeInstanceOf(CodedError)
    const left = await readdir(folder)
    expect(left.filter((name) => name.startsWith('second') || name.startsWith('kept-second/'))).toEqual([])
    expect((await readdir(join(folder, 'kept-second')).catch(() => [])).length).toBe(0)
  })

  it('is held back by a number that no reading stands behind, and by a missing end card unless that was decided', async () => {
    const typed = breakdown()
    const cut = (b: Breakdown): Breakdown => ({
      ...b,
      script: b.script.map((row) => ('text' in row && row.id === 'p3' ? { ...row, shots: row.shots!.slice(0, 1) } : row)),
    })
    await expect(
      deliverIt(join(folder, 'typed'), { ...typed, script: [...typed.script, { id: 'p4', text: ['The knee is at 145 degrees.'] }] }),
    ).rejects.toMatchObject({ code: 'held-back' })
    await expect(deliverIt(join(folder, 'cut'), cut(breakdown()))).rejects.toMatchObject({ code: 'held-back' })
  })

  it('has chapters from 0:00, three and of ten seconds each, in the description, with sources, references and the health note', async () => {
    expect(made.told).toEqual([])
    const description = await text('two-numbers-description.txt')
    expect(description).toMatch(/Chapters\n0:00 The gap\n0:1\d The knee\n0:\d\d A number\n/)
    for (const part of [
      'The question',
      'How it was measured',
      'Footage',
      'Clips belong to their owners.',
      'References\n1. Varga N',
      'Health\nThis is not medical advice',
    ])
      expect(description).toContain(part)
    expect(description).not.toMatch(/[\u202a-\u202e]/)
  })

  it('answers "0:0x, how do you know?" from what is kept, with the footage gone', async () => {
    await rename(join(folder, 'numbers.mp4'), join(folder, 'gone.mp4'))
    try {
      const found = answerAt({ ...breakdown(), releases: [made.release] }, '00:06, how do you know?') as FilmAnswer
      expect(found.sentence.words).toMatch(/^From plant to contact it takes 19\.5 frames ± 1\.5\.$/)
      expect(found.sentence.classes).toEqual(['C'])
      expect(found.events.map((e) => [e.name, e.earliest, e.latest])).toEqual([
        ['plant', 20, 22],
        ['contact', 40, 41],
      ])
      expect(found.values[0]).toMatchObject({ measure: 'gap', kind: 'frame-count' })
      expect(found.values[0]!.parts.length).toBeGreaterThan(0)
      expect([found.release.project, found.release.version, found.film?.sha256]).toEqual([
        7,
        'first',
        createHash('sha256')
          .update(await readFile(join(made.folder, 'two-numbers.mp4')))
          .digest('hex'),
      ])
      expect(found.stills.map(({ frame }) => frame).sort()).toEqual([20, 22, 40, 41, 62])
      for (const still of found.stills)
        expect(still).toMatchObject({ file: 'numbers.mp4', at_s: expect.closeTo((still.frame ?? 0) / 30, 6) as number })
      const knee = answerAt({ ...breakdown(), releases: [made.release] }, '00:20') as FilmAnswer
      expect([knee.sentence.classes, knee.sentence.byHand]).toEqual([['A'], { suggested: ['B'], by: 'the analyst', when: '2026-11-24' }])
      for (const still of found.stills)
        expect((await readFile(join(folder, 'releases/release-1', still.name))).length).toBeGreaterThan(1000)
    } finally {
      await rename(join(folder, 'gone.mp4'), join(folder, 'numbers.mp4'))
    }
  })

  it('takes a moved copy of the footage for the same film, and a re-encoded one for another', async () => {
    const { sampledIdentity, fullHash } = await import('../../main/media/identity')
    const copy = join(folder, 'moved.mp4')
    await copyFile(join(folder, 'numbers.mp4'), copy)
    const again = join(folder, 'again.mp4')
    await runFfmpeg(tool, ['-v', 'error', '-y', '-i', fileUrl(copy), '-c:v', 'libx264', '-crf', '30', fileUrl(again)])
    const recorded = made.release.footage[0]!.sha256
    expect(await fullHash(copy)).toBe(recorded)
    expect(await sampledIdentity(copy)).toBe(await sampledIdentity(join(folder, 'numbers.mp4')))
    expect(await fullHash(again)).not.toBe(recorded)
    expect(await sampledIdentity(again)).not.toBe(await sampledIdentity(copy))
  })
})

async function greyJpeg(path: string): Promise<Buffer> {
  const chunks: Buffer[] = []
  await streamFfmpeg(tool, ['-v', 'error', '-i', fileUrl(path), '-f', 'rawvideo', '-pix_fmt', 'gray', 'pipe:1'], {
    onStdout: (chunk) => void chunks.push(chunk),
  })
  return Buffer.concat(chunks)
}

function nearest(pixels: Buffer, width: number, height: number): number {
  const distance = (frame: number): number => {
    const wanted = drawPattern(frame, width, height)
    return pixels.reduce((sum, level, i) => sum + Math.abs(level - (wanted[i] as number)), 0)
  }
  return Array.from({ length: 90 }, (_, frame) => ({ frame, off: distance(frame) })).sort((x, y) => x.off - y.off)[0]!.frame
}

describe('the evidence report', () => {
  it('holds exactly the frames that it names, read off their pixels', async () => {
    const report = JSON.parse(await text('evidence.json')) as EvidenceReport
    const stills = [...new Map(report.entries.flatMap((e) => e.stills).map((s) => [s.name, s])).values()]
    expect(stills.length).toBe(6)
    const page = await text('evidence.html')
    const embedded = [...page.matchAll(/data:image\/jpeg;base64,([A-Za-z0-9+/=]+)" alt="frame (\d+) of/g)]
    expect(embedded.length).toBe(stills.length)
    for (const [, data, frame] of embedded) {
      const file = join(folder, `embedded-${frame}.jpg`)
      await writeFile(file, Buffer.from(data!, 'base64'))
      const pixels = await greyJpeg(file)
      const [width, height] = [640, 360]
      // Where nothing is drawn the number is read whole; a measure's lines and plate cover parts of it: there the frame is the one
      // of all ninety that it is nearest to.
      if (frame === '34') expect(nearest(pixels, width, height)).toBe(34)
      else expect(readPattern(pixels, width, height), `frame ${frame}`).toBe(Number(frame))
      expect(stills.some((s) => s.frame === Number(frame))).toBe(true)
    }
  })

  it('names sentence, class, value, error, clip, frame, time and source', async () => {
    const report = JSON.parse(await text('evidence.json')) as EvidenceReport
    const [first] = report.entries
    expect(first).toMatchObject({ classes: ['C'], state: 'confirmed', paragraph: 'p1' })
    expect(first!.stills[0]).toMatchObject({ clip: 'c1', clipName: 'the numbers', footage: 'numbers.mp4' })
    // In the order in which they happened, whichever the claim names first.
    expect(first!.stills.map(({ frame }) => frame)).toEqual([20, 22, 40, 41, 62])
    expect(first!.events.map(({ name }) => name)).toEqual(['plant', 'contact'])
    expect(first!.stills.find((s) => s.frame === 20)!.at_s).toBeCloseTo(20 / 30, 6)
    expect(report.clips.find((c) => c.id === 'c2')).toMatchObject({ state: 'rejected' })
    expect(report.sources[0]).toMatchObject({ owner: 'Lantern Yard', basis: 'with leave' })
    expect(first!.references).toEqual([{ id: 'r1', at: 'p. 12' }])
    // An override that names what is not so (any more) lets nothing stand; what is open is told, and none of it holds.
    expect([report.overrides, report.counts.overridden, report.counts.holding]).toEqual([[], 0, 0])
    expect(report.open.map(({ problem }) => problem).join()).toContain('full speed')
    expect(report.counts.open).toBe(report.open.length)
    expect(made.manifest.files.find(({ name }) => name.endsWith('.otio'))!.what).toMatch(
      /as they lie beside the project, not in this folder/,
    )
    expect(await text('two-numbers-description.txt')).not.toContain('Cited nowhere')
  })

  it('opens from disk without a network, passes axe, and shows hostile text as text', async () => {
    const browser = await startChromium()
    try {
      const context = await browser.newContext({ offline: true, bypassCSP: true, viewport: { width: 1000, height: 900 } })
      const page = await context.newPage()
      const asked: string[] = []
      page.on('request', (request) => asked.push(request.url()))
      let dialogs = 0
      page.on('dialog', (dialog) => (dialogs++, void dialog.dismiss()))
      await page.goto(`file://${join(made.folder, 'evidence.html')}`)
      expect(asked.filter((url) => !url.startsWith('data:'))).toEqual([`file://${join(made.folder, 'evidence.html')}`])
      await page.addScriptTag({ content: axe.source })
      const found = await page.evaluate(async () =>
        (await (window as unknown as { axe: { run: () => Promise<{ violations: { id: string }[] }> } }).axe.run()).violations.map(
          (v) => v.id,
        ),
      )
      expect(found).toEqual([])
      expect(dialogs).toBe(0)
      expect(await page.locator('img[onerror]').count()).toBe(0)
      expect(await page.getByText('<img src=x onerror=alert(1)>').count()).toBeGreaterThan(3)
      expect(
        await page.locator('img').evaluateAll((images) => images.every((image) => (image as HTMLImageElement).naturalWidth === 640)),
      ).toBe(true)
      expect(await page.evaluate(() => document.documentElement.scrollWidth <= window.innerWidth)).toBe(true)
      await page.pdf({ path: join(folder, 'evidence.pdf'), format: 'A4', preferCSSPageSize: true })
    } finally {
      await browser.close()
    }
  })

  it('prints to pages on which no line and no picture is cut', async () => {
    // A browser breaks pages between lines; what it may not break is a picture, and a heading from what it heads.
    const pdf = await readFile(join(folder, 'evidence.pdf'), 'latin1')
    const pages = [...pdf.matchAll(/\/Type\s*\/Page\b/g)].length
    expect(pages).toBeGreaterThan(1)
    const browser = await startChromium()
    try {
      const page = await browser.newPage()
      await page.goto(`file://${join(made.folder, 'evidence.html')}`)
      await page.emulateMedia({ media: 'print' })
      const kept = await page.evaluate(() => {
        const style = (selector: string, of: string): string[] =>
          [...document.querySelectorAll(selector)].map((node) => getComputedStyle(node).getPropertyValue(of))
        const tall = [...document.querySelectorAll('figure')].map((figure) => figure.getBoundingClientRect().height)
        const hidden = [...document.querySelectorAll('main *:not(img)')].filter((node) =>
          ['hidden', 'clip', 'auto', 'scroll'].includes(getComputedStyle(node).overflowY),
        ).length
        return { figures: style('figure', 'break-inside'), headings: style('h2', 'break-after'), tall: Math.max(...tall), hidden }
      })
      expect(new Set(kept.figures)).toEqual(new Set(['avoid']))
      expect(new Set(kept.headings)).toEqual(new Set(['avoid']))
      expect(kept.hidden).toBe(0)
      // A page of A4 within its margins is 265 mm high: 1001 CSS pixels.
      expect(kept.tall).toBeLessThan(1001)
    } finally {
      await browser.close()
    }
  })
})

describe('hostile text in names, script and references', () => {
  it('is one plain field in the CSV, one line in the list, a string in the timeline and text in captions and curves', async () => {
    const rows = (await text('two-numbers-readings.csv')).split('\r\n')
    for (const row of rows) expect(row).not.toMatch(/(^|,)"?[=+@]/)
    const edl = await text('two-numbers.edl')
    for (const line of edl.split('\r\n')) expect(line).toMatch(/^(\d{3} {2}|M2 {3}|\*|TITLE:|FCM:|$)/)
    expect(edl).not.toMatch(/[\u202a-\u202e]/)
    expect(JSON.stringify(JSON.parse(await text('two-numbers.otio')))).toContain('onerror=alert(1)')
    const vtt = await text('two-numbers.vtt')
    expect(vtt).not.toContain('<img')
    expect(vtt).toContain('&lt;img')
    const svg = await text('curves/knee.svg')
    expect(svg).not.toMatch(/<script|onerror/)
    expect(JSON.parse(await text('two-numbers.json'))).toEqual(breakdown())
  })
})
