import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http'
import type { AddressInfo } from 'node:net'
import { Readable } from 'node:stream'
import { pipeline } from 'node:stream/promises'
import { everyAnswer } from '../engine/answer-headers'
import { COOKIE_NAME, decide, methods, type DoorFacts } from './gate'
import { OneTimeCodes } from './one-time-codes'
import { refusalPage } from './refusal-page'
import { newSecret } from './secret'

/// The engine as seen from outside it.
export type Engine = (request: Request) => Promise<Response>

/// One refused request, as it is logged: no secret and nothing that a stranger wrote unescaped.
export interface RefusedRequest {
  readonly method: string
  readonly path: string
  readonly status: number
  readonly reason: string
}

export interface DoorOptions {
  readonly engine: Engine
  readonly onRefused: (refused: RefusedRequest) => void
  readonly onFault: (error: unknown) => void
  readonly now?: () => number
}

export interface LoopbackDoor {
  /// `http://127.0.0.1:<port>`.
  readonly origin: string
  /// For the desktop shell and the user's own programs: `Authorization: Bearer <key>`.
  readonly key: string
  /// An address that opens one window, once, within ten minutes.
  newAddress(): string
  close(): Promise<void>
}

/// Opens the engine to a browser on this machine: 127.0.0.1 alone, a port of the system's choosing.
export async function openDoor({ engine, onRefused, onFault, now = Date.now }: DoorOptions): Promise<LoopbackDoor> {
  const codes = new OneTimeCodes(now)
  const secrets = { room: newSecret(), cookie: newSecret(), key: newSecret() }
  let port = 0
  const server = createServer(
    { maxHeaderSize: 16_384, headersTimeout: 10_000, requestTimeout: 300_000, keepAliveTimeout: 30_000 },
    (incoming, outgoing) => {
      const facts: DoorFacts = { port, ...secrets }
      void answer(incoming, outgoing, facts, codes, engine, onRefused).catch((error: unknown) => {
        onFault(error)
        outgoing.destroy()
      })
    },
  )
  server.maxConnections = 256
  server.maxHeadersCount = 100
  server.on('upgrade', (_request, socket) => socket.destroy())
  server.on('connect', (_request, socket) => socket.destroy())
  port = await listen(server)
  const origin = `http://127.0.0.1:${port}`
  return {
    origin,
    key: secrets.key,
    newAddress: () => `${origin}/?code=${codes.make()}`,
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve())
        server.closeAllConnections()
      }),
  }
}

function listen(server: Server): Promise<number> {
  return new Promise((resolve, reject) => {
    server.once('error', reject)
    server.listen({ host: '127.0.0.1', port: 0, exclusive: true }, () => resolve((server.address() as AddressInfo).port))
  })
}

async function answer(
  incoming: IncomingMessage,
  outgoing: ServerResponse,
  facts: DoorFacts,
  codes: OneTimeCodes,
  engine: Engine,
  onRefused: DoorOptions['onRefused'],
): Promise<void> {
  const method = incoming.method ?? ''
  const target = incoming.url ?? ''
  const decision = decide({ method, target, headers: incoming.headers, hosts: incoming.headersDistinct['host']?.length ?? 0 }, facts)
  const refuse = (status: number, reason: string): void => {
    onRefused({ method: printable(method, 20), path: printable(target.split('?')[0]!.replace(facts.room, '…'), 200), status, reason })
    const html = /\btext\/html\b/.test(incoming.headers.accept ?? '')
    const body = refusalPage(html)
    outgoing.writeHead(status, {
      ...everyAnswer,
      'cache-control': 'no-store',
      connection: 'close',
      'content-type': html ? 'text/html; charset=utf-8' : 'application/json',
      'content-length': Buffer.byteLength(body),
      ...(status === 405 ? { allow: methods.join(', ') } : {}),
    })
    outgoing.end(method === 'HEAD' ? undefined : body)
    // What is still on its way is not read.
    outgoing.once('finish', () => incoming.destroy())
  }
  switch (decision.kind) {
    case 'refuse':
      return refuse(decision.status, decision.reason)
    case 'exchange':
      if (!codes.use(decision.code)) return refuse(401, 'wrong or used code')
      outgoing.writeHead(303, {
        ...everyAnswer,
        'cache-control': 'no-store',
        location: `/${facts.room}/`,
        'set-cookie': `${COOKIE_NAME}=${facts.cookie}; Path=/${facts.room}/; HttpOnly; SameSite=Strict`,
      })
      outgoing.end()
      return
    case 'new-code':
      outgoing.writeHead(200, { ...everyAnswer, 'cache-control': 'no-store', 'content-type': 'application/json' })
      outgoing.end(JSON.stringify({ ok: true, value: { address: `http://127.0.0.1:${facts.port}/?code=${codes.make()}` } }))
      return
    case 'pass':
      return forward(incoming, outgoing, decision.path, engine)
  }
}

async function forward(incoming: IncomingMessage, outgoing: ServerResponse, path: string, engine: Engine): Promise<void> {
  const gone = new AbortController()
  outgoing.once('close', () => gone.abort())
  const method = incoming.method ?? 'GET'
  const request = new Request(`http://engine${path}`, {
    method,
    headers: passedOn(incoming),
    signal: gone.signal,
    ...(method === 'POST' ? { body: Readable.toWeb(incoming) as ReadableStream<Uint8Array>, duplex: 'half' as const } : {}),
  })
  const response = await engine(request)
  outgoing.writeHead(response.status, Object.fromEntries(response.headers))
  if (!response.body || method === 'HEAD') {
    await response.body?.cancel()
    outgoing.end()
  } else {
    await pipeline(Readable.fromWeb(response.body as Parameters<typeof Readable.fromWeb>[0]), outgoing).catch((error: unknown) => {
      // The window went away or no longer wants the rest.
      if (!gone.signal.aborted) throw error
    })
  }
  if (!incoming.complete) incoming.destroy()
}

const PASSED_ON = ['accept', 'content-type', 'content-length', 'range', 'if-range', 'if-none-match'] as const

/// The engine never sees a secret.
function passedOn(incoming: IncomingMessage): Headers {
  const headers = new Headers()
  for (const name of PASSED_ON) {
    const value = incoming.headers[name]
    if (typeof value === 'string') headers.set(name, value)
  }
  return headers
}

function printable(text: string, length: number): string {
  const kept = text.slice(0, length).replace(/[^\x21-\x7e…]/g, (letter) => `\\u{${letter.codePointAt(0)!.toString(16)}}`)
  return text.length > length ? `${kept}…` : kept
}
