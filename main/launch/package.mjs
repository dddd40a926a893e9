import './node-version.mjs'
import { copyFileSync, cpSync, existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { build } from './build.mjs'
import { install } from './install.mjs'
import { root, run, say } from './step.mjs'

/// Builds the desktop program: the database module is compiled for Electron from its sources, into a folder
/// of its own, then everything is packed as main/desktop/packaging.json says. Where Electron's headers, its
/// binary or the packer cannot be had it says "not run", and has status 3.
async function pack() {
  if (!(await install()) || !(await build())) return 3
  if (!existsSync(join(root, 'node_modules', 'electron', 'dist'))) return notRun('no Electron binary (run: npx install-electron)')
  if (!(await compileForElectron())) return 3
  const packer = join(root, 'node_modules', 'electron-builder', 'cli.js')
  if (!existsSync(packer)) return notRun('no packer (run: npm install --no-save electron-builder@26)')
  const { status } = await run(process.execPath, [packer, '--config', join('main', 'desktop', 'packaging.json'), '--publish', 'never'])
  return status
}

/** @param {string} why */
function notRun(why) {
  say(`Packaging: not run: ${why}.`)
  return 3
}

/// The database module for Electron's own count of modules, beside the package's own and not in its place.
async function compileForElectron() {
  const { version } = JSON.parse(readFileSync(join(root, 'node_modules', 'electron', 'package.json'), 'utf8'))
  const abi = readFileSync(join(root, 'node_modules', 'electron', 'abi_version'), 'utf8').trim()
  const name = `better_sqlite3-${abi}-${process.platform}-${process.arch}.node`
  const target = join(root, 'out', 'native', name)
  if (existsSync(target)) return true
  const work = join(root, 'out', 'native', 'better-sqlite3')
  rmSync(work, { recursive: true, force: true })
  mkdirSync(work, { recursive: true })
  for (const part of ['package.json', 'binding.gyp', 'src', 'deps'])
    cpSync(join(root, 'node_modules', 'better-sqlite3', part), join(work, part), { recursive: true })
  const env = {
    npm_config_runtime: 'electron',
    npm_config_target: version,
    npm_config_disturl: process.env.CLAIMFRAME_ELECTRON_HEADERS ?? 'https://electronjs.org/headers',
  }
  const { status } = await run('npm', ['--prefix', work, 'run', 'build-release'], {
    log: join(root, 'out', 'native.log'),
    doing: 'compiling the database module for Electron',
    env,
    shell: process.platform === 'win32',
  })
  const made = join(work, 'build', 'Release', 'better_sqlite3.node')
  if (status !== 0 || !existsSync(made)) {
    notRun('the database module could not be compiled for Electron; out/native.log tells why (most often its headers cannot be had)')
    return false
  }
  copyFileSync(made, target)
  rmSync(work, { recursive: true, force: true })
  return true
}

process.exitCode = await pack()
