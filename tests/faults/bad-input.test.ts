import { copyFile, mkdir, mkdtemp, readdir, rename, rm, symlink, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { findFfmpeg, type FfmpegTool } from '../../main/media/find-ffmpeg'
import { runFfmpeg } from '../../main/media/process'
import { runCommand } from '../command-line'
import { eachFrame, wordless } from '../render/render-document'
import { DIM, makePatternFilm } from '../film-patterns'

/// What a person meets at the command line when what they give is broken: exit status 2, a message
/// that names the thing and the place, and nothing written.

let tool: FfmpegTool
let folder: string
beforeAll(async () => {
  tool = await findFfmpeg()
  folder = await mkdtemp(join(tmpdir(), 'bad-input-'))
  await makePatternFilm(tool, join(folder, 'good.mp4'), { frames: 60, rate: '30', sound: true })
  await runFfmpeg(tool, ['-v', 'error', '-y', '-f', 'lavfi', '-i', 'sine=d=1', join(folder, 'sound.mp4')])
  await runFfmpeg(tool, ['-v', 'error', '-y', '-f', 'lavfi', '-i', 'testsrc=d=1', '-frames:v', '1', join(folder, 'still.png')])
  await writeFile(join(folder, 'empty.mp4'), '')
  await writeFile(join(folder, 'words.mp4'), 'This is no film at all.\n'.repeat(200))
  await mkdir(join(folder, 'folder.mp4'))
  const whole = join(folder, 'good.mp4')
  await copyFile(whole, join(folder, 'cut.mp4'))
  const { truncate, stat } = await import('node:fs/promises')
  await truncate(join(folder, 'cut.mp4'), Math.floor((await stat(whole)).size / 2))
})
afterAll(() => rm(folder, { recursive: true, force: true }))

const document = (file: string): ReturnType<typeof wordless> =>
  wordless({ footage: [{ id: 'f1', file }], clips: [{ id: 'c1', footage: 'f1', from: 0, to: 30, capture: { factor: '1', u: 0 } }] }, [
    { run: 'c1', from: 0, to: 10, speed: '1' },
  ])

const render = ['render', 'breakdown.json', '--out', 'film.mp4', '--cache', join('cache')]

/// Runs a command and holds that it wrote nothing and ended with status 2.
async function refusedBy(args: readonly string[]): Promise<string> {
  const before = (await readdir(folder)).sort()
  const { status, stdout, stderr } = await runCommand(args, { cwd: folder })
  expect(status, stderr).toBe(2)
  expect(stdout).toBe('')
  expect((await readdir(folder)).filter((name) => name !== 'cache').sort()).toEqual(before.filter((name) => name !== 'cache'))
  return stderr
}

for (const [what, file] of [
  ['an empty file', 'empty.mp4'],
  ['a film cut in two', 'cut.mp4'],
  ['sound without a picture', 'sound.mp4'],
  ['a still picture', 'still.png'],
  ['a missing file', 'not-there.mp4'],
  ['a folder', 'folder.mp4'],
  ['a text under a film’s name', 'words.mp4'],
] as const) {
  it(`should refuse ${what} by its name, in a probe and in a render`, async () => {
    expect(await refusedBy(['probe', file])).toContain(file)
    await writeFile(join(folder, 'breakdown.json'), JSON.stringify(document(file)))
    expect(await refusedBy(render)).toContain(file)
  })
}

const broken: readonly (readonly [string, string, RegExp])[] = [
  ['no JSON', '{ "format": ', /not JSON/],
  ['a list', '[]', /breakdown\.json/],
  [
    'a frame outside its clip',
    JSON.stringify({
      ...document('good.mp4'),
      script: [
        {
          id: 'p1',
          text: [],
          shots: [
            { run: 'c1', from: 0, to: 10, speed: '1' },
            { hold: 'c1', at: 812, seconds: '1' },
          ],
        },
      ],
    }),
    /script\[0\]\.shots\[1\]\.at: 812 is outside clip c1 \(0–30\)/,
  ],
  [
    'an id that stands twice',
    JSON.stringify({
      ...document('good.mp4'),
      subjects: [
        { id: 's1', name: 'A' },
        { id: 's1', name: 'B' },
      ],
    }),
    /subjects\[1\]\.id/,
  ],
  ['a huge number', JSON.stringify(document('good.mp4')).replace('"to":30', '"to":1e300'), /clips\[0\]\.to/],
  ['a wrong type', JSON.stringify({ ...document('good.mp4'), clips: 'many' }), /clips/],
  ['an unknown key', JSON.stringify({ ...document('good.mp4'), colour: 'red' }), /colour/],
  ['a deep nest', '{"title":' + '['.repeat(100_000) + ']'.repeat(100_000) + '}', /breakdown\.json/],
  ['a path out of the folder', JSON.stringify(document('../good.mp4')), /footage\[0\]\.file/],
  ['an absolute path', JSON.stringify(document('/etc/hostname')), /footage\[0\]\.file/],
  [
    'a way out through __proto__',
    JSON.stringify(document('good.mp4')).replace('"title":"A test"', '"title":"A test","__proto__":{"x":1}'),
    /__proto__/,
  ],
]
for (const [what, text, message] of broken) {
  it(`should refuse a document with ${what}, and say where`, async () => {
    await writeFile(join(folder, 'breakdown.json'), text)
    expect(await refusedBy(render)).toMatch(message)
    expect(await refusedBy(['create', 'new.claimframe', '--from', 'breakdown.json'])).toMatch(message)
  })
}

it('should refuse a link that leads out of the document’s folder', async () => {
  const outside = await mkdtemp(join(tmpdir(), 'outside-'))
  try {
    await copyFile(join(folder, 'good.mp4'), join(outside, 'secret.mp4'))
    await symlink(join(outside, 'secret.mp4'), join(folder, 'link.mp4'))
    await writeFile(join(folder, 'breakdown.json'), JSON.stringify(document('link.mp4')))
    expect(await refusedBy(render)).toContain('outside the document')
  } finally {
    await rm(outside, { recursive: true, force: true })
  }
})

it('should refuse wrong use in words', async () => {
  expect(await refusedBy(['nonsense'])).toContain('nonsense')
  expect(await refusedBy(['render', 'breakdown.json'])).toContain('--out')
  expect(await refusedBy(['render', 'breakdown.json', '--out', 'f.mp4', '--speed', '3'])).toContain('--speed')
  expect(await refusedBy(['render', 'not-there.json', '--out', 'f.mp4'])).toContain('not-there.json')
  expect(await refusedBy(['dump', 'good.mp4'])).toContain('good.mp4')
})

it('should take files with the oddest names, and draw hostile text as text', async () => {
  const odd = `-i 'x"%d:y,[z];=é .mp4`
  await makePatternFilm(tool, join(folder, 'dim.mp4'), { frames: 30, rate: '30', width: 320, height: 180, bright: DIM })
  await rename(join(folder, 'dim.mp4'), join(folder, odd))
  const hostile = String.raw`{\an5\fs200\c&H00FF00&}MOVED\N{\p1}m 0 0 l 999 0 999 999{\p0}`
  const breakdown = { ...document(odd), title: hostile, footage: [{ id: 'f1', file: odd, source: { credit: hostile } }] }
  await writeFile(join(folder, 'breakdown.json'), JSON.stringify(breakdown))
  const { status, stderr } = await runCommand([...render, '--json'], { cwd: folder })
  expect(status, stderr).toBe(0)
  let n = 0
  await eachFrame(tool, join(folder, 'film.mp4'), { width: 320, height: 180 }, (pixels, at) => {
    // A drawing or a moved text would stand bright over the cells of the pattern below the credit's line.
    if (at >= 20) return
    const bright = (part: Buffer): number => [...part].filter((value) => value > DIM + 40).length
    expect(bright(pixels.subarray(0, 320 * 45))).toBeGreaterThan(100)
    expect(bright(pixels.subarray(320 * 45))).toBe(0)
    n++
  })
  expect(n).toBe(20)
})
