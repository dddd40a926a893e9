import { mkdtemp, rm, stat, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { Progress } from '../../../app/render/progress'
import { fileUrl } from '../../../main/media/file-url'
import { findFfmpeg, lookFor, type FfmpegTool } from '../../../main/media/find-ffmpeg'
import { runFfmpeg, runFfprobe, runProgram, streamFfmpeg } from '../../../main/media/process'

let folder: string
let tool: FfmpegTool
let floor: FfmpegTool
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'claimframe-process-'))
  tool = await findFfmpeg()
  floor = await lookFor({ PATH: '' })
})
afterAll(() => rm(folder, { recursive: true, force: true }))

const bars = (seconds: number): string[] => ['-v', 'error', '-f', 'lavfi', '-i', `testsrc2=s=320x180:r=25:d=${seconds}`]
const endless = ['-v', 'error', '-re', '-f', 'lavfi', '-i', 'testsrc2=s=320x180:r=25', '-f', 'null', '-']

describe('runFfmpeg', () => {
  it('reports progress to the end and makes the file', async () => {
    for (const each of [tool, floor]) {
      const reports: Progress[] = []
      const path = join(folder, 'made.mkv')
      await runFfmpeg(each, [...bars(2), '-y', '-c:v', 'libx264', '-preset', 'ultrafast', fileUrl(path)], {
        onProgress: (p) => reports.push(p),
      })
      expect(reports.at(-1)).toMatchObject({ frame: 50, done: true })
      expect(reports.at(-1)!.out_us).toBeGreaterThan(1_900_000)
      expect((await stat(path)).size).toBeGreaterThan(1000)
    }
  })

  it('hands every argument over as it is, whatever it holds', async () => {
    const odd = ` it's "odd": 100% [a,b]; \\n $HOME \`x\` -y\n`
    const path = join(folder, 'tagged.mkv')
    await runFfmpeg(tool, [...bars(0.2), '-y', '-metadata', `comment=${odd}`, '-c:v', 'libx264', '-preset', 'ultrafast', fileUrl(path)])
    const said = JSON.parse(await runFfprobe(tool, ['-v', 'error', '-show_format', '-of', 'json', fileUrl(path)])) as {
      format: { tags: Record<string, string> }
    }
    expect(said.format.tags['COMMENT'] ?? said.format.tags['comment']).toBe(odd)
  })

  it('keeps two builds apart that run at the same time', async () => {
    const versions = await Promise.all(
      [tool, floor, tool, floor].map(async (each) => {
        let said = ''
        await streamFfmpeg(each, ['-version'], { onStdout: (chunk) => void (said += chunk.toString()) })
        return /ffmpeg version (\S+)/.exec(said)?.[1]
      }),
    )
    expect(versions).toEqual([tool.version, floor.version, tool.version, floor.version])
  })

  it('fails with the telling line of the log', async () => {
    await expect(runFfmpeg(tool, ['-v', 'error', '-i', fileUrl('/nowhere/a.mp4'), '-f', 'null', '-'])).rejects.toMatchObject({
      code: 'ffmpeg-failed',
      parameters: { problem: expect.stringContaining('No such file') as unknown },
    })
    await expect(runFfmpeg(tool, [...bars(1), '-vf', 'nosuchfilter', '-f', 'null', '-'])).rejects.toMatchObject({
      code: 'ffmpeg-failed',
      parameters: { problem: expect.stringContaining('nosuchfilter') as unknown },
    })
  })

  it('rejects when the program itself cannot be run', async () => {
    await expect(runFfmpeg({ ...tool, ffmpeg: join(folder, 'none') }, endless)).rejects.toThrow()
  })

  it('stops at once when cancelled, before and during the run', async () => {
    for (const each of [tool, floor]) {
      const abort = new AbortController()
      const started = Date.now()
      setTimeout(() => abort.abort(), 300)
      await expect(runFfmpeg(each, endless, { signal: abort.signal, what: 'the test' })).rejects.toMatchObject({
        code: 'cancelled',
        parameters: { what: 'the test' },
      })
      expect(Date.now() - started).toBeLessThan(2500)
      await expect(runFfmpeg(each, endless, { signal: abort.signal })).rejects.toMatchObject({ code: 'cancelled' })
    }
  })

  it('kills a program that will not heed the signal to end', async () => {
    const stubborn = join(folder, 'stubborn.sh')
    await writeFile(stubborn, '#!/bin/sh\ntrap "" TERM\nwhile :; do sleep 0.1; done\n', { mode: 0o755 })
    const abort = new AbortController()
    setTimeout(() => abort.abort(), 100)
    const started = Date.now()
    await expect(runFfmpeg({ ...tool, ffmpeg: stubborn }, [], { signal: abort.signal })).rejects.toMatchObject({ code: 'cancelled' })
    expect(Date.now() - started).toBeGreaterThan(1900)
  })

  it('says that the disk is full when it is', async () => {
    for (const each of [tool, floor])
      await expect(
        runFfmpeg(each, [...bars(5), '-y', '-c:v', 'libx264', '-preset', 'ultrafast', '-f', 'matroska', '/dev/full']),
      ).rejects.toMatchObject({ code: 'disk-full', parameters: { file: '/dev/full' } })
  })

  it('says so as well when a limit on the size of files is met', async () => {
    const limited = join(folder, 'limited.sh')
    await writeFile(limited, `#!/bin/bash\nulimit -f 20\nexec ${tool.ffmpeg} "$@"\n`, { mode: 0o755 })
    const path = join(folder, 'large.mkv')
    await expect(
      runFfmpeg({ ...tool, ffmpeg: limited }, [...bars(5), '-y', '-c:v', 'libx264', '-preset', 'ultrafast', fileUrl(path)]),
    ).rejects.toMatchObject({ code: 'disk-full', parameters: { file: path } })
  })
})

describe('streamFfmpeg', () => {
  it.runIf(process.platform !== 'win32')('runs at a lower priority when asked to', async () => {
    const script = join(folder, 'nice.sh')
    await writeFile(script, '#!/bin/sh\nnice\n', { mode: 0o755 })
    const levelOf = async (niceness?: number): Promise<number> => {
      let said = ''
      await streamFfmpeg({ ...tool, ffmpeg: script }, [], { niceness, onStdout: (chunk) => void (said += chunk.toString()) })
      return Number(said)
    }
    expect((await levelOf(7)) - (await levelOf())).toBe(7)
  })

  it('waits for a slow reader and loses nothing', async () => {
    const size = 320 * 180 * 1.5
    let bytes = 0
    let inside = 0
    await streamFfmpeg(tool, [...bars(4), '-f', 'rawvideo', '-pix_fmt', 'yuv420p', 'pipe:1'], {
      onStdout: async (chunk) => {
        expect(++inside).toBe(1)
        if (bytes < 2_000_000) await new Promise((r) => setTimeout(r, 2))
        bytes += chunk.length
        inside--
      },
    })
    expect(bytes).toBe(100 * size)
  })

  it('ends ffmpeg and passes on what the reader throws', async () => {
    const enough = new Error('enough')
    await expect(
      streamFfmpeg(tool, ['-v', 'error', '-f', 'lavfi', '-i', 'testsrc2', '-f', 'rawvideo', 'pipe:1'], {
        onStdout: () => Promise.reject(enough),
      }),
    ).rejects.toBe(enough)
  })
})

describe('runProgram', () => {
  it('gives input, collects output, and answers with the status', async () => {
    const echo = await runProgram('cat', [], { stdin: 'some words\n' })
    expect(echo).toMatchObject({ status: 0, stderr: '' })
    expect(echo.stdout.toString()).toBe('some words\n')
    expect(await runProgram('sh', ['-c', 'echo no >&2; exit 3'])).toMatchObject({ status: 3, stderr: 'no\n' })
  })
  it('does not mind a program that stops reading', async () => {
    expect(await runProgram('true', [], { stdin: Buffer.alloc(1 << 20) })).toMatchObject({ status: 0 })
  })
  it('rejects for a program that is not there', async () => {
    await expect(runProgram(join(folder, 'none'), [])).rejects.toMatchObject({ code: 'ENOENT' })
  })
})
