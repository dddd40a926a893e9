import { existsSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

/// The folder `demo-data` of this project, found upwards from where this code runs (source or built).
export function demoFolder(): string {
  for (let at = dirname(fileURLToPath(import.meta.url)); ; at = dirname(at)) {
    const here = join(at, 'demo-data')
    if (existsSync(join(here, 'mocap', 'NOTICE.md'))) return here
    if (dirname(at) === at) throw new Error('the folder demo-data is not above this program')
  }
}
