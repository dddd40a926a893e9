import { createHash } from 'node:crypto'
import { mkdtemp, readFile, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import { findFfmpeg, type FfmpegTool } from '../../main/media/find-ffmpeg'
import { makePatternFilm } from '../film-patterns'
import { renderDocument, wordless } from './render-document'

let tool: FfmpegTool
let folder: string
beforeAll(async () => {
  tool = await findFfmpeg()
  folder = await mkdtemp(join(tmpdir(), 'kept-'))
  await makePatternFilm(tool, join(folder, 'a.mp4'), { frames: 120, rate: '30' })
})
afterAll(() => rm(folder, { recursive: true, force: true }))

const digest = async (file: string): Promise<string> =>
  createHash('sha256')
    .update(await readFile(file))
    .digest('hex')

/// Three holds: the first and third show knee angles, the second shows none; the first and the third use
/// different frames.
function breakdown(knee: [number, number]): Breakdown {
  const points = { 'hip.left': [150, 12], 'knee.left': knee, 'ankle.left': [150, 172] } as Record<string, [number, number]>
  return wordless(
    {
      footage: [{ id: 'f1', file: 'a.mp4' }],
      clips: [{ id: 'c1', footage: 'f1', from: 0, to: 120, capture: { factor: '1', u: 0 } }],
      landmarks: Object.entries(points).map(([point, at]) => ({
        clip: 'c1',
        subject: 's1',
        point,
        samples: [
          { frame: 40, at, sigma: 3 },
          { frame: 80, sigma: 3, at: [at[0] === knee[0] ? 158 : at[0], at[1] === knee[1] ? 95 : at[1]] as [number, number] },
        ],
      })),
      measures: [
        { id: 'm40', kind: 'joint-angle', clip: 'c1', subject: 's1', frame: 40, points: ['hip.left', 'knee.left', 'ankle.left'] },
        { id: 'm80', kind: 'joint-angle', clip: 'c1', subject: 's1', frame: 80, points: ['hip.left', 'knee.left', 'ankle.left'] },
      ],
    },
    [
      { hold: 'c1', at: 40, seconds: '1/2', marks: ['m40'] },
      { run: 'c1', from: 40, to: 50, speed: '1' },
      { hold: 'c1', at: 60, seconds: '1/2' },
      { hold: 'c1', at: 80, seconds: '1/2', marks: ['m80'] },
    ],
  )
}

it('should make again only the segments that show a landmark that was moved', async () => {
  const first = await renderDocument(tool, breakdown([158, 95]), folder)
  const before = await Promise.all(first.report.segments.files.map(digest))
  const second = await renderDocument(tool, breakdown([170.25, 99]), folder)
  const after = await Promise.all(second.report.segments.files.map(digest))
  expect(second.report.segments).toMatchObject({ made: 1, kept: 4 })
  expect(after.map((hash, i) => hash === before[i])).toEqual([false, true, true, true, true])
})

it('should make the same bytes from nothing, so that kept and fresh segments agree', async () => {
  const first = await renderDocument(tool, breakdown([158, 95]), folder)
  const fresh = await renderDocument(tool, breakdown([158, 95]), folder, { cache: join(folder, 'another') })
  expect(fresh.report.segments.made).toBe(5)
  expect(await Promise.all(fresh.report.segments.files.map(digest))).toEqual(await Promise.all(first.report.segments.files.map(digest)))
  expect(await digest(fresh.report.out)).toBe(await digest(first.report.out))
})

it('should know a film by its content and not by its name', async () => {
  const { report } = await renderDocument(tool, breakdown([158, 95]), folder)
  await makePatternFilm(tool, join(folder, 'a.mp4'), { frames: 120, rate: '30', first: 1 })
  const changed = await renderDocument(tool, breakdown([158, 95]), folder)
  expect(report.segments.kept).toBe(5)
  expect(changed.report.segments.made).toBe(4)
})
