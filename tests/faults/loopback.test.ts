import { mkdirSync, readFileSync, renameSync, rmdirSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { connect, createServer } from 'node:net'
import { join } from 'node:path'
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { refusalPage } from '../../main/loopback/refusal-page'
import { openTestDoor, openWindow, type OpenedDoor, type TestWindow } from '../open-door'

/// The loopback door against whoever is not its window, over real sockets: what is written is what a browser
/// or a program on this machine could send. Only 127.0.0.1 is spoken to. The rows follow OWASP's sheets on
/// cross-site request forgery and on path traversal, and RFC 6454 and the Fetch standard for what a browser
/// says of a request's origin.

let opened: OpenedDoor
let window: TestWindow
let room: string
/// The job of a film that was made.
let made: string
let port: number
const SECRET = 'SECRET-FILE-CONTENT'

beforeAll(async () => {
  opened = await openTestDoor()
  window = await openWindow(opened.door.newAddress())
  const at = new URL(window.at)
  room = at.pathname
  port = Number(at.port)
  writeFileSync(join(opened.folder, 'secret.txt'), SECRET)
  const begun = await window.client.call('project.new', { file: join(opened.folder, 'p.claimframe'), title: 'Behind the door' })
  expect(begun.ok).toBe(true)
  const film = join(opened.folder, 'film.mp4')
  const job = opened.engine.workspace.jobs.start(
    { kind: 'render', label: 'rendering film.mp4' },
    () => {
      writeFileSync(film, SECRET)
      return Promise.resolve(film)
    },
    (file) => file,
    (file) => file,
  )
  made = job.id
  await job.outcome
})
afterAll(() => opened.close())
beforeEach(() => {
  opened.refused.length = 0
})

/// Sends bytes as they are and reads until the other end is done or is silent for a while.
function send(bytes: string | readonly (string | Uint8Array)[], patience_ms = 15_000): Promise<string> {
  return new Promise((resolve) => {
    const socket = connect({ host: '127.0.0.1', port })
    const got: Buffer[] = []
    const done = (): void => {
      socket.destroy()
      resolve(Buffer.concat(got).toString('latin1'))
    }
    socket.setTimeout(patience_ms, done)
    socket.on('data', (piece) => {
      got.push(piece)
      const text = Buffer.concat(got).toString('latin1')
      const length = /content-length: (\d+)/i.exec(text)?.[1]
      const head = text.indexOf('\r\n\r\n')
      const isWhole =
        length === undefined
          ? /transfer-encoding: chunked/i.test(text.slice(0, head)) && text.endsWith('\r\n0\r\n\r\n')
          : text.length >= head + 4 + Number(length)
      if (head >= 0 && isWhole) done()
    })
    socket.on('error', done)
    socket.on('close', done)
    for (const piece of typeof bytes === 'string' ? [bytes] : bytes) socket.write(piece)
  })
}

interface Sent {
  readonly method?: string
  readonly path?: string
  readonly headers?: Readonly<Record<string, string | null>>
  readonly body?: string
}

/// A request as the window would send it, but for what is said otherwise; null leaves a header out.
function written({ method = 'GET', path = room, headers = {}, body = '' }: Sent): string {
  const all: Record<string, string | null> = {
    host: `127.0.0.1:${port}`,
    ...window.headers,
    ...(method === 'POST' ? { 'content-type': 'application/json', 'content-length': String(Buffer.byteLength(body)) } : {}),
    ...headers,
  }
  const lines = Object.entries(all)
    .filter(([, value]) => value !== null)
    .map(([name, value]) => `${name}: ${value}`)
  return `${method} ${path} HTTP/1.1\r\n${lines.join('\r\n')}\r\n\r\n${body}`
}

const statusOf = (answer: string): number => Number(/^HTTP\/1\.1 (\d+)/.exec(answer)?.[1] ?? 0)

/// Nothing of the project, the machine or the door's secrets is in an answer or a log.
function expectNothingLeaked(answer: string): void {
  const cookie = window.headers['cookie']!.split('=')[1]!
  const roomName = room.replaceAll('/', '')
  for (const secret of [SECRET, 'Behind the door', opened.folder, cookie, roomName, opened.door.key]) {
    expect(answer).not.toContain(secret)
    expect(JSON.stringify([opened.refused, opened.log.filter((line) => line['what'] === 'refused')])).not.toContain(secret)
  }
  expect(answer.toLowerCase()).not.toContain('access-control-')
  expect(answer.toLowerCase()).not.toContain('set-cookie')
}

const call = (name: string): string => `${room}call/${name}`

describe('the window itself', () => {
  it('is let in, with every answer under the same rules', async () => {
    const page = await window.fetch('')
    expect(page.status).toBe(200)
    for (const answer of [
      page,
      await window.fetch('call/engine.about', { method: 'POST', headers: { 'content-type': 'application/json' }, body: '{}' }),
      await window.fetch('nothing'),
    ]) {
      expect(answer.headers.get('content-security-policy')).toMatch(/^default-src 'none'; script-src 'self'; /)
      expect(answer.headers.get('content-security-policy')).not.toMatch(/unsafe|\*|https?:/)
      expect(answer.headers.get('cross-origin-resource-policy')).toBe('same-origin')
      expect(answer.headers.get('cross-origin-opener-policy')).toBe('same-origin')
      expect(answer.headers.get('x-content-type-options')).toBe('nosniff')
      expect(answer.headers.get('x-frame-options')).toBe('DENY')
      expect(answer.headers.get('referrer-policy')).toBe('no-referrer')
      expect([...answer.headers.keys()].filter((name) => name.startsWith('access-control-'))).toEqual([])
    }
    expect(opened.refused).toEqual([])
  })

  it('gets a cookie that no script, no other site and no other server can have', async () => {
    const address = opened.door.newAddress()
    const answer = await fetch(address, { redirect: 'manual' })
    const cookie = answer.headers.get('set-cookie')!
    expect(cookie).toMatch(/; HttpOnly(;|$)/)
    expect(cookie).toMatch(/; SameSite=Strict(;|$)/)
    expect(cookie).toContain(`; Path=${room}`)
    expect(cookie).not.toMatch(/Domain|Expires|Max-Age/i)
    expect(answer.headers.get('location')).toBe(room)
    expect(answer.headers.get('location')).not.toContain('code')
  })

  it('is answered on 127.0.0.1 and on no other address of the machine', async () => {
    const { networkInterfaces } = await import('node:os')
    const others = Object.values(networkInterfaces())
      .flatMap((all) => all ?? [])
      .filter((each) => each.family === 'IPv4' && each.address !== '127.0.0.1')
      .map((each) => each.address)
    for (const host of [...others, '127.0.0.2']) {
      const reached = await new Promise<boolean>((resolve) => {
        const socket = connect({ host, port, timeout: 500 })
        socket
          .on('connect', () => resolve(true))
          .on('error', () => resolve(false))
          .on('timeout', () => resolve(false))
        socket.once('connect', () => socket.destroy())
      })
      expect(reached).toBe(false)
    }
    // The check itself: a server on every address is reached where this one is not.
    const open = createServer().listen(0, '0.0.0.0')
    await new Promise((resolve) => open.once('listening', resolve))
    const reached = await new Promise<boolean>((resolve) => {
      const socket = connect({ host: '127.0.0.2', port: (open.address() as { port: number }).port })
        .on('connect', () => resolve(true))
        .on('error', () => resolve(false))
      socket.once('connect', () => socket.destroy())
    })
    open.close()
    expect(reached).toBe(true)
  })
})

const rows: readonly (readonly [string, () => Sent, number])[] = [
  ['no cookie', () => ({ headers: { cookie: null } }), 401],
  ['a wrong cookie', () => ({ headers: { cookie: 'claimframe=AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA' } }), 401],
  ['a cookie of another name', () => ({ headers: { cookie: window.headers['cookie']!.replace('claimframe', 'other') } }), 401],
  ['the right cookie, the wrong room', () => ({ path: '/AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA/' }), 404],
  ['the right cookie, no room', () => ({ path: '/call/project.state', method: 'POST', body: '{}' }), 404],
  [
    'a wrong key',
    () => ({
      path: '/call/project.state',
      method: 'POST',
      body: '{}',
      headers: { authorization: 'Bearer AAAAAAAAAAAAAAAA', cookie: null },
    }),
    401,
  ],
  [
    'a foreign origin',
    () => ({
      path: call('project.state'),
      method: 'POST',
      body: '{}',
      headers: { origin: 'https://films.example', 'sec-fetch-site': 'cross-site' },
    }),
    403,
  ],
  [
    'a foreign origin that says nothing of its site',
    () => ({
      path: call('project.state'),
      method: 'POST',
      body: '{}',
      headers: { origin: 'https://films.example', 'sec-fetch-site': null },
    }),
    403,
  ],
  [
    'a page of another port of this machine',
    () => ({
      path: call('project.state'),
      method: 'POST',
      body: '{}',
      headers: { origin: 'http://127.0.0.1:1', 'sec-fetch-site': 'same-site' },
    }),
    403,
  ],
  [
    'a page in a sandbox',
    () => ({ path: call('project.state'), method: 'POST', body: '{}', headers: { origin: 'null', 'sec-fetch-site': 'cross-site' } }),
    403,
  ],
  [
    'a foreign host that resolves here (rebinding)',
    () => ({ headers: { host: `films.example:${port}`, origin: `http://films.example:${port}` } }),
    403,
  ],
  ['a foreign host with our origin', () => ({ headers: { host: `films.example:${port}` } }), 403],
  ['localhost by name', () => ({ headers: { host: `localhost:${port}` } }), 403],
  ['a host without its port', () => ({ headers: { host: '127.0.0.1' } }), 403],
  [
    'a foreign page’s form',
    () => ({
      path: call('project.close'),
      method: 'POST',
      body: 'title=x',
      headers: { 'content-type': 'application/x-www-form-urlencoded', origin: 'https://films.example', 'sec-fetch-site': 'cross-site' },
    }),
    403,
  ],
  [
    'a foreign page’s form that says JSON as text',
    () => ({
      path: call('project.close'),
      method: 'POST',
      body: '{}',
      headers: { 'content-type': 'text/plain', origin: 'https://films.example', 'sec-fetch-site': null },
    }),
    403,
  ],
  [
    'a form without an origin',
    () => ({ path: call('project.close'), method: 'POST', body: '{}', headers: { origin: null, 'sec-fetch-site': null } }),
    403,
  ],
  [
    'a foreign page’s picture of a film',
    () => ({ path: `${room}media/f1`, headers: { origin: null, 'sec-fetch-site': 'cross-site', 'sec-fetch-dest': 'image' } }),
    403,
  ],
  [
    'a foreign page’s look at a finished film',
    () => ({ path: `${room}finished/${made}`, headers: { origin: null, 'sec-fetch-site': 'cross-site', 'sec-fetch-dest': 'video' } }),
    403,
  ],
  ['a finished film without a cookie', () => ({ path: `${room}finished/${made}`, headers: { cookie: null } }), 401],
  ['a finished film without the room', () => ({ path: `/finished/${made}` }), 404],
  [
    'a finished film for a page of another port',
    () => ({ path: `${room}finished/${made}`, headers: { origin: 'http://127.0.0.1:1', 'sec-fetch-site': 'same-site' } }),
    403,
  ],
  ['a file beside a finished film', () => ({ path: `${room}finished/${made}%2f..%2fsecret.txt` }), 400],
  ['a foreign page’s frame', () => ({ headers: { origin: null, 'sec-fetch-site': 'cross-site', 'sec-fetch-dest': 'iframe' } }), 403],
  ...['PUT', 'DELETE', 'PATCH', 'OPTIONS', 'TRACE', 'PROPFIND'].map(
    (method) => [`the method ${method}`, () => ({ method, path: call('project.state') }), 405] as const,
  ),
  ['a way out', () => ({ path: `${room}../../secret.txt` }), 400],
  ['an encoded way out', () => ({ path: `${room}%2e%2e/%2e%2e/secret.txt` }), 400],
  ['encoded slashes', () => ({ path: `${room}..%2f..%2fsecret.txt` }), 400],
  ['a way out encoded twice', () => ({ path: `${room}%252e%252e%252fsecret.txt` }), 404],
  ['backslashes', () => ({ path: `${room}..\\..\\secret.txt` }), 400],
  ['encoded backslashes', () => ({ path: `${room}..%5c..%5csecret.txt` }), 400],
  ['a NUL', () => ({ path: `${room}index.html%00` }), 400],
  ['overlong letters', () => ({ path: `${room}%c0%ae%c0%ae/secret.txt` }), 400],
  ['a way out in a film’s name', () => ({ path: `${room}media/..%2fsecret.txt` }), 400],
  ['an absolute path as a film’s name', () => ({ path: `${room}media/%2fetc%2fpasswd` }), 404],
  ['a way out encoded twice in a take’s name', () => ({ path: `${room}takes/%252e%252e%252fsecret.txt` }), 404],
  ['a file beside the page', () => ({ path: `${room}../secret.txt` }), 400],
  ['a whole address', () => ({ path: `http://127.0.0.1:${port}${room}` }), 400],
  ['a broken encoding', () => ({ path: `${room}%zz` }), 400],
]

describe('whoever is not the window', () => {
  it.each(rows)('is refused: %s', async (_what, sent, status) => {
    const answer = await send(written(sent()))
    expect(statusOf(answer)).toBe(status)
    expectNothingLeaked(answer)
    const still = await window.client.call('project.state', {})
    expect(still.ok).toBe(true)
  })

  it('is written down, reason and all, each time', async () => {
    const atGate = rows.filter(([what]) => !/twice|absolute path/.test(what))
    for (const [, sent] of atGate) await send(written(sent()))
    expect(opened.refused).toHaveLength(atGate.length)
    for (const line of opened.refused)
      expect(line).toMatchObject({
        method: expect.any(String),
        path: expect.any(String),
        status: expect.any(Number),
        reason: expect.stringMatching(/\w/),
      })
  })

  it('cannot write into the log what looks like another line, nor much', async () => {
    await send(written({ path: `${room}a%0d%0a${'x'.repeat(3000)}`, headers: { cookie: null } }))
    await send(`GET /\u00e9\u001b[31m HTTP/1.1\r\nhost: 127.0.0.1:${port}\r\n\r\n`)
    expect(opened.refused.every(({ path }) => path.length <= 220 && /^[\x21-\x7e…]*$/.test(path))).toBe(true)
  })

  it('learns nothing from the answer but that it was refused', async () => {
    const bodies = await Promise.all(
      rows
        .filter(([, sent]) => sent().method !== 'OPTIONS')
        .slice(0, 12)
        .map(async ([, sent]) => (await send(written(sent()))).split('\r\n\r\n')[1]),
    )
    expect(new Set(bodies)).toEqual(new Set([refusalPage(false)]))
  })
})

describe('a one-time code', () => {
  it('opens a window once', async () => {
    const address = opened.door.newAddress()
    expect((await fetch(address, { redirect: 'manual' })).status).toBe(303)
    const again = await fetch(address, { redirect: 'manual', headers: { accept: 'text/html' } })
    expect(again.status).toBe(401)
    expect(again.headers.get('set-cookie')).toBeNull()
    expect(await again.text()).toContain('claimframe open')
    expect(opened.refused).toMatchObject([{ reason: 'wrong or used code', path: '/' }])
  })

  it('is not used up by a guess, nor by a browser that looks ahead', async () => {
    const address = opened.door.newAddress()
    expect((await fetch(`${opened.door.origin}/?code=guess`, { redirect: 'manual' })).status).toBe(401)
    expect((await fetch(address, { redirect: 'manual', headers: { 'sec-purpose': 'prefetch;prerender' } })).status).toBe(403)
    expect((await fetch(address, { redirect: 'manual' })).status).toBe(303)
  })

  it('is made for the key alone', async () => {
    expect(statusOf(await send(written({ path: `${room}new-code`, method: 'POST', body: '' })))).toBe(404)
    const made = await fetch(`${opened.door.origin}/new-code`, { method: 'POST', headers: { authorization: `Bearer ${opened.door.key}` } })
    expect((await fetch((await made.json()).value.address, { redirect: 'manual' })).status).toBe(303)
  })
})

describe('huge and crooked requests', () => {
  it('a body that says it is huge is refused unread', async () => {
    const answer = await send([
      written({ path: call('project.open'), method: 'POST', headers: { 'content-length': '9000000000' } }),
      '{"file":"',
    ])
    expect(statusOf(answer)).toBe(413)
    expectNothingLeaked(answer)
  })

  it('a body that turns out huge is given up in time', async () => {
    const before = process.memoryUsage().rss
    const body = new ReadableStream<Uint8Array>({
      pull(controller) {
        controller.enqueue(new Uint8Array(1_000_000).fill(0x20))
      },
    })
    const answer = await window
      .fetch('call/project.open', { method: 'POST', headers: { 'content-type': 'application/json' }, body, duplex: 'half' } as RequestInit)
      .catch((error: unknown) => error)
    if (answer instanceof Response) expect(answer.status).toBe(413)
    else expect(answer).toBeInstanceOf(TypeError)
    expect(process.memoryUsage().rss - before).toBeLessThan(150_000_000)
    expect((await window.client.call('project.state', {})).ok).toBe(true)
  })

  it('a piece of a recording that is too large is refused, and none of it kept', async () => {
    const take = await window.client.call('takes.begin', { paragraph: 'p1', sampleRate: 48_000 })
    if (!take.ok) throw new Error(take.error.message)
    const answer = await window
      .fetch(`takes/${take.value.id}?offset=0`, {
        method: 'POST',
        headers: { 'content-type': 'application/octet-stream' },
        body: new Uint8Array(8_000_001),
      })
      .catch((error: unknown) => error)
    if (answer instanceof Response) expect(answer.status).toBe(413)
    const takes = await window.client.call('takes.list', {})
    expect(takes.ok && takes.value.takes).toMatchObject([{ bytes: 0 }])
  })

  it.each([
    ['a long head', () => `GET ${room} HTTP/1.1\r\nhost: 127.0.0.1:${port}\r\nx: ${'y'.repeat(20_000)}\r\n\r\n`],
    [
      'two lengths',
      () => `POST ${call('project.state')} HTTP/1.1\r\nhost: 127.0.0.1:${port}\r\ncontent-length: 2\r\ncontent-length: 3\r\n\r\n{}`,
    ],
    [
      'a length and pieces',
      () =>
        `POST ${call('project.state')} HTTP/1.1\r\nhost: 127.0.0.1:${port}\r\ncontent-length: 2\r\ntransfer-encoding: chunked\r\n\r\n0\r\n\r\n`,
    ],
    [
      'two hosts',
      () => `GET ${room} HTTP/1.1\r\nhost: 127.0.0.1:${port}\r\nhost: films.example\r\ncookie: ${window.headers['cookie']}\r\n\r\n`,
    ],
    ['no host', () => `GET ${room} HTTP/1.0\r\ncookie: ${window.headers['cookie']}\r\n\r\n`],
    ['no HTTP', () => 'hello there\r\n\r\n'],
    [
      'a socket for two ways',
      () =>
        `GET ${room} HTTP/1.1\r\nhost: 127.0.0.1:${port}\r\nconnection: upgrade\r\nupgrade: websocket\r\ncookie: ${window.headers['cookie']}\r\n\r\n`,
    ],
    ['a tunnel', () => `CONNECT films.example:80 HTTP/1.1\r\nhost: films.example:80\r\n\r\n`],
  ])('%s gets nothing', async (_what, bytes) => {
    const answer = await send(bytes())
    expect(statusOf(answer)).not.toBe(200)
    expectNothingLeaked(answer)
    expect((await window.client.call('project.state', {})).ok).toBe(true)
  })

  it('a form is refused even from the window’s own origin: a call is JSON', async () => {
    for (const type of ['text/plain', 'application/x-www-form-urlencoded', 'multipart/form-data; boundary=x', '']) {
      const answer = await window.fetch('call/project.close', { method: 'POST', headers: { 'content-type': type }, body: '{}' })
      expect(answer.status).toBe(415)
    }
    expect(
      (await window.fetch('footage?name=a.mp4', { method: 'POST', headers: { 'content-type': 'text/plain' }, body: 'x' })).status,
    ).toBe(415)
  })

  it('an engine that fails unexpectedly says so without its insides', async () => {
    const { openDoor } = await import('../../main/loopback/door')
    const faults: unknown[] = []
    const door = await openDoor({
      engine: () => Promise.reject(new Error(SECRET)),
      onRefused: () => undefined,
      onFault: (error) => void faults.push(error),
    })
    const other = await openWindow(door.newAddress())
    const answer = await other.fetch('').then(
      (r) => r.text(),
      (error: unknown) => String(error),
    )
    expect(answer).not.toContain(SECRET)
    expect(faults).toHaveLength(1)
    await door.close()
  })
})

it('holds the project’s own file back: no address leads to it', async () => {
  const bytes = readFileSync(join(opened.folder, 'p.claimframe'))
  for (const path of [
    'p.claimframe',
    'media/p.claimframe',
    'takes/p.claimframe',
    'wave/p.claimframe',
    'faces/p.claimframe',
    'state/recent.json',
  ]) {
    const answer = await window.fetch(path)
    expect(answer.status).toBe(404)
    expect(Buffer.from(await answer.arrayBuffer()).includes(bytes.subarray(0, 16))).toBe(false)
  }
})

describe('a finished film', () => {
  const ask = (job: string, headers: Readonly<Record<string, string>> = {}, method = 'GET'): Promise<Response> =>
    window.fetch(`finished/${job}`, { method, headers })

  it('is given to the window whole and by ranges (RFC 9110, section 14), as a film that no page takes for a page', async () => {
    const whole = await ask(made)
    expect([whole.status, await whole.text()]).toEqual([200, SECRET])
    expect([
      whole.headers.get('content-type'),
      whole.headers.get('accept-ranges'),
      whole.headers.get('cache-control'),
      whole.headers.get('x-content-type-options'),
    ]).toEqual(['video/mp4', 'bytes', 'no-store', 'nosniff'])
    const part = await ask(made, { range: 'bytes=7-10' })
    expect([part.status, part.headers.get('content-range'), await part.text()]).toEqual([206, `bytes 7-10/${SECRET.length}`, 'FILE'])
    const last = await ask(made, { range: 'bytes=-7' })
    expect([last.status, await last.text()]).toEqual([206, 'CONTENT'])
    expect((await ask(made, { range: 'bytes=99-' })).status).toBe(416)
    const head = await ask(made, {}, 'HEAD')
    expect([head.status, head.headers.get('content-length'), await head.text()]).toEqual([200, String(SECRET.length), ''])
  })

  it('is had by the job alone: not by a path or a name, nor by anything below it, and it is only read', async () => {
    const film = join(opened.folder, 'film.mp4')
    for (const other of [
      encodeURIComponent(film),
      'film.mp4',
      encodeURIComponent(`${made}/../${film}`),
      `${made}/secret.txt`,
      `${made}%00`,
      `${made.slice(0, -1)}`,
      made.toUpperCase() === made ? `${made}a` : made.toUpperCase(),
      '',
      'constructor',
      '__proto__',
    ]) {
      const answer = await ask(other)
      expect([other, answer.ok]).toEqual([other, false])
      expect(await answer.text()).not.toContain(SECRET)
    }
    expect(
      (await window.fetch(`finished/${made}`, { method: 'POST', headers: { 'content-type': 'application/octet-stream' }, body: 'x' }))
        .status,
    ).toBe(404)
    expect(readFileSync(film, 'utf8')).toBe(SECRET)
  })

  it('is nothing where a job made none, failed, was cancelled or is not done', async () => {
    const { jobs } = opened.engine.workspace
    const film = join(opened.folder, 'film.mp4')
    const path = (file: string): string => file
    let end = (): void => undefined
    const going = jobs.start(
      { kind: 'render', label: 'rendering' },
      () => new Promise<string>((done) => (end = () => done(film))),
      path,
      path,
    )
    expect((await ask(going.id)).status).toBe(404)
    end()
    await going.outcome
    expect((await ask(going.id)).status).toBe(200)
    const others = [
      jobs.start({ kind: 'gather', label: 'gathering' }, () => Promise.resolve(film), path),
      jobs.start({ kind: 'render', label: 'rendering' }, () => Promise.reject<string>(new Error('no')), path, path),
      jobs.start({ kind: 'render', label: 'rendering' }, () => Promise.resolve(join(opened.folder, 'never.mp4')), path, path),
    ]
    await Promise.all(others.map(({ outcome }) => outcome))
    const cancelled = jobs.start(
      { kind: 'render', label: 'rendering' },
      ({ signal }) => new Promise<string>((_done, fail) => signal.addEventListener('abort', () => fail(signal.reason as Error))),
      path,
      path,
    )
    jobs.cancel(cancelled.id)
    await cancelled.outcome
    for (const { id } of [...others, cancelled]) expect((await ask(id)).status).toBe(404)
  })

  it('is gone with its file, and another file at its place is not given out', async () => {
    const film = join(opened.folder, 'film.mp4')
    renameSync(film, join(opened.folder, 'moved.mp4'))
    expect((await ask(made)).status).toBe(404)
    writeFileSync(film, 'OTHER-FILE-CONTENT!')
    const other = await ask(made)
    expect(other.status).toBe(404)
    expect(await other.text()).not.toContain('OTHER')
    rmSync(film)
    symlinkSync(join(opened.folder, 'secret.txt'), film)
    expect((await ask(made)).status).toBe(404)
    rmSync(film)
    mkdirSync(film)
    expect((await ask(made)).status).toBe(404)
    rmdirSync(film)
    renameSync(join(opened.folder, 'moved.mp4'), film)
    expect(await (await ask(made)).text()).toBe(SECRET)
  })
})
