import { existsSync, mkdtempSync, readdirSync, realpathSync, rmSync, statSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { Breakdown } from '../../../app/project/breakdown'
import type { CommandInput } from '../../../main/cli/command'
import { open } from '../../../main/cli/commands/open'
import { createProject } from '../../../main/store/create-project'
import { openWindow } from '../../open-door'
import { validDocument } from '../../valid-document'

let folder: string
let project: string
const before = process.env['CLAIMFRAME_STATE']

beforeAll(() => {
  folder = realpathSync(mkdtempSync(join(tmpdir(), 'claimframe-open-')))
  process.env['CLAIMFRAME_STATE'] = join(folder, 'state')
  project = join(folder, 'two.claimframe')
  expect(createProject(project, Breakdown.parse(validDocument())).ok).toBe(true)
})
afterAll(() => {
  if (before === undefined) delete process.env['CLAIMFRAME_STATE']
  else process.env['CLAIMFRAME_STATE'] = before
  rmSync(folder, { recursive: true, force: true })
})

/// Runs the command as far as its printed address.
function start(words: readonly string[]): { address: Promise<string>; ended: Promise<number>; stop(): void } {
  const stop = new AbortController()
  let tell!: (address: string) => void
  const address = new Promise<string>((done) => (tell = done))
  const input: CommandInput = {
    positionals: words,
    values: { print: true },
    json: true,
    signal: stop.signal,
    print: (line) => tell((JSON.parse(line) as { address: string }).address),
    say: () => undefined,
    progress: () => undefined,
  }
  return { address, ended: open.run(input), stop: () => stop.abort() }
}

const notes = (): string[] => readdirSync(join(folder, 'state', 'engines'))

describe('claimframe open', () => {
  it('prints an address that opens the window on the project, until it is interrupted', async () => {
    const first = start([project])
    const window = await openWindow(await first.address)
    const state = await window.client.call('project.state', {})
    expect(state.ok && state.value).toMatchObject({ file: project, readOnly: false })
    expect(notes()).toHaveLength(1)
    for (const [path, mode] of [
      [join(folder, 'state'), 0o700],
      [join(folder, 'state', 'engines'), 0o700],
      [join(folder, 'state', 'engines', notes()[0]!), 0o600],
    ] as const)
      expect([path, statSync(path).mode & 0o777]).toEqual([path, mode])
    first.stop()
    expect(await first.ended).toBe(0)
    expect(notes()).toEqual([])
    await expect(window.fetch('')).rejects.toThrow()
  })

  it('leads a second time to the engine that runs already', async () => {
    const first = start([project])
    const origin = new URL(await first.address).origin
    const second = start([project])
    expect(new URL(await second.address).origin).toBe(origin)
    expect(await second.ended).toBe(0)
    const [one, two] = [await openWindow(await first.address), await openWindow(await second.address)]
    const [a, b] = [await one.client.call('project.state', {}), await two.client.call('project.state', {})]
    expect(a.ok && b.ok && a.value.engine === b.value.engine && !b.value.readOnly).toBe(true)
    first.stop()
    await first.ended
  })

  it('opens one of its own where the noted engine is gone', async () => {
    const { EngineNotes } = await import('../../../main/loopback/engine-notes')
    new EngineNotes(join(folder, 'state')).write({ project, origin: 'http://127.0.0.1:9', key: 'gone', pid: 1 })
    const own = start([project])
    const window = await openWindow(await own.address)
    expect((await window.client.call('project.state', {})).ok).toBe(true)
    own.stop()
    await own.ended
  })

  it('refuses a project that is not there, and two', async () => {
    await expect(start([join(folder, 'nowhere.claimframe')]).ended).rejects.toMatchObject({ code: 'file-missing' })
    await expect(start([project, project]).ended).rejects.toMatchObject({ code: 'wrong-use' })
    expect(existsSync(project)).toBe(true)
  })
})
