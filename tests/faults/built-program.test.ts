import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { runProgram } from '../../main/media/process'

/// The program as it is built (`npm run build`), started as a person starts it.
const root = join(import.meta.dirname, '../..')
const built = (...words: readonly string[]) => runProgram(process.execPath, [join(root, 'out/main/cli.js'), ...words], { cwd: folder })
const throughNpx = (...words: readonly string[]) => runProgram('npx', ['--no-install', 'claimframe', ...words], { cwd: root })

let folder: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'claimframe-built-'))
})
afterAll(() => rm(folder, { recursive: true, force: true }))

describe('the built program', () => {
  it('tells its commands', async () => {
    const { status, stdout, stderr } = await built('--help')
    expect([status, stderr]).toEqual([0, ''])
    expect(stdout.toString()).toContain('claimframe render <project or breakdown.json>')
  })

  it('is found by npx in the project’s folder', async () => {
    const { status, stdout, stderr } = await throughNpx('--help')
    expect([status, stdout.toString()], stderr).toEqual([0, (await built('--help')).stdout.toString()])
  })

  it('ends with 2 on wrong use, with nothing on standard output', async () => {
    for (const words of [['no-such-command'], ['probe'], ['probe', '--no-such-option', 'a.mp4'], ['readings', 'a', 'b']]) {
      const { status, stdout, stderr } = await built(...words)
      expect([status, stdout.toString()], words.join(' ')).toEqual([2, ''])
      expect(stderr).not.toMatch(/\bat \S+:\d+:\d+/)
    }
  })

  it('ends with 2 for a file that is not there, and says so as JSON when asked', async () => {
    const { status, stderr } = await built('readings', 'no-such-file.json', '--json')
    expect(status).toBe(2)
    expect(JSON.parse(stderr)).toMatchObject({ error: 'file-missing', message: expect.stringContaining('no-such-file.json') as string })
  })
})
