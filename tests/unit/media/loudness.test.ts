import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { fileUrl } from '../../../main/media/file-url'
import { measureLoudness } from '../../../main/media/loudness'
import { runFfmpeg } from '../../../main/media/process'
import { builds } from '../../ffmpeg-builds'

/// The meter itself is held against EBU Tech 3341 in tests/outside; here, what is asked of it.

let folder = ''
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'claimframe-loud-'))
})
afterAll(() => rm(folder, { recursive: true, force: true }))

describe.each(builds)('measureLoudness with $name', ({ name, tool }) => {
  /// Stereo 1 kHz, dBFS of each stretch of 20 s.
  const steps = async (levels: readonly number[]): Promise<string> => {
    const path = join(folder, `${name.replace(/\W/g, '')}${levels.join('_')}.wav`)
    const level = levels.map((dbfs, i) => `gte(t,${i * 20})*lt(t,${i * 20 + 20})*${10 ** (dbfs / 20)}`).join('+')
    const wave = `(${level})*sin(2*PI*1000*t)`
    await runFfmpeg(await tool(), [
      '-v',
      'error',
      '-y',
      '-f',
      'lavfi',
      '-i',
      `aevalsrc='${wave}|${wave}':s=48000:d=${levels.length * 20}`,
      '-c:a',
      'pcm_s24le',
      fileUrl(path),
    ])
    return path
  }

  it('reads loudness and peak of a whole file and of a span', async () => {
    const path = await steps([-23, -33])
    const all = await tool()
    expect((await measureLoudness(all, path, { to: 20 })).integrated).toBeCloseTo(-23, 1)
    expect((await measureLoudness(all, path, { from: 20, to: 40 })).integrated).toBeCloseTo(-33, 1)
    const loud = await measureLoudness(all, path)
    expect(Math.abs(loud.truePeak + 23)).toBeLessThanOrEqual(0.2)
    expect(Math.abs((await measureLoudness(all, path, { from: 21 })).truePeak + 33)).toBeLessThanOrEqual(0.2)
  })

  // EBU Tech 3342, minimum requirements, cases 1–3 (from memory [M]; ±1 LU).
  it.each([
    [[-20, -30], 10],
    [[-20, -15], 5],
    [[-40, -20], 20],
  ] as const)('reads the range of %j as %d LU', async (levels, expected) => {
    expect(Math.abs((await measureLoudness(await tool(), await steps(levels))).range - expected)).toBeLessThanOrEqual(1)
  })

  it('says that a file without sound has none, and refuses an empty span', async () => {
    const path = join(folder, 'mute.mkv')
    await runFfmpeg(await tool(), ['-v', 'error', '-y', '-f', 'lavfi', '-i', 'color=s=64x64:d=0.2', '-c:v', 'libx264', fileUrl(path)])
    await expect(measureLoudness(await tool(), path)).rejects.toMatchObject({
      code: 'file-unreadable',
      parameters: { file: path, problem: 'it holds no sound' },
    })
    await expect(measureLoudness(await tool(), path, { from: 2, to: 2 })).rejects.toMatchObject({ code: 'wrong-use' })
  })
})
