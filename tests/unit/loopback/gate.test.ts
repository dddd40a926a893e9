import type { IncomingHttpHeaders } from 'node:http'
import { describe, expect, it } from 'vitest'
import { decide, type DoorFacts, type RequestHead } from '../../../main/loopback/gate'

const door: DoorFacts = { port: 4711, room: 'room-secret', cookie: 'cookie-secret', key: 'key-secret' }
const own = '127.0.0.1:4711'

function head(target: string, headers: IncomingHttpHeaders = {}, method = 'GET'): RequestHead {
  return { method, target, headers: { host: own, ...headers }, hosts: 1 }
}

const cookie = { cookie: 'claimframe=cookie-secret' }
const page = { ...cookie, origin: `http://${own}`, 'sec-fetch-site': 'same-origin' }
const bearer = { authorization: 'Bearer key-secret' }

describe('who is let in', () => {
  it('lets the window in, and takes the room off the path', () => {
    expect(decide(head('/room-secret/', { ...cookie, 'sec-fetch-site': 'none' }), door)).toEqual({ kind: 'pass', path: '/', by: 'window' })
    expect(decide(head('/room-secret/media/f1', page), door)).toEqual({ kind: 'pass', path: '/media/f1', by: 'window' })
    expect(decide(head('/room-secret/still/f1/12?width=96', page), door)).toEqual({
      kind: 'pass',
      path: '/still/f1/12?width=96',
      by: 'window',
    })
    expect(decide(head('/room-secret/call/project.state', page, 'POST'), door)).toEqual({
      kind: 'pass',
      path: '/call/project.state',
      by: 'window',
    })
  })

  it('finds its cookie among others', () => {
    expect(decide(head('/room-secret/', { cookie: 'a=b; claimframe=cookie-secret; c=d' }), door)).toMatchObject({ kind: 'pass' })
  })

  it('lets whoever has the key in, without a room', () => {
    expect(decide(head('/call/project.state', bearer, 'POST'), door)).toEqual({ kind: 'pass', path: '/call/project.state', by: 'key' })
    expect(decide(head('/media/f1?x=1', bearer), door)).toEqual({ kind: 'pass', path: '/media/f1?x=1', by: 'key' })
  })

  it('makes new codes for the key alone', () => {
    expect(decide(head('/new-code', bearer, 'POST'), door)).toEqual({ kind: 'new-code' })
    expect(decide(head('/room-secret/new-code', page, 'POST'), door)).toEqual({ kind: 'pass', path: '/new-code', by: 'window' })
  })

  it('takes a code at the root', () => {
    expect(decide(head('/?code=abc', { 'sec-fetch-site': 'none' }), door)).toEqual({ kind: 'exchange', code: 'abc' })
  })
})

/// [what, request, status]
const refused: readonly (readonly [string, RequestHead, number])[] = [
  ['no cookie', head('/room-secret/'), 401],
  ['a wrong cookie', head('/room-secret/', { cookie: 'claimframe=guess' }), 401],
  ['an empty cookie', head('/room-secret/', { cookie: 'claimframe=' }), 401],
  ['a cookie given twice', head('/room-secret/', { cookie: 'claimframe=guess; claimframe=cookie-secret' }), 401],
  ['a wrong room', head('/elsewhere/', cookie), 404],
  ['the root without a code', head('/', cookie), 401],
  ['a wrong key', head('/call/project.state', { authorization: 'Bearer guess' }, 'POST'), 401],
  ['a key of another kind', head('/call/project.state', { authorization: 'Basic key-secret' }, 'POST'), 401],
  ['a wrong key beside the right cookie', head('/room-secret/', { ...cookie, authorization: 'Bearer guess' }), 401],
  ['a name that leads here (rebinding)', head('/room-secret/', { ...cookie, host: 'films.example:4711' }), 403],
  ['localhost by name', head('/room-secret/', { ...cookie, host: 'localhost:4711' }), 403],
  ['another port in the host', head('/room-secret/', { ...cookie, host: '127.0.0.1:80' }), 403],
  ['no host', { ...head('/room-secret/', cookie), hosts: 0 }, 403],
  ['two hosts', { ...head('/room-secret/', cookie), hosts: 2 }, 403],
  ['a foreign origin', head('/room-secret/', { ...page, origin: 'http://films.example' }), 403],
  ['another port of this machine', head('/room-secret/', { ...page, origin: 'http://127.0.0.1:80' }), 403],
  ['an origin that hides itself', head('/room-secret/', { ...page, origin: 'null' }), 403],
  ['our name under another scheme', head('/room-secret/', { ...page, origin: `https://${own}` }), 403],
  ['a foreign page’s picture', head('/room-secret/media/f1', { ...cookie, 'sec-fetch-site': 'cross-site' }), 403],
  ['a picture in a page of another port', head('/room-secret/media/f1', { ...cookie, 'sec-fetch-site': 'same-site' }), 403],
  [
    'a foreign page’s form',
    head('/room-secret/call/project.close', { ...cookie, origin: 'http://films.example', 'sec-fetch-site': 'cross-site' }, 'POST'),
    403,
  ],
  ['a form without an origin', head('/room-secret/call/project.close', cookie, 'POST'), 403],
  [
    'a post that a person is said to have typed',
    head('/room-secret/call/project.close', { ...page, 'sec-fetch-site': 'none' }, 'POST'),
    403,
  ],
  ['a link with a code on a foreign page', head('/?code=abc', { 'sec-fetch-site': 'cross-site' }), 403],
  ['a code that a browser looks ahead with', head('/?code=abc', { 'sec-purpose': 'prefetch;prerender' }), 403],
  ...['PUT', 'DELETE', 'PATCH', 'OPTIONS', 'TRACE', 'PROPFIND', 'get'].map(
    (method) => [`the method ${method}`, head('/room-secret/', page, method), 405] as const,
  ),
  ['a way out of the folder', head('/room-secret/../../etc/passwd', page), 400],
  ['an encoded way out', head('/room-secret/%2e%2e/%2e%2e/etc/passwd', page), 400],
  ['an encoded slash in a way out', head('/room-secret/..%2f..%2fetc/passwd', page), 400],
  ['backslashes', head('/room-secret/..\\..\\etc\\passwd', page), 400],
  ['encoded backslashes', head('/room-secret/..%5c..%5cetc%5cpasswd', page), 400],
  ['a NUL', head('/room-secret/index.html%00.png', page), 400],
  ['a broken encoding', head('/room-secret/%E0%A4%A', page), 400],
  ['a line break', head('/room-secret/a%0d%0ax: y', page), 400],
  ['a whole address as a path', head(`http://${own}/room-secret/`, page), 400],
  ['a path with a host in it', head('//films.example/room-secret/', page), 400],
  ['a very long path', head('/room-secret/' + 'a'.repeat(5000), page), 400],
]

describe('who is refused', () => {
  it.each(refused)('%s', (_what, request, status) => {
    expect(decide(request, door)).toMatchObject({ kind: 'refuse', status })
  })

  it('says why without a secret in it', () => {
    for (const [, request] of refused) expect(JSON.stringify(decide(request, door))).not.toMatch(/secret/)
  })
})
