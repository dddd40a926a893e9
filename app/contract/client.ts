import type { Result } from '../result'
import { callAddress, eventsAddress } from './addresses'
import { calls, type CallInput, type CallName, type CallOutput } from './calls'
import { EventPage } from './events'
import { readReply, refusalWith, type Refusal, type Reply } from './refusal'

/// What the client needs of `fetch`; the browser's and Node's fit as they are.
export type Wire = (
  address: string,
  request: { method: 'GET' | 'POST'; headers: Record<string, string>; body?: string },
) => Promise<{ json(): Promise<unknown> }>

export interface EngineClient {
  /// Asks the engine. Never rejects: what went wrong on the way is a refusal with code `engine-gone`.
  call<N extends CallName>(name: N, input: CallInput<N>): Promise<Result<CallOutput<N>, Refusal>>
  /// The events after number `after` (a state's `after`, later a page's `next`). Waits up to 25 s for
  /// one, so ask again at once; after a refusal wait a little first.
  events(engine: string, after: number): Promise<Result<EventPage, Refusal>>
}

export interface ClientOptions {
  /// Checks every answer against the contract, for tests; else the engine of the same build is trusted.
  readonly checked?: boolean
}

/// The window's end of the contract.
export function engineClient(wire: Wire, { checked = false }: ClientOptions = {}): EngineClient {
  const ask = async (address: string, request: Parameters<Wire>[1]): Promise<Reply<unknown>> => {
    try {
      return readReply(await (await wire(address, request)).json())
    } catch {
      return { ok: false, error: refusalWith('engine-gone', {}) }
    }
  }
  return {
    async call<N extends CallName>(name: N, input: CallInput<N>) {
      const reply = await ask(callAddress(name), {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify(input),
      })
      if (!reply.ok) return reply
      return { ok: true, value: (checked ? calls[name].output.parse(reply.value) : reply.value) as CallOutput<N> }
    },
    async events(engine, after) {
      const reply = await ask(eventsAddress(engine, after), { method: 'GET', headers: {} })
      if (!reply.ok) return reply
      return { ok: true, value: checked ? EventPage.parse(reply.value) : (reply.value as EventPage) }
    },
  }
}
