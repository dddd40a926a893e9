import { mkdirSync, mkdtempSync, realpathSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { engineClient, type EngineClient, type Wire } from '../app/contract/client'
import { openEngine, type Engine } from '../main/engine'
import { openDoor, type LoopbackDoor, type RefusedRequest } from '../main/loopback/door'

/// An engine behind a real loopback door, in a folder of its own.
export interface OpenedDoor {
  readonly folder: string
  readonly engine: Engine
  readonly door: LoopbackDoor
  readonly refused: RefusedRequest[]
  readonly faults: unknown[]
  /// Lines of the engine's log.
  readonly log: Record<string, unknown>[]
  close(): Promise<void>
}

export async function openTestDoor(
  page: Readonly<Record<string, string>> = { 'index.html': '<!doctype html><title>Claimframe</title><h1>The window</h1>' },
): Promise<OpenedDoor> {
  const folder = realpathSync(mkdtempSync(join(tmpdir(), 'claimframe-door-')))
  const built = join(folder, 'page')
  for (const [name, text] of Object.entries(page)) {
    mkdirSync(join(built, name, '..'), { recursive: true })
    writeFileSync(join(built, name), text)
  }
  mkdirSync(join(folder, 'state'))
  const log: Record<string, unknown>[] = []
  const refused: RefusedRequest[] = []
  const faults: unknown[] = []
  const engine = openEngine({
    version: '0.0.0-test',
    page: built,
    stateFolder: join(folder, 'state'),
    log: (line) => void log.push(line),
    checked: true,
  })
  const door = await openDoor({
    engine: engine.answer,
    onRefused: (r) => void refused.push(r),
    onFault: (error) => void faults.push(error),
  })
  return {
    folder,
    engine,
    door,
    refused,
    faults,
    log,
    async close() {
      await engine.end()
      await door.close()
      rmSync(folder, { recursive: true, force: true })
    },
  }
}

/// What a window has once its address was opened: where it stands, and what it sends along.
export interface TestWindow {
  /// `http://127.0.0.1:<port>/<room>/`.
  readonly at: string
  readonly headers: Readonly<Record<string, string>>
  readonly client: EngineClient
  fetch(address: string, init?: RequestInit): Promise<Response>
}

/// Does what a browser does with a printed address.
export async function openWindow(address: string): Promise<TestWindow> {
  const exchanged = await fetch(address, { redirect: 'manual' })
  const cookie = exchanged.headers.get('set-cookie')?.split(';')[0]
  const to = exchanged.headers.get('location')
  if (exchanged.status !== 303 || cookie === undefined || to === null) throw new Error(`the address was refused with ${exchanged.status}`)
  const at = new URL(to, address).href
  const headers = { cookie, origin: new URL(address).origin, 'sec-fetch-site': 'same-origin' }
  const ask = (path: string, init: RequestInit = {}): Promise<Response> =>
    fetch(new URL(path, at), { ...init, headers: { ...headers, ...(init.headers as Record<string, string> | undefined) } })
  const wire: Wire = (path, request) => ask(path, request)
  return { at, headers, client: engineClient(wire, { checked: true }), fetch: ask }
}
