import { writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { finishedAddress } from '../../../app/contract/addresses'
import { engineClient } from '../../../app/contract/client'
import { forward } from '../../../main/desktop/forward'
import { answerShellCall, shellCallOf, withShell, type Desktop } from '../../../main/desktop/shell-calls'
import { WINDOW_ADDRESS } from '../../../main/desktop/window-options'
import { openTestDoor, type OpenedDoor } from '../../open-door'

/// The shell's part between the window's scheme and the engine's real door; Electron itself is not needed.

let opened: OpenedDoor
beforeAll(async () => {
  opened = await openTestDoor()
})
afterAll(() => opened.close())

const through = (path: string, init: RequestInit = {}): Promise<Response> =>
  forward(new Request(`${WINDOW_ADDRESS}${path}`, init), opened.door, fetch)

const desktop = (over: Partial<Desktop> = {}): Desktop => ({
  chooseFiles: () => Promise.resolve([]),
  chooseTarget: () => Promise.resolve(null),
  showInFolder: () => undefined,
  jobs: () => Promise.resolve([]),
  ...over,
})

describe('the window’s scheme', () => {
  it('leads to the engine, page, calls and all', async () => {
    const page = await through('')
    expect(await page.text()).toContain('The window')
    expect(page.headers.get('content-security-policy')).toContain("default-src 'none'")
    const client = engineClient((address, request) => through(address, request), { checked: true })
    const about = await client.call('engine.about', {})
    expect(about.ok && about.value.version).toBe('0.0.0-test')
  })

  it('hands ranges on and back', async () => {
    const whole = Buffer.from(await (await through('index.html')).arrayBuffer())
    const part = await through('index.html', { headers: { range: 'bytes=2-5' } })
    expect([part.status, part.headers.get('content-range'), Buffer.from(await part.arrayBuffer()).toString()]).toEqual([
      206,
      `bytes 2-5/${whole.length}`,
      whole.subarray(2, 6).toString(),
    ])
  })

  it('leads to a finished film by its job, ranges and all', async () => {
    const film = join(opened.folder, 'film.mp4')
    const { id, outcome } = opened.engine.workspace.jobs.start(
      { kind: 'render', label: 'rendering film.mp4' },
      () => writeFile(film, 'a film of few bytes').then(() => film),
      (file) => file,
      (file) => file,
    )
    await outcome
    const part = await through(finishedAddress(id), { headers: { range: 'bytes=2-5' } })
    expect([part.status, part.headers.get('content-type'), part.headers.get('content-range'), await part.text()]).toEqual([
      206,
      'video/mp4',
      'bytes 2-5/19',
      'film',
    ])
    expect((await through(finishedAddress(film))).status).toBe(404)
  })

  it('never shows the window key, port or cookie', async () => {
    for (const answer of [
      await through(''),
      await through('nothing'),
      await through('call/engine.about', { method: 'POST', body: '{}', headers: { 'content-type': 'application/json' } }),
    ]) {
      const all = JSON.stringify([...answer.headers]) + (await answer.text())
      for (const secret of [opened.door.key, new URL(opened.door.origin).port, 'set-cookie']) expect(all).not.toContain(secret)
    }
  })

  it('takes no key, cookie or origin from the window', async () => {
    const sent: Headers[] = []
    await forward(
      new Request(WINDOW_ADDRESS, { headers: { authorization: 'Bearer mine', cookie: 'a=b', 'x-own': '1' } }),
      opened.door,
      (_address, init) => {
        sent.push(new Headers(init.headers))
        return Promise.resolve(new Response())
      },
    )
    expect([...sent[0]!.keys()]).toEqual(['authorization'])
    expect(sent[0]!.get('authorization')).toBe(`Bearer ${opened.door.key}`)
  })

  it.each([
    ['another host on the scheme', 'claimframe://other/', {}],
    ['another scheme', 'https://films.example/', {}],
    ['a page of another origin', WINDOW_ADDRESS, { headers: { origin: 'https://films.example' } }],
    ['another method', WINDOW_ADDRESS, { method: 'DELETE' }],
  ])('is shut to %s', async (_what, address, init) => {
    const answer = await forward(new Request(address, init), opened.door, () => Promise.reject(new Error('was sent on')))
    expect(answer.status).toBe(403)
  })
})

describe('the shell’s own calls', () => {
  const ask = (name: Parameters<typeof answerShellCall>[0], body: unknown, over: Partial<Desktop> = {}): Promise<Response> =>
    answerShellCall(
      name,
      new Request(`${WINDOW_ADDRESS}call/${name}`, {
        method: 'POST',
        body: JSON.stringify(body),
        headers: { 'content-type': 'application/json' },
      }),
      desktop(over),
    )

  it('are known by their address', () => {
    expect(shellCallOf(`${WINDOW_ADDRESS}call/desktop.chooseFiles`)).toBe('desktop.chooseFiles')
    for (const path of ['call/project.state', 'desktop.chooseFiles', 'call/desktop.other'])
      expect(shellCallOf(WINDOW_ADDRESS + path)).toBeNull()
  })

  it('ask with the system’s dialogs', async () => {
    const seen: object[] = []
    const answer = await ask(
      'desktop.chooseFiles',
      { what: 'film', several: true },
      {
        chooseFiles: (options) => {
          seen.push(options)
          return Promise.resolve(['/films/a.mp4'])
        },
      },
    )
    expect(await answer.json()).toEqual({ ok: true, value: { files: ['/films/a.mp4'] } })
    expect(seen).toMatchObject([{ properties: ['openFile', 'multiSelections'], filters: [{ name: 'Films' }] }])
    expect(await (await ask('desktop.chooseTarget', { what: 'film', name: 'x.mp4' })).json()).toEqual({ ok: true, value: { file: null } })
  })

  it('show the finished file of a job, never a path that the window names', async () => {
    const shown: string[] = []
    const job = {
      id: 'j1',
      kind: 'render' as const,
      label: '',
      state: 'done' as const,
      progress: 1,
      left_s: null,
      footage: null,
      file: '/films/out.mp4',
      refusal: null,
    }
    await ask('desktop.showInFolder', { job: 'j1' }, { jobs: () => Promise.resolve([job]), showInFolder: (file) => void shown.push(file) })
    expect(shown).toEqual(['/films/out.mp4'])
    expect((await (await ask('desktop.showInFolder', { job: 'j2' })).json()).error.code).toBe('not-there')
    expect((await ask('desktop.showInFolder', { file: '/etc/passwd' })).status).toBe(400)
  })

  it('say that there is a desktop', async () => {
    const about = await withShell(
      await through('call/engine.about', { method: 'POST', body: '{}', headers: { 'content-type': 'application/json' } }),
    )
    expect((await about.json()).value).toMatchObject({ fileDialog: true, showInFolder: true })
  })
})
