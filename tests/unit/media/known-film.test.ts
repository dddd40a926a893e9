import { appendFile, copyFile, mkdtemp, readdir, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { findFfmpeg, type FfmpegTool } from '../../../main/media/find-ffmpeg'
import { knownFilm } from '../../../main/media/known-film'
import { openFilm } from '../../../main/media/probe'
import { makePatternFilm } from '../../film-patterns'

/// A film's head is asked of ffprobe once, and again whenever its content or the ffprobe is another one.

let folder = ''
let film = ''
let tool: FfmpegTool
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'claimframe-known-'))
  film = join(folder, 'film.mp4')
  tool = await findFfmpeg()
  await makePatternFilm(tool, film, { frames: 12, rate: '30000/1001', width: 160, height: 90 })
})
afterAll(() => rm(folder, { recursive: true, force: true }))

/// The same ffmpeg with an ffprobe that is not there: whoever asks it fails.
const silent = (): FfmpegTool => ({ ...tool, ffprobe: join(folder, 'no-ffprobe') })

describe('a film that is known', () => {
  it('should have the head that ffprobe read, under whatever name it lies, without asking again', async () => {
    const cache = join(folder, 'cache')
    const first = await knownFilm(tool, film, cache)
    expect(first.head).toEqual(await openFilm(tool, film))
    expect(await knownFilm(silent(), film, cache)).toEqual(first)
    const copy = join(folder, 'copy.mp4')
    await copyFile(film, copy)
    expect(await knownFilm(silent(), copy, cache)).toEqual({ identity: first.identity, head: { ...first.head, path: copy } })
  })

  it('should be asked for anew when its content, the ffmpeg, or what was kept is another', async () => {
    const cache = join(folder, 'cache-2')
    const { head, identity } = await knownFilm(tool, film, cache)
    await expect(knownFilm({ ...silent(), identity: 'another' }, film, cache)).rejects.toThrow()
    const longer = join(folder, 'longer.mp4')
    await copyFile(film, longer)
    await appendFile(longer, Buffer.alloc(16))
    await expect(knownFilm(silent(), longer, cache)).rejects.toThrow()
    const [kept] = await readdir(join(cache, 'heads'))
    await writeFile(join(cache, 'heads', kept!), '{')
    await expect(knownFilm(silent(), film, cache)).rejects.toThrow()
    expect(await knownFilm(tool, film, cache)).toEqual({ head, identity })
  })

  it('should be refused as ffprobe’s reader refuses it when it is not there', async () => {
    await expect(knownFilm(tool, join(folder, 'gone.mp4'), join(folder, 'cache'))).rejects.toMatchObject({ code: 'file-missing' })
    await expect(knownFilm(tool, folder, join(folder, 'cache'))).rejects.toMatchObject({ code: 'file-unreadable' })
  })
})
