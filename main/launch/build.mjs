import './node-version.mjs'
import { chmodSync, existsSync, mkdirSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { install } from './install.mjs'
import { duration, root, run, say } from './step.mjs'

/// Builds everything into `out`, and links the `claimframe` command. Answers false, having shown the
/// builder's own words, when the build fails.
export async function build() {
  const started = Date.now()
  const log = join(root, 'out', 'build.log')
  const { status, output } = await run(
    process.execPath,
    [join(root, 'node_modules', 'electron-vite', 'bin', 'electron-vite.js'), 'build'],
    { log, doing: 'building' },
  )
  if (status !== 0) {
    say(output)
    say('The build failed.')
    return false
  }
  linkCommand()
  say(`Built in ${duration(Date.now() - started)}.`)
  return true
}

/// npm links a package's own command only where it is installed, so `npx --no-install claimframe`
/// in this folder finds it by the link that is made here.
function linkCommand() {
  const file = join(root, 'out', 'main', 'cli.js')
  if (!existsSync(file)) return
  chmodSync(file, 0o755)
  const folder = join(root, 'node_modules', '.bin')
  mkdirSync(folder, { recursive: true })
  if (process.platform === 'win32') {
    writeFileSync(join(folder, 'claimframe.cmd'), '@node "%~dp0\\..\\..\\out\\main\\cli.js" %*\r\n')
    return
  }
  rmSync(join(folder, 'claimframe'), { force: true })
  symlinkSync(join('..', '..', 'out', 'main', 'cli.js'), join(folder, 'claimframe'))
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) process.exitCode = (await install()) && (await build()) ? 0 : 3
