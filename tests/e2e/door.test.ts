import { createServer, type IncomingMessage, type Server } from 'node:http'
import type { AddressInfo } from 'node:net'
import { join } from 'node:path'
import { readFileSync } from 'node:fs'
import type { Browser, BrowserContext, Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { findFfmpeg } from '../../main/media/find-ffmpeg'
import { startChromium } from '../chromium'
import { makePatternFilm } from '../film-patterns'
import { openTestDoor, type OpenedDoor } from '../open-door'

/// The loopback door with a real browser before it: what Chromium itself does with our cookie, our headers and
/// our addresses, and what it lets a foreign page do. The foreign page is a server on another port of this machine,
/// which is the nearest a stranger can come: same site, same host, another origin.

let opened: OpenedDoor
let browser: Browser
let context: BrowserContext
let page: Page
let stranger: Server
let strangersOrigin: string
const strangersVisitors: IncomingMessage[] = []

beforeAll(async () => {
  opened = await openTestDoor({
    'index.html':
      '<!doctype html><meta charset="utf-8"><title>Claimframe</title><h1>The window</h1><script type="module" src="./assets/window.js"></script><script>document.title = "inline"</script>',
    'assets/window.js':
      'const { dataset } = document.querySelector("h1")\ndataset.ran = "yes"\ntry { dataset.made = new Function("return 1")() } catch { dataset.made = "kept off" }',
  })
  stranger = createServer((request, response) => {
    strangersVisitors.push(request)
    response.setHeader('content-type', 'text/html')
    response.end('<!doctype html><title>stranger</title><body></body>')
  })
  await new Promise<void>((done) => stranger.listen(0, '127.0.0.1', done))
  strangersOrigin = `http://127.0.0.1:${(stranger.address() as AddressInfo).port}`
  browser = await startChromium()
})
afterAll(async () => {
  await browser.close()
  stranger.closeAllConnections()
  stranger.close()
  await opened.close()
})
beforeEach(async () => {
  context = await browser.newContext()
  page = await context.newPage()
  opened.refused.length = 0
})
afterEach(() => context.close())

interface Answer {
  readonly status: number
  readonly body: { readonly ok: boolean; readonly value: Record<string, unknown> }
}

const call = (name: string, input: object): Promise<Answer> =>
  page.evaluate(
    async ([address, body]) => {
      const answer = await fetch(address!, { method: 'POST', headers: { 'content-type': 'application/json' }, body: body! })
      return { status: answer.status, body: (await answer.json()) as { ok: boolean; value: Record<string, unknown> } }
    },
    [`call/${name}`, JSON.stringify(input)],
  )

describe('a window in Chromium', () => {
  it('opens at its address once, and leaves no code behind', async () => {
    const address = opened.door.newAddress()
    await page.goto(address)
    expect(await page.locator('h1').getAttribute('data-ran')).toBe('yes')
    expect(page.url()).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/[\w-]{32}\/$/)
    expect(await page.evaluate(() => document.cookie)).toBe('')
    await page.reload()
    expect(await page.locator('h1').textContent()).toBe('The window')
    const other = await browser.newContext()
    const second = await other.newPage()
    expect((await second.goto(address))?.status()).toBe(401)
    expect((await second.goto(page.url()))?.status()).toBe(401)
    await other.close()
  })

  it('runs no script that is not a file of ours, and asks nobody else', async () => {
    await page.goto(opened.door.newAddress())
    expect(await page.title()).toBe('Claimframe')
    const reached = await page.evaluate(
      (origin) =>
        fetch(origin, { mode: 'no-cors' }).then(
          () => 'reached',
          () => 'kept off',
        ),
      strangersOrigin,
    )
    expect(reached).toBe('kept off')
    expect(await page.locator('h1').getAttribute('data-made')).toBe('kept off')
    expect(await page.evaluate(() => window.crossOriginIsolated)).toBe(true)
  })

  it('works through the contract: a project, a film, its bytes in ranges, an exact frame', async () => {
    await page.goto(opened.door.newAddress())
    const made = await call('project.new', { file: join(opened.folder, 'p.claimframe'), title: 'In the browser' })
    expect(made).toMatchObject({ status: 200, body: { ok: true, value: { title: 'In the browser' } } })
    const film = join(opened.folder, 'bout.mp4')
    await makePatternFilm(await findFfmpeg(), film, { frames: 30, rate: '25', width: 320, height: 180 })
    expect((await call('footage.add', { files: [film] })).body.value['added']).toEqual([{ id: 'f1', file: 'bout.mp4' }])
    await expect.poll(async () => (await call('footage.facts', {})).body.value['films']).toMatchObject([{ state: 'ready', frames: 30 }])
    const bytes = readFileSync(film)
    const part = await page.evaluate(async () => {
      const answer = await fetch('media/f1', { headers: { range: 'bytes=1000-1999' } })
      return { status: answer.status, range: answer.headers.get('content-range'), bytes: [...new Uint8Array(await answer.arrayBuffer())] }
    })
    expect([part.status, part.range]).toEqual([206, `bytes 1000-1999/${bytes.length}`])
    expect(Buffer.from(part.bytes).equals(bytes.subarray(1000, 2000))).toBe(true)
    const size = await page.evaluate(async () => {
      const picture = new Image()
      picture.src = 'still/f1/7?width=160'
      await picture.decode()
      return [picture.naturalWidth, picture.naturalHeight]
    })
    expect(size).toEqual([160, 90])
  })

  it('hears of what another window does', async () => {
    await page.goto(opened.door.newAddress())
    const state = (await call('project.state', {})).body.value
    // Until an edit is among them: the film that was added may still be told of.
    const waiting = page.evaluate(
      async ([engine, after]) => {
        const kinds: string[] = []
        for (let at = after; !kinds.includes('edits');) {
          const { value } = (await (await fetch(`events?engine=${engine}&after=${at}`)).json()) as {
            value: { events: { kind: string }[]; next: unknown }
          }
          kinds.push(...value.events.map(({ kind }) => kind))
          at = value.next
        }
        return kinds
      },
      [state['engine'], state['after']] as const,
    )
    const second = await context.newPage()
    await second.goto(opened.door.newAddress())
    await second.evaluate(async (base) => {
      const edit = {
        id: 'other-window-1',
        label: 'Add Nela',
        group: null,
        steps: [],
        diffs: [{ table: 'subjects', change: 'added', key: 's1', record: { id: 's1', name: 'Nela Varga' }, after: null }],
        selection: null,
        base,
      }
      await fetch('call/edit.apply', { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify({ edit }) })
    }, state['version'])
    expect(await waiting).toContain('edits')
  })
})

describe('a foreign page in the same browser, while the window is open', () => {
  let room: string

  beforeEach(async () => {
    await page.goto(opened.door.newAddress())
    room = page.url()
    page = await context.newPage()
    strangersVisitors.length = 0
    await page.goto(strangersOrigin)
  })

  it('gets no cookie of ours, though it is on the same host', () => {
    expect(strangersVisitors).not.toHaveLength(0)
    expect(strangersVisitors.map((request) => request.headers.cookie)).toEqual(strangersVisitors.map(() => undefined))
  })

  it('cannot read, post, embed or show anything of ours, even knowing the secret path', async () => {
    const outcome = await page.evaluate(async (at) => {
      const ask = (path: string, init?: RequestInit): Promise<string> =>
        fetch(at + path, { credentials: 'include', ...init }).then(
          async (r) => `${r.status} ${await r.text()}`,
          () => 'kept off',
        )
      const picture = new Image()
      const shown = new Promise<string>((done) => {
        picture.onload = () => done('shown')
        picture.onerror = () => done('kept off')
      })
      picture.src = `${at}still/f1/7?width=160`
      const script = document.createElement('script')
      const ran = new Promise<string>((done) => {
        script.onload = () => done('ran')
        script.onerror = () => done('kept off')
      })
      script.src = `${at}assets/window.js`
      document.body.append(script)
      return {
        read: await ask('call/project.state', { method: 'POST', headers: { 'content-type': 'application/json' }, body: '{}' }),
        simple: await ask('call/project.close', { method: 'POST', headers: { 'content-type': 'text/plain' }, body: '{}' }),
        blind: await fetch(`${at}call/project.close`, { method: 'POST', mode: 'no-cors', credentials: 'include', body: '{}' }).then(
          (r) => r.type,
          () => 'kept off',
        ),
        media: await ask('media/f1'),
        shown: await shown,
        ran: await ran,
      }
    }, room)
    expect(outcome).toMatchObject({ read: 'kept off', simple: 'kept off', media: 'kept off', shown: 'kept off', ran: 'kept off' })
    // A blind post is sent by the browser, and refused at the door.
    expect(opened.refused.map(({ reason }) => reason)).toEqual(expect.arrayContaining(['foreign origin', 'sent by a foreign page']))
    expect(opened.engine.workspace.maybeOpened).not.toBeNull()
  })

  it('cannot send a form, nor put us in a frame', async () => {
    await page.setContent(
      `<form method="post" enctype="text/plain" action="${room}call/project.close"><input name='{"a":"' value='"}'></form><iframe src="${room}"></iframe>`,
    )
    await page.frames()[1]!.waitForLoadState()
    expect(
      await page
        .frames()[1]
        ?.evaluate(() => document.body?.textContent ?? '')
        .catch(() => ''),
    ).not.toContain('The window')
    const sent = page.waitForResponse((response) => response.url().includes('project.close'))
    await page.evaluate(() => document.forms[0]!.submit())
    expect((await sent).status()).toBe(403)
    expect(opened.engine.workspace.maybeOpened).not.toBeNull()
  })

  it('cannot come in by a name of its own that leads here', async () => {
    const rebound = await browser.newContext()
    const visitor = await rebound.newPage()
    // Chromium takes any name below localhost to this machine, so it stands for a name that was rebound.
    const answer = await visitor.goto(room.replace('127.0.0.1', 'films.localhost'))
    expect(answer?.status()).toBe(403)
    expect(opened.refused.at(-1)?.reason).toBe('foreign host')
    await rebound.close()
  })
})
