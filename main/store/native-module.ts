import { existsSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

/// The database's native module is compiled for one kind of Node. Under Electron, which counts its modules
/// otherwise, the one that was compiled for it beside the program is taken (see main/launch/package.mjs);
/// elsewhere the package's own. To be spread into the options of `new Database`.
export function nativeModule(
  versions: NodeJS.ProcessVersions = process.versions,
  from = dirname(fileURLToPath(import.meta.url)),
): { nativeBinding?: string } {
  if (versions.electron === undefined) return {}
  const name = `better_sqlite3-${versions.modules}-${process.platform}-${process.arch}.node`
  const found = [
    join(from, '..', 'native', name),
    join(from, '..', '..', 'native', name),
    join(from, '..', '..', 'out', 'native', name),
  ].find((file) => existsSync(file))
  return found === undefined ? {} : { nativeBinding: found }
}
