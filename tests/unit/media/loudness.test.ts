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

  it('reads loudness and peak of a whole file, gated', async () => {
    const { integrated, truePeak } = await measureLoudness(await tool(), await steps([-23, -43]), { what: 'a sound' })
    // The quiet half lies 20 LU below the other, beneath the relative gate.
    expect(integrated).toBeCloseTo(-23, 1)
    expect(Math.abs(truePeak + 23)).toBeLessThanOrEqual(0.2)
  })

  it('says that a file without sound has none', async () => {
    const path = join(folder, 'mute.mkv')
    await runFfmpeg(await tool(), ['-v', 'error', '-y', '-f', 'lavfi', '-i', 'color=s=64x64:d=0.2', '-c:v', 'libx264', fileUrl(path)])
    await expect(measureLoudness(await tool(), path, { what: 'a sound' })).rejects.toMatchObject({
      code: 'file-unreadable',
      parameters: { file: path, problem: 'it holds no sound' },
    })
  })
})
