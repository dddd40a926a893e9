import { copyFile, mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { holdsBack, type Finding } from '../../app/script/claims/finding'
import { findFfmpeg, type FfmpegTool } from '../../main/media/find-ffmpeg'
import { runFfmpeg } from '../../main/media/process'
import { runCommand } from '../command-line'
import { DIM, makePatternFilm, readPattern } from '../film-patterns'
import { eachFrame, wordless, writeDocument } from './render-document'

let tool: FfmpegTool
let folder: string
beforeAll(async () => {
  tool = await findFfmpeg()
  folder = await mkdtemp(join(tmpdir(), 'command-'))
  await makePatternFilm(tool, join(folder, 'a.mp4'), { frames: 200, rate: '30', bright: DIM })
  await writeDocument(folder, {
    ...wordless(
      {
        footage: [{ id: 'f1', file: 'a.mp4' }],
        clips: [{ id: 'c1', footage: 'f1', from: 0, to: 200, capture: { factor: '1', u: 0 } }],
      },
      [
        { run: 'c1', from: 0, to: 60, speed: '1' },
        { hold: 'c1', at: 77, seconds: '1' },
        { run: 'c1', from: 100, to: 130, speed: '1/2' },
      ],
    ),
    output: { width: 320, height: 180, rate: '30/1' },
  })
})
afterAll(() => rm(folder, { recursive: true, force: true }))

const cli = async (...args: string[]): Promise<unknown> => {
  const { status, stdout, stderr } = await runCommand([...args, '--json'], { cwd: folder })
  expect(status, stderr).toBe(0)
  return JSON.parse(stdout)
}

it('should render a part of the film, to the frame', async () => {
  await cli('render', 'breakdown.json', '--out', 'part.mp4', '--from', '1.5', '--to', '3.5', '--cache', 'cache')
  const seen: number[] = []
  await eachFrame(tool, join(folder, 'part.mp4'), { width: 320, height: 180 }, (pixels) => void seen.push(readPattern(pixels, 320, 180)))
  expect(seen).toEqual([
    ...Array.from({ length: 15 }, (_, i) => 45 + i),
    ...Array.from({ length: 30 }, () => 77),
    ...Array.from({ length: 15 }, (_, i) => 100 + (i >> 1)),
  ])
})

it('should render a project as it renders the document that it was made from', async () => {
  await cli('create', 'bout.claimframe', '--from', 'breakdown.json')
  const dumped = await runCommand(['dump', 'bout.claimframe'], { cwd: folder })
  expect(JSON.parse(dumped.stdout)).toEqual(JSON.parse(await readFile(join(folder, 'breakdown.json'), 'utf8')))
  await cli('render', 'breakdown.json', '--out', 'document.mp4', '--cache', 'cache')
  const report = (await cli('render', 'bout.claimframe', '--out', 'project.mp4', '--cache', 'cache')) as { segments: { made: number } }
  expect(report.segments.made).toBe(0)
  expect((await readFile(join(folder, 'project.mp4'))).equals(await readFile(join(folder, 'document.mp4')))).toBe(true)
})

it('should print jobs that make the very segments when they are run elsewhere', async () => {
  const plan = (await cli('render', 'breakdown.json', '--plan', '--cache', 'elsewhere')) as {
    into: string
    faces: string[]
    segments: { name: string; files: Record<string, string>; arguments: string[] }[]
  }
  expect(plan.segments).toHaveLength(4)
  await mkdir(plan.into, { recursive: true })
  for (const segment of plan.segments) {
    const work = await mkdtemp(join(tmpdir(), 'job-'))
    await mkdir(join(work, 'fonts'))
    for (const [i, face] of plan.faces.entries()) await copyFile(face, join(work, 'fonts', `${i}.ttf`))
    for (const [name, text] of Object.entries(segment.files)) await writeFile(join(work, name), text)
    await runFfmpeg(tool, segment.arguments, { cwd: work })
    await copyFile(join(work, segment.name), join(plan.into, segment.name))
    await rm(work, { recursive: true, force: true })
  }
  const report = (await cli('render', 'breakdown.json', '--out', 'joined.mp4', '--cache', 'elsewhere')) as {
    segments: { made: number; kept: number }
  }
  expect(report.segments).toMatchObject({ made: 0, kept: 4 })
  await cli('render', 'breakdown.json', '--out', 'here.mp4', '--cache', 'cache')
  expect((await readFile(join(folder, 'joined.mp4'))).equals(await readFile(join(folder, 'here.mp4')))).toBe(true)
})

for (const output of [
  { width: 180, height: 320 },
  { width: 240, height: 240 },
] as const) {
  it(`should letterbox a wide film on ${output.width}×${output.height}, and fill it from a chosen frame`, async () => {
    await writeDocument(
      folder,
      {
        ...wordless(
          {
            footage: [{ id: 'f1', file: 'a.mp4' }],
            clips: [{ id: 'c1', footage: 'f1', from: 0, to: 200, capture: { factor: '1', u: 0 } }],
          },
          [
            { hold: 'c1', at: 123, seconds: '1/5' },
            { hold: 'c1', at: 123, seconds: '1/5', frame: output.width < output.height ? [110, 0, 100, 178] : [70, 0, 180, 180] },
          ],
        ),
        output: { ...output, rate: '30/1' },
      },
      'tall.json',
    )
    await cli('render', 'tall.json', '--out', 'tall.mp4', '--cache', 'cache')
    const high = Math.round((output.width * 9) / 16 / 2) * 2
    const top = Math.round((output.height - high) / 4) * 2
    await eachFrame(tool, join(folder, 'tall.mp4'), output, (pixels, n) => {
      const rowMean = (y: number): number =>
        pixels.subarray(y * output.width, (y + 1) * output.width).reduce((sum, v) => sum + v, 0) / output.width
      if (n < 6) {
        expect(readPattern(pixels, output.width, output.height, { x: 0, y: top, width: output.width, height: high })).toBe(123)
        expect(rowMean(output.height - 2)).toBeLessThan(40)
      } else if (n < 12) expect(Math.max(rowMean(output.height - 3), rowMean(output.height - 10))).toBeGreaterThan(40)
    })
  })
}

it('should hold a final film back while a typed number stands in it, make the draft, and make the film once that is let stand with a reason', async () => {
  const document = {
    ...wordless(
      { footage: [{ id: 'f1', file: 'a.mp4' }], clips: [{ id: 'c1', footage: 'f1', from: 0, to: 200, capture: { factor: '1', u: 0 } }] },
      [],
    ),
    output: { width: 320, height: 180, rate: '30/1' },
    script: [{ id: 'p1', text: ['The knee is at 145 degrees.'], shots: [{ hold: 'c1', at: 77, seconds: '1/2' }] }],
  }
  await writeDocument(folder, document, 'typed.json')
  const held = await runCommand(['render', 'typed.json', '--out', 'typed.mp4', '--json', '--cache', 'cache'], { cwd: folder })
  expect([held.status, JSON.parse(held.stderr.trim().split('\n').at(-1)!)]).toMatchObject([1, { error: 'held-back' }])
  expect(await readdir(folder)).not.toContain('typed.mp4')
  await cli('render', 'typed.json', '--draft', '--out', 'typed-draft.mp4', '--cache', 'cache')
  const claims = await runCommand(['claims', 'typed.json', '--json', '--cache', 'cache'], { cwd: folder })
  const { findings } = JSON.parse(claims.stdout) as { findings: Finding[] }
  const overrides = findings.filter(holdsBack).map(({ code, on, problem }, i) => ({
    id: `o${i}`,
    finding: code,
    ...(on ? { on } : {}),
    problem,
    reason: 'read off the referee’s card',
    by: 'Mara Quint',
    when: '2026-11-25',
  }))
  await writeDocument(folder, { ...document, overrides: [...(document.overrides ?? []), ...overrides] }, 'let-stand.json')
  await cli('render', 'let-stand.json', '--out', 'typed.mp4', '--cache', 'cache')
  expect(await readdir(folder)).toContain('typed.mp4')
})

it('should hold a delivery back, then make it whole, and answer a time from the project alone', async () => {
  const document = {
    ...wordless(
      { footage: [{ id: 'f1', file: 'a.mp4' }], clips: [{ id: 'c1', footage: 'f1', from: 0, to: 200, capture: { factor: '1', u: 0 } }] },
      [],
    ),
    overrides: [],
    title: 'One hold',
    output: { width: 320, height: 180, rate: '30/1' },
    script: [{ id: 'p1', text: ['The heel is up.'], shots: [{ hold: 'c1', at: 77, seconds: '1' }] }],
  }
  await writeDocument(folder, document, 'bare.json')
  const alone = await runCommand(['render', 'bare.json', '--out', 'alone.mp4', '--json', '--cache', 'cache'], { cwd: folder })
  expect([alone.status, JSON.parse(alone.stderr.trim().split('\n').at(-1)!)]).toMatchObject([1, { error: 'held-back' }])
  expect((await runCommand(['claims', 'bare.json', '--cache', 'cache'], { cwd: folder })).stdout).toMatch(
    /notices: the film has no end card[\s\S]*1 open: the film is held back/,
  )
  const held = await runCommand(['release', 'bare.json', '--to', 'held', '--json', '--cache', 'cache'], { cwd: folder })
  expect([held.status, JSON.parse(held.stderr.trim().split('\n').at(-1)!)]).toMatchObject([1, { error: 'held-back' }])
  await writeDocument(
    folder,
    { ...document, script: [...document.script, { id: 'p2', text: [], shots: [{ card: 'end', seconds: '4' }] }] },
    'whole.json',
  )
  await cli('create', 'one.claimframe', '--from', 'whole.json')
  const made = (await cli('release', 'one.claimframe', '--to', 'out', '--version', 'first', '--cache', 'cache')) as {
    manifest: { files: { name: string }[] }
    chapters: string[]
  }
  expect(made.manifest.files.map(({ name }) => name)).toContain('one-hold.mp4')
  expect(made.chapters).toEqual(['The script has no chapter headings.'])
  const answer = (await cli('answer', 'one.claimframe', '00:05, how do you know?')) as { version: string; sentence: { words: string } }
  expect(answer).toMatchObject({ version: 'first', sentence: { words: 'The heel is up.' } })
  expect((await readFile(join(folder, 'releases/release-1/evidence.html'), 'utf8')).startsWith('<!doctype html>')).toBe(true)
})
