import { createHash } from 'node:crypto'
import { dirname, join, resolve } from 'node:path'

/// Folder of whatever can be made again from a project or document: frame times, stand-ins, stills,
/// segments. It lies beside the project, and may be removed at any time.
export function cacheFolder(path: string): string {
  return join(dirname(resolve(path)), '.claimframe', createHash('sha256').update(resolve(path)).digest('hex').slice(0, 12))
}
