import type { IncomingHttpHeaders } from 'node:http'
import { isSecret } from './secret'

/// Who may come in, decided on a request's head alone. Everything is refused that is not named here.

/// What the door knows of itself.
export interface DoorFacts {
  readonly port: number
  /// First part of every path of the window. It is secret because cookies know no ports: another
  /// server on this machine never sees a cookie that is bound to a path it cannot name.
  readonly room: string
  readonly cookie: string
  /// Opens the door to the desktop shell and to the user's own programs.
  readonly key: string
}

export interface RequestHead {
  readonly method: string
  /// As it came: a path with its query.
  readonly target: string
  readonly headers: IncomingHttpHeaders
  /// Number of Host headers.
  readonly hosts: number
}

export type Decision =
  /// `path` is what the engine is asked for, room taken off.
  | { readonly kind: 'pass'; readonly path: string; readonly by: 'window' | 'key' }
  | { readonly kind: 'exchange'; readonly code: string }
  | { readonly kind: 'new-code' }
  | { readonly kind: 'refuse'; readonly status: 400 | 401 | 403 | 404 | 405; readonly reason: string }

export const COOKIE_NAME = 'claimframe'
export const methods = ['GET', 'HEAD', 'POST'] as const
const TARGET_LENGTH = 4096

export function decide(head: RequestHead, door: DoorFacts): Decision {
  const own = `127.0.0.1:${door.port}`
  if (head.hosts !== 1 || head.headers.host !== own) return refuse(403, 'foreign host')
  if (!methods.some((method) => method === head.method)) return refuse(405, 'method')
  const misuse = problemOfTarget(head.target)
  if (misuse !== null) return refuse(400, misuse)
  const origin = head.headers.origin
  if (origin !== undefined && origin !== `http://${own}`) return refuse(403, 'foreign origin')
  const site = head.headers['sec-fetch-site']
  if (site !== undefined && site !== 'same-origin' && !(site === 'none' && head.method === 'GET'))
    return refuse(403, 'sent by a foreign page')

  const [path = '/', query = ''] = splitOnce(head.target, '?')
  const bearer = /^Bearer (\S+)$/.exec(head.headers.authorization ?? '')?.[1]
  if (head.headers.authorization !== undefined) {
    if (!isSecret(bearer, door.key)) return refuse(401, 'wrong key')
    return path === '/new-code' && head.method === 'POST' ? { kind: 'new-code' } : { kind: 'pass', path: head.target, by: 'key' }
  }
  if (path === '/' && head.method === 'GET') return exchangeOf(new URLSearchParams(query).get('code'), head)
  const [, room, ...rest] = path.split('/')
  if (!isSecret(room, door.room) || rest.length === 0) return refuse(404, 'no such path')
  if (!isSecret(cookieOf(head.headers.cookie), door.cookie))
    return refuse(401, head.headers.cookie === undefined ? 'no cookie' : 'wrong cookie')
  if (head.method === 'POST' && origin === undefined) return refuse(403, 'a post without an origin')
  return { kind: 'pass', path: `/${rest.join('/')}${query === '' ? '' : `?${query}`}`, by: 'window' }
}

function exchangeOf(code: string | null, head: RequestHead): Decision {
  if (code === null) return refuse(401, 'no code')
  // A browser that looks ahead would use the code up before the person has gone there.
  if (head.headers['sec-purpose'] !== undefined || head.headers['purpose'] !== undefined) return refuse(403, 'looked ahead')
  return { kind: 'exchange', code }
}

/// Why a target is not even looked up; null when it may be. Looks at it as it came and decoded once:
/// whatever is encoded twice names nothing that exists.
function problemOfTarget(target: string): string | null {
  if (!target.startsWith('/') || target.startsWith('//')) return 'no path'
  if (target.length > TARGET_LENGTH) return 'long path'
  const [path = ''] = splitOnce(target, '?')
  let decoded: string
  try {
    decoded = decodeURIComponent(path)
  } catch {
    return 'badly encoded path'
  }
  if (/[\p{Cc}\\#]/u.test(decoded) || /%00|%5c/i.test(path)) return 'strange letters in the path'
  return decoded.split('/').some((part) => part === '.' || part === '..') ? 'way out of the folder' : null
}

function cookieOf(header: string | undefined): string | undefined {
  const found = (header ?? '')
    .split(';')
    .map((pair) => splitOnce(pair.trim(), '='))
    .filter(([name]) => name === COOKIE_NAME)
  return found.length === 1 ? found[0]![1] : undefined
}

function splitOnce(text: string, mark: string): [string, string?] {
  const at = text.indexOf(mark)
  return at < 0 ? [text] : [text.slice(0, at), text.slice(at + 1)]
}

const refuse = (status: 400 | 401 | 403 | 404 | 405, reason: string): Decision => ({ kind: 'refuse', status, reason })
