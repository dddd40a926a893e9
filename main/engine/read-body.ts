import { CodedError } from '../../app/errors/coded-error'

/// Most that a call's JSON may weigh.
export const JSON_LIMIT_BYTES = 8_000_000

/// A request's whole body. Throws `too-large` as soon as it is known to be; the rest is not read.
export async function readBody(request: Request, limit_bytes: number, what: string): Promise<Buffer> {
  const tooLarge = (): CodedError => new CodedError('too-large', { what, limit_bytes })
  if (Number(request.headers.get('content-length') ?? 0) > limit_bytes) {
    await request.body?.cancel().catch(() => undefined)
    throw tooLarge()
  }
  const pieces: Uint8Array[] = []
  let length = 0
  for await (const piece of piecesOf(request)) {
    length += piece.byteLength
    if (length > limit_bytes) throw tooLarge()
    pieces.push(piece)
  }
  return Buffer.concat(pieces)
}

/// A request's body piece by piece, as it arrives. Leaving early gives the rest up.
export async function* piecesOf(request: Request): AsyncGenerator<Uint8Array> {
  if (!request.body) return
  const reader = request.body.getReader()
  try {
    for (;;) {
      const { done, value } = await reader.read()
      if (done) return
      yield value as Uint8Array
    }
  } finally {
    await reader.cancel().catch(() => undefined)
  }
}
