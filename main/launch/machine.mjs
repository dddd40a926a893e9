import { accessSync, constants } from 'node:fs'
import { delimiter, join } from 'node:path'

/// Where a program lies on the search path, or undefined.
/** @param {readonly string[]} names  @returns {string | undefined} */
export function findProgram(...names) {
  const suffixes = process.platform === 'win32' ? ['.exe', '.cmd', '.bat'] : ['']
  for (const name of names)
    for (const folder of (process.env.PATH ?? '').split(delimiter))
      for (const suffix of suffixes) {
        const path = join(folder, name + suffix)
        try {
          accessSync(path, constants.X_OK)
          return path
        } catch {
          continue
        }
      }
  return undefined
}

/// One line that says how to get something on this kind of machine.
/** @param {{ debian: string, mac: string, windows: string }} packages */
function howToGet(packages) {
  if (process.platform === 'darwin') return packages.mac
  if (process.platform === 'win32') return packages.windows
  return findProgram('apt-get') === undefined
    ? `install ${packages.debian} with your system's package manager`
    : `run: sudo apt-get install -y ${packages.debian}`
}

/// What to say when the database module could neither be fetched ready-made nor compiled.
/// Undefined when a compiler, make and Python are all here: then the cause is another.
export function missingCompiler() {
  if (process.platform === 'win32') return `Where the log speaks of Visual Studio, ${howToGet(compiler)}`
  const missing = [
    findProgram('g++', 'c++', 'clang++') === undefined ? 'a C++ compiler' : '',
    findProgram('make', 'gmake') === undefined ? 'make' : '',
    findProgram('python3', 'python') === undefined ? 'Python 3' : '',
  ].filter((name) => name !== '')
  return missing.length === 0 ? undefined : `Missing: ${missing.join(', ')}; ${howToGet(compiler)}`
}

const compiler = {
  debian: 'g++ make python3',
  mac: 'run: xcode-select --install',
  windows: 'install "Desktop development with C++" of the Visual Studio Build Tools, and Python 3',
}

/// What to say when there is no browser that the window's tests can drive, else undefined.
export function missingBrowser() {
  if (
    process.env.CLAIMFRAME_CHROMIUM ||
    findProgram('chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'microsoft-edge', 'chrome', 'msedge')
  )
    return undefined
  if (process.platform !== 'linux') return undefined
  return `No Chromium was found, which the tests of the window drive; ${howToGet({ debian: 'chromium', mac: '', windows: '' })}`
}
