/// Where a request goes, by its method and path alone.
export type Route =
  | { readonly to: 'page'; readonly file: string }
  | { readonly to: 'call'; readonly name: string }
  | { readonly to: 'events'; readonly engine: string; readonly after: number }
  | { readonly to: 'media' | 'proxy' | 'finished' | 'wave' | 'take' | 'face'; readonly id: string }
  | { readonly to: 'still'; readonly id: string; readonly frame: number; readonly width: number | null }
  | { readonly to: 'kept'; readonly release: string; readonly name: string }
  | { readonly to: 'take-piece'; readonly id: string; readonly offset: number }
  | { readonly to: 'film-upload'; readonly name: string }
  | { readonly to: 'sound-upload'; readonly name: string; readonly paragraph: string | null }
  | { readonly to: 'nowhere'; readonly status: 400 | 404 | 405; readonly problem: string }

export function routeOf(method: string, url: URL): Route {
  const parts = partsOf(url.pathname)
  if (!parts) return nowhere(400, 'the address is badly encoded')
  const [noun, id, extra, ...rest] = parts
  if (method === 'POST')
    return rest.length > 0 || extra !== undefined ? nowhere(404, 'no such address') : postTo(noun, id, url.searchParams)
  if (method !== 'GET' && method !== 'HEAD') return nowhere(405, 'this method is not taken here')
  if (noun === 'events' && parts.length === 1 && method === 'GET') {
    const after = wholeNumber(url.searchParams.get('after'))
    return after === null ? nowhere(400, 'after is a number') : { to: 'events', engine: url.searchParams.get('engine') ?? '', after }
  }
  if (noun === 'still' && id !== undefined && extra !== undefined && rest.length === 0)
    return stillAt(id, extra, url.searchParams.get('width'))
  if (noun === 'kept' && id !== undefined && extra !== undefined && rest.length === 0) return { to: 'kept', release: id, name: extra }
  if (id !== undefined && extra === undefined) {
    if (noun === 'media' || noun === 'proxy' || noun === 'finished' || noun === 'wave') return { to: noun, id }
    if (noun === 'takes') return { to: 'take', id }
    if (noun === 'faces') return { to: 'face', id: id.replace(/\.ttf$/, '') }
  }
  if (noun === 'call' || noun === 'footage' || (noun === 'takes' && id === undefined)) return nowhere(405, 'this address takes a post')
  return { to: 'page', file: url.pathname }
}

function postTo(noun: string | undefined, id: string | undefined, query: URLSearchParams): Route {
  if (noun === 'call' && id !== undefined) return { to: 'call', name: id }
  if (noun === 'takes' && id !== undefined) {
    const offset = wholeNumber(query.get('offset'))
    return offset === null ? nowhere(400, 'offset is a number of bytes') : { to: 'take-piece', id, offset }
  }
  const name = query.get('name')
  if (noun === 'takes' && id === undefined && name !== null && name !== '')
    return { to: 'sound-upload', name, paragraph: query.get('paragraph') }
  if (noun === 'footage' && id === undefined && name !== null && name !== '') return { to: 'film-upload', name }
  return nowhere(404, 'no such address')
}

function stillAt(id: string, frame: string, width: string | null): Route {
  const at = wholeNumber(frame)
  const wide = width === null ? null : wholeNumber(width)
  if (at === null || (width !== null && (wide === null || wide < 16 || wide > 4096)))
    return nowhere(400, 'a still has a frame, and a width of 16 to 4096')
  return { to: 'still', id, frame: at, width: wide }
}

function partsOf(path: string): string[] | null {
  try {
    return path.split('/').slice(1).map(decodeURIComponent)
  } catch {
    return null
  }
}

const wholeNumber = (text: string | null): number | null => (text !== null && /^\d{1,12}$/.test(text) ? Number(text) : null)

const nowhere = (status: 400 | 404 | 405, problem: string): Route => ({ to: 'nowhere', status, problem })
