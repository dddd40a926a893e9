import { mkdtemp, copyFile, chmod, stat, writeFile, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { findFfmpeg, lookFor, NEEDED_FILTERS } from '../../../main/media/find-ffmpeg'

let folder: string
let env: Record<string, string>
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'claimframe-find-'))
  env = { XDG_CACHE_HOME: join(folder, 'cache'), PATH: '' }
})
afterAll(() => rm(folder, { recursive: true, force: true }))

describe('findFfmpeg', () => {
  it('finds a tool that has every filter we need, and remembers it', async () => {
    const tool = await findFfmpeg()
    for (const filter of NEEDED_FILTERS) expect(tool.filters.has(filter), filter).toBe(true)
    expect(tool.encoders.has('libx264')).toBe(true)
    expect(tool.identity).toMatch(/^[0-9a-f]{32}$/)
    expect(await findFfmpeg()).toBe(tool)
  })

  it('falls to the packaged 2018 build when the PATH holds none, and knows its age', async () => {
    const tool = await lookFor(env)
    expect(tool.ffmpeg).toContain('@ffmpeg-installer')
    expect(tool.ffprobe).toContain('@ffprobe-installer')
    expect(tool.has).toMatchObject({ fpsMode: false, movieTimescale: false, xfade: false })
  })

  it('answers the same from its cache file', async () => {
    const first = await lookFor(env)
    const second = await lookFor(env)
    expect(second).toEqual(first)
  })

  it('gives back the execute bit that an install without scripts leaves off', async () => {
    const tool = await lookFor(env)
    const copy = join(folder, 'ffmpeg')
    await copyFile(tool.ffmpeg, copy)
    await chmod(copy, 0o644)
    const own = await lookFor({ ...env, CLAIMFRAME_FFMPEG: copy, CLAIMFRAME_FFPROBE: tool.ffprobe })
    expect(own.ffmpeg).toBe(copy)
    expect((await stat(copy)).mode & 0o111).not.toBe(0)
  })

  it('says what it tried when the named one will not do, and tries no other', async () => {
    const text = join(folder, 'not-a-program')
    await writeFile(text, '#!/bin/sh\nexit 0\n')
    await expect(lookFor({ ...env, CLAIMFRAME_FFMPEG: text })).rejects.toMatchObject({
      code: 'ffmpeg-missing',
      parameters: { tried: [`CLAIMFRAME_FFMPEG=${text} (does not run)`] },
    })
    await expect(lookFor({ ...env, CLAIMFRAME_FFMPEG: '/nowhere/ffmpeg' })).rejects.toMatchObject({ code: 'ffmpeg-missing' })
  })
})
