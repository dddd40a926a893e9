import { readdirSync } from 'node:fs'
import { extname, join, relative, sep } from 'node:path'

/// The built window's files, listed once: what is not in the list does not exist, so no path can lead
/// out of the folder.

const types: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.mjs': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ico': 'image/x-icon',
  '.woff2': 'font/woff2',
  '.woff': 'font/woff',
  '.ttf': 'font/ttf',
  '.wasm': 'application/wasm',
  '.txt': 'text/plain; charset=utf-8',
  '.bdic': 'application/octet-stream',
  '.dic': 'text/plain; charset=utf-8',
  '.aff': 'text/plain; charset=utf-8',
}

export interface PageFile {
  readonly path: string
  readonly type: string
  /// Its name holds a digest of its content, so it never changes.
  readonly lasting: boolean
}

/// The files below `folder` by their path in an address; `/` is index.html. Links, hidden files and
/// kinds that a page does not load are left out. Empty when there is no such folder.
export function pageFiles(folder: string): ReadonlyMap<string, PageFile> {
  const files = new Map<string, PageFile>()
  let entries
  try {
    entries = readdirSync(folder, { recursive: true, withFileTypes: true })
  } catch {
    return files
  }
  for (const entry of entries) {
    const path = join(entry.parentPath, entry.name)
    const address = '/' + relative(folder, path).split(sep).join('/')
    const type = types[extname(entry.name)]
    if (!entry.isFile() || type === undefined || /\/\./.test(address)) continue
    files.set(address, { path, type, lasting: /^\/assets\/.+-[\w-]{8,}\.\w+$/.test(address) })
  }
  const index = files.get('/index.html')
  if (index) files.set('/', index)
  return files
}
