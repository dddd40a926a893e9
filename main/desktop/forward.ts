import { isOwn } from './limits'

/// The way from the window's scheme to the engine's door. The key is put on here, in the shell, and the
/// window never sees it, nor the port.

export interface EngineDoor {
  readonly origin: string
  readonly key: string
}

export type Send = (address: string, init: RequestInit & { duplex?: 'half' }) => Promise<Response>

const PASSED_ON = ['accept', 'content-type', 'range', 'if-range', 'if-none-match']
const METHODS = ['GET', 'HEAD', 'POST']

/// Hands a request of the window on. Whatever is not of the window's own address is refused unasked.
export async function forward(request: Request, door: EngineDoor, send: Send): Promise<Response> {
  if (!isOwn(request.url) || !METHODS.includes(request.method)) return new Response(null, { status: 403 })
  // A page of another origin that reaches the scheme says so.
  const origin = request.headers.get('origin')
  if (origin !== null && !isOwn(origin)) return new Response(null, { status: 403 })
  const { pathname, search } = new URL(request.url)
  const headers = new Headers({ authorization: `Bearer ${door.key}` })
  for (const name of PASSED_ON) {
    const value = request.headers.get(name)
    if (value !== null) headers.set(name, value)
  }
  return send(`${door.origin}${pathname}${search}`, {
    method: request.method,
    headers,
    redirect: 'error',
    signal: request.signal,
    ...(request.method === 'POST' && request.body ? { body: request.body, duplex: 'half' as const } : {}),
  })
}
