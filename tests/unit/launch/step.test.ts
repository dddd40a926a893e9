import { chmodSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { findProgram, missingCompiler } from '../../../main/launch/machine.mjs'
import { duration, run } from '../../../main/launch/step.mjs'

let folder = ''
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'claimframe-step-'))
})
afterEach(() => {
  vi.unstubAllEnvs()
  rmSync(folder, { recursive: true })
})

describe('a step', () => {
  it('gives the status, keeps what was printed, and writes it to the log', async () => {
    const log = join(folder, 'deep', 'step.log')
    expect(await run(process.execPath, ['-e', 'console.log("out"); console.error("err"); process.exit(7)'], { log })).toEqual({
      status: 7,
      output: expect.stringMatching(/^(out\nerr|err\nout)\n$/) as string,
    })
    expect(readFileSync(log, 'utf8')).toContain('out\n')
  })

  it('has status 127 when the command cannot be started', async () => {
    expect((await run(join(folder, 'not-there'), [], { log: join(folder, 'log') })).status).toBe(127)
  })

  it('has status 130 when a signal ended it', async () => {
    expect(
      (
        await run(process.execPath, ['-e', 'process.kill(process.pid, "SIGTERM"); setTimeout(() => {}, 9000)'], {
          log: join(folder, 'log'),
        })
      ).status,
    ).toBe(130)
  })

  it('hands arguments over as they are', async () => {
    const odd = ['a b', '$HOME', '"', ';ls', '%PATH%']
    const { output } = await run(process.execPath, ['-e', 'console.log(JSON.stringify(process.argv.slice(1)))', ...odd], {
      log: join(folder, 'log'),
    })
    expect(JSON.parse(output)).toEqual(odd)
  })

  it('tells its time for people', () => {
    expect([duration(400), duration(59_400), duration(61_000), duration(600_000)]).toEqual(['0 s', '59 s', '1 min 1 s', '10 min 0 s'])
  })
})

describe('what the machine has', () => {
  it('is found on the search path, when it may be run', () => {
    vi.stubEnv('PATH', folder)
    const program = join(folder, process.platform === 'win32' ? 'made-up.exe' : 'made-up')
    expect(findProgram('made-up')).toBeUndefined()
    writeFileSync(program, '')
    chmodSync(program, 0o755)
    expect(findProgram('other', 'made-up')).toBe(program)
  })

  it('is named when it is missing, with how to get it', () => {
    vi.stubEnv('PATH', folder)
    expect(missingCompiler()).toMatch(/a C\+\+ compiler.*make.*Python 3.*(install|run)|Visual Studio/)
  })
})
