import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { findFfmpeg } from '../../main/media/find-ffmpeg'
import { runProgram } from '../../main/media/process'

/// On Linux no ffmpeg goes on encoding for a process that was killed outright. (Elsewhere it ends
/// with its own work; see docs/decisions.)

let folder: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'claimframe-orphan-'))
})
afterAll(() => rm(folder, { recursive: true, force: true }))

it.runIf(process.platform === 'linux')('kill -9 of the parent takes its ffmpeg with it', async () => {
  const root = resolve(import.meta.dirname, '../..')
  const tool = await findFfmpeg()
  const pidFile = join(folder, 'pid')
  const program = join(folder, 'ffmpeg.sh')
  await writeFile(program, `#!/bin/sh\necho $$ > ${pidFile}\nexec ${tool.ffmpeg} "$@"\n`, { mode: 0o755 })
  const script = join(folder, 'parent.mjs')
  await writeFile(
    script,
    `import { runnerImport } from ${JSON.stringify(join(root, 'node_modules/vite/dist/node/index.js'))}
     const file = ${JSON.stringify(join(root, 'main/media/process.ts'))}
     const { runFfmpeg } = (await runnerImport(file, { root: ${JSON.stringify(root)}, configFile: false, logLevel: 'silent' })).module
     let told = false
     runFfmpeg({ ffmpeg: ${JSON.stringify(program)} }, ['-re', '-f', 'lavfi', '-i', 'testsrc2=s=320x180:r=25', '-t', '60', '-f', 'null', '-'], {
       onProgress: () => { if (!told) { told = true; process.stdout.write('running\\n', () => process.kill(process.pid, 'SIGKILL')) } },
     })`,
  )
  const parent = await runProgram(process.execPath, [script])
  expect(parent.stdout.toString(), parent.stderr).toBe('running\n')
  const pid = Number(await readFile(pidFile, 'utf8'))
  expect(pid).toBeGreaterThan(1)
  try {
    // By itself it would take a minute.
    await expect.poll(() => stateOf(pid), { timeout: 20_000 }).toBe('ended')
  } finally {
    if ((await stateOf(pid)) === 'living') process.kill(pid, 'SIGKILL')
  }
})

/// A process that ended and waits to be collected still has an entry, in state Z.
async function stateOf(pid: number): Promise<'living' | 'ended'> {
  const status = await readFile(`/proc/${pid}/status`, 'utf8').catch(() => null)
  return status === null || /^State:\s+[ZX]/m.test(status) ? 'ended' : 'living'
}
